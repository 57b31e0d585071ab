"""A name for a pair that nobody has named: its constellation and its place."""

from __future__ import annotations

MINUTES_IN_CIRCLE = 1440
DEGREES_IN_MINUTE = 0.25  # right ascension


def place_name(constellation: str, ra_deg: float, dec_deg: float) -> str:
    """``Cas 0112+58``: constellation, hours and minutes of right ascension, whole degrees.

    Position in degrees, ICRS; cut, not rounded, as the identifiers of double-star catalogs are.
    Empty without a constellation. Two pairs can share such a name.
    """
    if not constellation:
        return ""
    minutes = int(ra_deg / DEGREES_IN_MINUTE) % MINUTES_IN_CIRCLE
    sign = "-" if dec_deg < 0.0 else "+"
    return f"{constellation} {minutes // 60:02d}{minutes % 60:02d}{sign}{int(abs(dec_deg)):02d}"


def place_key(name: str) -> str:
    """What ``normal_key`` makes of a ``place_name``, the quick way: ``cas112 58``."""
    constellation, place = name.split(" ")
    hours, degrees = place[:4].lstrip("0") or place[:4], place[5:].lstrip("0") or place[5:]
    return f"{constellation.lower()}{hours} {degrees}"
