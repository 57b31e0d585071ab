"""The 88 constellations: abbreviation, name and genitive.

Source: IAU 1922 and 1930 (Delporte); typed from memory, names checked against astropy's list.
"""

from __future__ import annotations

from typing import NamedTuple

from planner.errors import UsageError
from planner.targets.spelling import all_like

LEAST_LIKENESS = 0.6  # of a name that may be meant


class Constellation(NamedTuple):
    """One constellation: three-letter abbreviation, Latin name, genitive for star names."""

    abbreviation: str
    name: str
    genitive: str


_TABLE = """
And Andromeda: Andromedae
Ant Antlia: Antliae
Aps Apus: Apodis
Aqr Aquarius: Aquarii
Aql Aquila: Aquilae
Ara Ara: Arae
Ari Aries: Arietis
Aur Auriga: Aurigae
Boo Boötes: Boötis
Cae Caelum: Caeli
Cam Camelopardalis: Camelopardalis
Cnc Cancer: Cancri
CVn Canes Venatici: Canum Venaticorum
CMa Canis Major: Canis Majoris
CMi Canis Minor: Canis Minoris
Cap Capricornus: Capricorni
Car Carina: Carinae
Cas Cassiopeia: Cassiopeiae
Cen Centaurus: Centauri
Cep Cepheus: Cephei
Cet Cetus: Ceti
Cha Chamaeleon: Chamaeleontis
Cir Circinus: Circini
Col Columba: Columbae
Com Coma Berenices: Comae Berenices
CrA Corona Australis: Coronae Australis
CrB Corona Borealis: Coronae Borealis
Crv Corvus: Corvi
Crt Crater: Crateris
Cru Crux: Crucis
Cyg Cygnus: Cygni
Del Delphinus: Delphini
Dor Dorado: Doradus
Dra Draco: Draconis
Equ Equuleus: Equulei
Eri Eridanus: Eridani
For Fornax: Fornacis
Gem Gemini: Geminorum
Gru Grus: Gruis
Her Hercules: Herculis
Hor Horologium: Horologii
Hya Hydra: Hydrae
Hyi Hydrus: Hydri
Ind Indus: Indi
Lac Lacerta: Lacertae
Leo Leo: Leonis
LMi Leo Minor: Leonis Minoris
Lep Lepus: Leporis
Lib Libra: Librae
Lup Lupus: Lupi
Lyn Lynx: Lyncis
Lyr Lyra: Lyrae
Men Mensa: Mensae
Mic Microscopium: Microscopii
Mon Monoceros: Monocerotis
Mus Musca: Muscae
Nor Norma: Normae
Oct Octans: Octantis
Oph Ophiuchus: Ophiuchi
Ori Orion: Orionis
Pav Pavo: Pavonis
Peg Pegasus: Pegasi
Per Perseus: Persei
Phe Phoenix: Phoenicis
Pic Pictor: Pictoris
Psc Pisces: Piscium
PsA Piscis Austrinus: Piscis Austrini
Pup Puppis: Puppis
Pyx Pyxis: Pyxidis
Ret Reticulum: Reticuli
Sge Sagitta: Sagittae
Sgr Sagittarius: Sagittarii
Sco Scorpius: Scorpii
Scl Sculptor: Sculptoris
Sct Scutum: Scuti
Ser Serpens: Serpentis
Sex Sextans: Sextantis
Tau Taurus: Tauri
Tel Telescopium: Telescopii
Tri Triangulum: Trianguli
TrA Triangulum Australe: Trianguli Australis
Tuc Tucana: Tucanae
UMa Ursa Major: Ursae Majoris
UMi Ursa Minor: Ursae Minoris
Vel Vela: Velorum
Vir Virgo: Virginis
Vol Volans: Volantis
Vul Vulpecula: Vulpeculae
"""


def _constellation(line: str) -> Constellation:
    head, genitive = line.split(": ")
    abbreviation, name = head.split(" ", 1)
    return Constellation(abbreviation, name, genitive)


CONSTELLATIONS = tuple(_constellation(line) for line in _TABLE.strip().splitlines())


def constellation_abbreviation(text: str) -> str:
    """The abbreviation of a constellation given by abbreviation, name or genitive in any case.

    Raises:
        UsageError: there is none of that name; the nearest names are told.
    """
    wanted = text.strip().casefold()
    names: dict[str, str] = {}
    for entry in CONSTELLATIONS:
        for name in entry:
            names[name.casefold()] = entry.abbreviation
    if wanted in names:
        return names[wanted]
    near = all_like(wanted, (entry.name for entry in CONSTELLATIONS), LEAST_LIKENESS, count=2)
    likely = " or ".join(near)
    hint = f"; did you mean {likely}?" if near else "; write it like Lyra or Lyr"
    raise UsageError(f"no constellation is called {text!r}{hint}")
