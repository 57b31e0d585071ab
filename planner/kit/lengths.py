"""Lengths and masses as people write them: ``"6 in"``, ``"1.04 m"``, ``"250 g"``."""

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
# Kilograms in each unit of mass; the pound is exact by the same agreement.
UNIT_KG = {
    "kg": 1.0, "g": 0.001,
    "lb": 0.45359237, "lbs": 0.45359237, "oz": 0.45359237 / 16.0,
}  # fmt: skip
_MEASURE = re.compile(r"\s*([+-]?[0-9]*\.?[0-9]+)\s*([A-Za-z]+)\s*")


def length_mm(text: str) -> float:
    """The length in millimetres.

    ``text`` is a number, with a decimal point if it needs one, and mm, cm, m, km, in or ft; a
    sign is allowed (a site may lie below the sea).

    Raises:
        ValueError: the text is no such length; its message is the remedy.
    """
    return _measured(text, UNIT_MM, "mm, cm, m, km, in, ft")


def mass_kg(text: str) -> float:
    """The mass in kilograms of a text like ``"250 g"``: a number and g, kg, oz or lb.

    Raises:
        ValueError: the text is no such mass; its message is the remedy.
    """
    return _measured(text, UNIT_KG, "g, kg, oz, lb")


def _measured(text: str, units: dict[str, float], listed: str) -> float:
    found = _MEASURE.fullmatch(text)
    unit = units.get(found.group(2).lower()) if found else None
    if found is None or unit is None:
        if "," in text:
            raise ValueError("write a decimal point, no commas")
        raise ValueError(f"write a number and one of {listed}")
    return float(found.group(1)) * unit
