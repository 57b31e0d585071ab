"""The constellation of a position, by the boundaries of 1930; computed when compiling only."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from astropy import units
from astropy.coordinates import SkyCoord, get_constellation

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

_TEXT = """
    And Ant Aps Aqr Aql Ara Ari Aur Boo Cae Cam Cnc CVn CMa CMi Cap Car Cas Cen Cep Cet Cha Cir
    Col Com CrA CrB Crv Crt Cru Cyg Del Dor Dra Equ Eri For Gem Gru Her Hor Hya Hyi Ind Lac Leo
    LMi Lep Lib Lup Lyn Lyr Men Mic Mon Mus Nor Oct Oph Ori Pav Peg Per Phe Pic Psc PsA Pup Pyx
    Ret Sge Sgr Sco Scl Sct Ser Sex Tau Tel Tri TrA Tuc UMa UMi Vel Vir Vol Vul"""
CONSTELLATIONS = frozenset(_TEXT.split())  # International Astronomical Union, 1922


def constellations(ra_deg: ArrayLike, dec_deg: ArrayLike) -> NDArray[Any]:
    """Three-letter abbreviations (IAU) for ICRS positions in degrees.

    Source: Roman 1987, PASP 99, 695 (Delporte's boundaries of 1930), through astropy.
    """
    ra, dec = np.asarray(ra_deg, dtype=float), np.asarray(dec_deg, dtype=float)
    if ra.size == 0:
        return np.array([], dtype=object)
    places = SkyCoord(ra * units.deg, dec * units.deg)
    return np.asarray(get_constellation(places, short_name=True), dtype=object)
