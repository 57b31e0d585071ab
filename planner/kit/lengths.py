"""Lengths as people write them: ``"6 in"``, ``"152 mm"``, ``"1.04 m"``."""

from __future__ import annotations

import re
from functools import cache

UNIT_MM = {"mm": 1.0, "m": 1000.0}  # the units that messages speak in
_LENGTH = re.compile(r"\s*([+-]?[0-9]*\.?[0-9]+)\s*([A-Za-z]+)\s*")


@cache
def _units() -> dict[str, float]:
    """Millimetres in each unit a kit may use."""
    from astropy import units as u
    from astropy.units import imperial

    names = {
        "mm": u.mm, "cm": u.cm, "m": u.m, "km": u.km,
        "in": imperial.inch, "inch": imperial.inch, "inches": imperial.inch,
        "ft": imperial.foot, "foot": imperial.foot, "feet": imperial.foot,
    }  # fmt: skip
    return {name: float(unit.to(u.mm)) for name, unit in names.items()}


def length_mm(text: str) -> float:
    """The length in millimetres.

    ``text`` is a number, with a decimal point if it needs one, and mm, cm, m, km, in or ft; a
    sign is allowed (a site may lie below the sea).

    Raises:
        ValueError: the text is no such length; its message is the remedy.
    """
    found = _LENGTH.fullmatch(text)
    if found is None or found.group(2).lower() not in _units():
        if "," in text:
            raise ValueError("write a decimal point, no commas")
        raise ValueError("write a number and one of mm, cm, m, km, in, ft")
    return float(found.group(1)) * _units()[found.group(2).lower()]
