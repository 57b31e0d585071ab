"""What a night would show of a target, in a few words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.angles import compass_point
from planner.sheets.double_words import CLASS_NAMES
from planner.sheets.verdict_words import STEP_WORDS
from planner.verdict.steps import Step

if TYPE_CHECKING:
    import datetime as dt

    from planner.night.chances import Chance

SHORT_STEPS = {Step.SEEN: "with care"}


def chance_verdict(chance: Chance) -> str:
    """How surely it is seen then, or how a double looks."""
    if chance.split_class is not None:
        return CLASS_NAMES[chance.split_class]
    return SHORT_STEPS.get(chance.step, STEP_WORDS[chance.step])


def chance_words(chance: Chance | None) -> str:
    """Verdict, time and place, or that it is out of reach."""
    if chance is None:
        return "not up"
    where = f"{chance.altitude_deg:.0f}° {compass_point(chance.azimuth_deg)}"
    return f"{chance_verdict(chance)} {chance.moment:%H:%M} {where}"


def date_words(date: dt.date) -> str:
    """The evening's date as ``Thu 26 Nov 2026``."""
    return f"{date:%a} {date.day} {date:%b %Y}"


def moon_words(fraction: float, up_minutes: int) -> str:
    """How much of the Moon is lit, and how long she is up in the hours."""
    share = f"{round(100.0 * fraction)}%"
    return f"{share}, down" if up_minutes == 0 else f"{share}, up {up_minutes / 60.0:.1f} h"
