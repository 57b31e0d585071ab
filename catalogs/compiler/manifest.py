"""The manifest: for each shipped file its source, edition, licence, epoch, rows and digest."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field

from catalogs.compiler.deepsky_typed import NEBULA_TYPES
from catalogs.compiler.nebulae import LIGHTS
from catalogs.compiler.sources import SOURCES


@dataclass(frozen=True, slots=True)
class Compiled:
    """One compiled file, in words; ``columns`` pairs each column with its meaning and unit."""

    name: str
    file: str
    about: str
    sources: tuple[str, ...]
    licence: str
    epoch: str
    columns: tuple[tuple[str, str], ...]
    inputs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of manifest.json."""

    name: str
    file: str
    source: str
    edition: str
    licence: str
    rows: int
    epoch: str
    sha256: str
    inputs: dict[str, str] = field(default_factory=dict)


STARS = Compiled(
    "stars", "stars.npz", "Stars to V = 10.6, sorted by declination",
    ("gaia", "hipparcos"), "CC BY-SA 3.0 IGO", "2016.0",
    (
        ("ra", "uint32, right ascension, ICRS at epoch 2016.0, in 0.00001 deg (0.036 arcsec)"),
        ("dec", "int32, declination, ICRS at epoch 2016.0, in 0.00001 deg"),
        ("v_mmag", "int16, Johnson V in 0.001 mag"),
        ("colour_mmag", "int16, B-V (or its estimate from BP-RP) in 0.001 mag; -32768 unknown"),
        ("hip", "int32, Hipparcos number; 0 for none"),
    ),
)  # fmt: skip
DESIGNATIONS = Compiled(
    "designations", "designations.csv.gz", "Names of stars by Hipparcos number",
    ("starnames",), "BSD-3-Clause", "none",
    (
        ("hip", "Hipparcos number"),
        ("bayer", "Bayer letter in ASCII: first three letters of the Greek name, lower case, and "
                  "the index digit (eps, gam1, xi); Latin letters as they are"),
        ("flamsteed", "Flamsteed number"),
        ("hd", "HD number; 0 unknown"),
        ("hr, ads", "numbers in the Bright Star Catalogue and in Aitken's catalogue of double "
                    "stars, for well-known stars only; 0 unknown"),
        ("constellation", "IAU three-letter abbreviation"),
        ("variable", "letters or number of a variable star (R, TX, V460), for red stars only"),
        ("proper_name", "proper name"),
    ),
    ("star_names_typed.csv", "red_stars_typed.csv", "star_numbers_typed.csv"),
)  # fmt: skip
PAIRS = Compiled(
    "pairs", "pairs.csv.gz", "Double stars, one row a pair",
    ("gaia", "hipparcos", "starnames"), "CC BY-SA 3.0 IGO; names BSD-3-Clause", "2016.0",
    (
        ("pair_id", "stable name: primary's HIP number or place, and components (: for ,)"),
        ("system_id", "the same for all pairs of one multiple star"),
        ("ra_deg, dec_deg", "place of the primary, ICRS at epoch 2016.0, deg (typed pairs without "
                            "a catalogued primary: J2000.0)"),
        ("pm_ra_mas_yr, pm_dec_mas_yr", "proper motion of the primary, mas/yr, the first times "
                                        "cos(dec); blank without Hipparcos number"),
        ("motion_ra_mas_yr, motion_dec_mas_yr", "motion of the companion from the primary "
                                                "between 1991 and 2016, mas/yr, the first on the "
                                                "sky; blank where none is trusted"),
        ("v1, v2", "Johnson V of primary and companion, mag"),
        ("separation_arcsec, position_angle_deg", "measure; the angle blank where unknown"),
        ("epoch_yr", "year of the measure"),
        ("components", "AB; AB,C and so on"),
        ("name", "Bayer or Flamsteed designation of the primary, else of the companion"),
        ("proper_name", "proper name, if any"),
        ("discoverer", "discoverer's code and number, blank unknown"),
        ("wds", "Washington Double Star identifier, blank unknown"),
        ("place_id", "`wds`, or an identifier formed in its manner from the J2000 place; unique "
                     "for a multiple star: with the components to be written into a log"),
        ("hip, hip_secondary", "Hipparcos numbers; 0 none"),
        ("colour1_bv, colour2_bv", "B-V, mag: measured, unmixed or typed; blank where the light of "
                                   "both is mixed"),
        ("constellation", "IAU three-letter abbreviation"),
        ("chance", "share of such pairs that are chance alignments, 0..1; over 0.3: probably "
                   "one; blank where parallax and motion decided, and for pairs typed in"),
        ("physical", "yes or no by Hipparcos parallax and proper motion; blank unknown"),
        ("source, note", "where the measure and the names come from"),
    ),
    ("pairs_typed.csv", "colours_typed.csv"),
)  # fmt: skip
DEEPSKY = Compiled(
    "deepsky", "deepsky.csv.gz", "Deep-sky objects",
    ("opengc",), "CC BY-SA 4.0", "J2000.0",
    (
        ("id", "NGC, IC or other catalogue number"),
        ("names", "other designations, | between them: M 13, Caldwell 14, NGC and IC numbers"),
        ("common_name", "common names, | between them"),
        ("kind", "open-cluster, globular-cluster, galaxy, planetary-nebula, nebula, double "
                 "(M 40), asterism (M 73, M 24 and others; the planner takes it as a cluster)"),
        ("nebula_type", f"{', '.join(NEBULA_TYPES)}; blank unknown or not a nebula"),
        ("constellation", "IAU three-letter abbreviation"),
        ("ra_deg, dec_deg", "ICRS, J2000.0, deg"),
        ("v_mag", "total V, mag; blank: brightness unknown"),
        ("v_source", "V (OpenNGC); B-0.8 or B-0.4 (from B); sum of its parts; else the source "
                     "that the hand table names"),
        ("v_of", "blank: V is that of the object; stars: that of the stars in a nebula, whose own "
                 "light is unknown"),
        ("major_arcmin, minor_arcmin", "full axes, arcmin; blank minor axis: round or unknown"),
        ("position_angle_deg", "of the major axis, north through east"),
        ("hubble_type", "galaxies; dE and dSph for dwarf ellipticals, I0 for irregulars without "
                        "a spiral's traces"),
        ("hb_v_mag", "V of the horizontal branch of a globular cluster, mag; blank unknown"),
        ("member_v_mag", "V of the third of the brightest members of an open cluster, or of the "
                         "stars that light a nebula, counted in `stars.npz`; blank: fainter than "
                         "that list, or no size"),
        ("bright_major_arcmin, bright_minor_arcmin",
         "full axes of the bright part of a nebula, seen first, arcmin; blank unknown"),
        ("bright_v_mag", "total V of the bright part, mag"),
        ("bright_surface_mag", "its mean surface brightness in V, mag/arcsec2"),
        ("bright_lines_rayleigh", "its light in H beta and the two lines of O III together, as it "
                                  "arrives here, rayleigh; blank unknown or no lines"),
        ("bright_light", f"{', '.join(LIGHTS)}; blank: no bright part known"),
    ),
    ("deepsky_names_typed.csv", "deepsky_typed.csv", "planetaries_typed.csv", "nebulae_typed.csv"),
)  # fmt: skip
MOON = Compiled(
    "moon", "moon_relief.npz", "Maps of the Moon's near side, rows from north to south",
    ("moon",), "public domain (USGS, NASA)", "none",
    (
        ("brightness", "uint8, in steps of 4/256, each less its left neighbour; columns to 105 deg "
                       "east and west of the middle, squares of 180 deg over the number of rows"),
        ("height_low", "uint8, low byte of the height in 20 m over a globe of 1737.4 km, each less "
                       "its left neighbour"),
        ("height_high", "uint8, high byte of the same"),
    ),
)  # fmt: skip
COMPILED = (STARS, DESIGNATIONS, PAIRS, DEEPSKY, MOON)


def entry(compiled: Compiled, rows: int, digest: str, inputs: dict[str, str]) -> Entry:
    """The manifest line of a file with this many rows and this SHA-256."""
    sources = [SOURCES[s] for s in compiled.sources]
    return Entry(
        name=compiled.name,
        file=compiled.file,
        source="; ".join(s.holds for s in sources),
        edition="; ".join(f"{s.package} {s.version} ({s.registry})" for s in sources),
        licence=compiled.licence,
        rows=rows,
        epoch=compiled.epoch,
        sha256=digest,
        inputs=inputs,
    )


def manifest_text(entries: list[Entry]) -> str:
    """manifest.json as it is written."""
    return json.dumps([asdict(e) for e in entries], indent=2, ensure_ascii=False) + "\n"
