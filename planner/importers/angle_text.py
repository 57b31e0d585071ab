"""Angles as tables write them, decimal or sexagesimal, and how finely each is given."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]

UNKNOWN_TEXTS = ("", ".", "-", "--", "nan", "null", "none")
DEGREES_IN_HOUR = 15.0
MOST_DECIMALS = 15  # a float holds no more
_DECIMAL = re.compile(r"[+-]?\d*\.?(\d*)")
_SEXAGESIMAL = re.compile(
    r"([+-]?)\s*(\d{1,3})[\s:hd°]+(\d{1,2}(?:\.\d*)?)[\s:m'′]*(\d{1,2}(?:\.\d*)?)?[s\"″]*"
)


def degrees(texts: Sequence[str], in_hours: bool) -> tuple[Floats, Bools]:
    """Angles from texts, decimal or sexagesimal, and where a text is neither.

    ``in_hours``: sexagesimal texts are hours and become degrees; decimal ones stay as they are.
    """
    values = np.full(len(texts), np.nan)
    bad = np.zeros(len(texts), dtype=bool)
    factor = DEGREES_IN_HOUR if in_hours else 1.0
    for row, text in enumerate(texts):
        if text.lower() in UNKNOWN_TEXTS:
            continue
        try:
            values[row] = float(text)
        except ValueError:
            values[row] = factor * _sexagesimal(text)
        bad[row] = not np.isfinite(values[row])
    return np.where(bad, np.nan, values), bad


def last_digits_arcsec(texts: Sequence[str], in_hours: bool, decimal_hours: bool = False) -> Floats:
    """What one unit of the last digit of each text is worth, arcseconds along its circle.

    ``14 45 00`` in hours gives 15, ``14h45.0m`` 90, ``+27 04`` 60, ``221.25`` degrees 36. Hours
    as for ``degrees``; ``decimal_hours``: decimal texts are hours too. Zero for a text in
    another form, such as ``2.2125e2``; NaN for an unknown one.
    """
    factor = DEGREES_IN_HOUR if in_hours else 1.0
    decimal_factor = DEGREES_IN_HOUR if decimal_hours else 1.0
    values = np.full(len(texts), np.nan)
    for row, text in enumerate(texts):
        if text.lower() in UNKNOWN_TEXTS:
            continue
        parts, decimal = _SEXAGESIMAL.fullmatch(_plain(text)), _DECIMAL.fullmatch(text)
        if decimal:
            values[row] = decimal_factor * 3600.0 / 10.0 ** min(len(decimal[1]), MOST_DECIMALS)
        elif parts:
            seconds = 60.0 if parts[4] is None else 1.0
            values[row] = factor * seconds / 10.0 ** _decimals(parts[4] or parts[3])
        else:
            values[row] = 0.0
    return values


def _decimals(number: str) -> int:
    return min(len(number.partition(".")[2]), MOST_DECIMALS)


def _plain(text: str) -> str:
    return text.strip().replace("\N{MINUS SIGN}", "-")


def _sexagesimal(text: str) -> float:
    """``14 45 00.1`` or ``+27:04:27`` or ``14h45.0m`` as a decimal number; NaN if it is none."""
    match = _SEXAGESIMAL.fullmatch(_plain(text))
    if match is None:
        return float("nan")
    minutes, seconds = float(match[3]), float(match[4] or 0.0)
    if minutes >= 60.0 or seconds >= 60.0:
        return float("nan")
    size = float(match[2]) + minutes / 60.0 + seconds / 3600.0
    return -size if match[1] == "-" else size
