"""Lengths as people write them: ``"6 in"``, ``"152 mm"``, ``"1.04 m"``."""

from __future__ import annotations

import re

# Millimetres in each unit a kit may use; the inch and foot are exact by definition.
# Source: SI Brochure, 9th ed. 2019; international yard and pound agreement, 1959 (from memory).
# Five numbers: the libraries of units that know feet take 0.1 to 0.3 s to load.
UNIT_MM = {
    "mm": 1.0, "cm": 10.0, "m": 1000.0, "km": 1e6,
    "in": 25.4, "inch": 25.4, "inches": 25.4,
    "ft": 304.8, "foot": 304.8, "feet": 304.8,
}  # fmt: skip
_LENGTH = re.compile(r"\s*([+-]?[0-9]*\.?[0-9]+)\s*([A-Za-z]+)\s*")


def length_mm(text: str) -> float:
    """The length in millimetres.

    ``text`` is a number, with a decimal point if it needs one, and mm, cm, m, km, in or ft; a
    sign is allowed (a site may lie below the sea).

    Raises:
        ValueError: the text is no such length; its message is the remedy.
    """
    found = _LENGTH.fullmatch(text)
    unit = UNIT_MM.get(found.group(2).lower()) if found else None
    if found is None or unit is None:
        if "," in text:
            raise ValueError("write a decimal point, no commas")
        raise ValueError("write a number and one of mm, cm, m, km, in, ft")
    return float(found.group(1)) * unit
