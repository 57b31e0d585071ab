"""A place in the sky as a user writes it."""

from __future__ import annotations

import re

from planner.errors import UsageError

_NUMBER = r"\d+(?:\.\d+)?"
_POSITION = re.compile(rf"({_NUMBER}(?:[\s:hm]+{_NUMBER}){{0,2}})[\s:hms]*([+−-])\s*(.+)")
_PARTS = re.compile(rf"{_NUMBER}(?:[\s:°d′'m]+{_NUMBER}){{0,2}}[\s°′″'\"ms]*")


def sky_position_deg(text: str) -> tuple[float, float] | None:
    """Right ascension and declination in degrees; None for what is no position at all.

    Hours and minutes with degrees and minutes (``05 35.3 -05 23``, ``05:35:17 -05:23:28``), or
    one number each, both in degrees (``83.82 -5.39``). The declination bears its sign.
    Raises UsageError for a position that no sky has.
    """
    found = _POSITION.fullmatch(text.strip())
    if found is None or not _PARTS.fullmatch(found[3]):
        return None
    ascension, declination = (_parts(found[i]) for i in (1, 3))
    ra = _sum(ascension) * (15.0 if len(ascension) > 1 else 1.0)
    dec = _sum(declination) * (1.0 if found[2] == "+" else -1.0)
    wrong = ra >= 360.0 or abs(dec) > 90.0
    if wrong or any(part >= 60.0 for part in (*ascension[1:], *declination[1:])):
        raise UsageError(
            f"{text.strip()}: no such place in the sky; write hours and minutes, then degrees and "
            'minutes with their sign, like "05 35.3 -05 23"'
        )
    return ra, dec


def _parts(text: str) -> list[float]:
    return [float(number) for number in re.findall(_NUMBER, text)]


def _sum(parts: list[float]) -> float:
    return sum(part / 60.0**power for power, part in enumerate(parts))
