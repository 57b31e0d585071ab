"""Every sentence about the Sun's danger, in one place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.ephemeris.sun_safety import NEVER_WITHIN_DEG, WALL_WITHIN_DEG, SunRule

if TYPE_CHECKING:
    from datetime import datetime

EYES = (
    "Never point telescope or finder at the Sun, or sweep towards it: without a full-aperture "
    "front filter it blinds at once. Keep caps on finders by day."
)
SOLAR = (
    "Only with a full-aperture filter in front of the telescope, never one at the eyepiece; no "
    "filter in the kit is one."
)


def safe_words(
    best: datetime | None, safe_from: datetime | None, safe_until: datetime | None
) -> str:
    """The clock time that binds a look beside the Sun: the nearer one to the best time."""
    if best is None:
        return ""
    evening = None if safe_from is None else abs((best - safe_from).total_seconds())
    morning = None if safe_until is None else abs((safe_until - best).total_seconds())
    if safe_from is not None and (morning is None or (evening or 0.0) <= morning):
        return f"not before {safe_from:%H:%M}, when the Sun is safely down"
    if safe_until is not None:
        return f"stop by {safe_until:%H:%M}, well before the Sun is up"
    return ""


def sun_words(rule: SunRule, stop_by: datetime | None = None) -> str:
    """What to heed for a body beside the Sun; empty where nothing is."""
    if rule is SunRule.NEVER:
        return (
            f"within {NEVER_WITHIN_DEG:.0f}° of the Sun, which is up: do not look for it now, "
            "with nothing"
        )
    if rule is SunRule.WALL:
        return (
            f"within {WALL_WITHIN_DEG:.0f}° of the Sun, which is up: only with the Sun behind a "
            "solid wall for the whole look"
        )
    if rule is SunRule.NOT_AFTER and stop_by is not None:
        return f"stop by {stop_by:%H:%M}: the Sun rises nearby after that"
    return ""
