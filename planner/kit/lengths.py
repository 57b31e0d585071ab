"""Lengths as people write them: ``"6 in"``, ``"152 mm"``, ``"1.04 m"``."""

from __future__ import annotations

import re
from functools import cache

_LENGTH = re.compile(r"\s*([0-9]*\.?[0-9]+)\s*([A-Za-z]+)\s*")


@cache
def _units() -> dict[str, float]:
    """Millimetres in each unit a kit may use."""
    from astropy import units as u
    from astropy.units import imperial

    names = {
        "mm": u.mm, "cm": u.cm, "m": u.m, "km": u.km,
        "in": imperial.inch, "inch": imperial.inch, "inches": imperial.inch, "ft": imperial.foot,
    }  # fmt: skip
    return {name: float(unit.to(u.mm)) for name, unit in names.items()}


def length_mm(text: str) -> float:
    """The length in millimetres.

    Raises:
        ValueError: the text is not a number followed by mm, cm, m, km, in or ft.
    """
    found = _LENGTH.fullmatch(text)
    if found is None or found.group(2).lower() not in _units():
        raise ValueError('write a number and a unit, like "152 mm" or "6 in"')
    return float(found.group(1)) * _units()[found.group(2).lower()]
