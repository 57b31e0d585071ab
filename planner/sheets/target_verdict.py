"""The verdict on one target in four lines: shown or not, when and where, with what, what to see."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.angles import compass_point
from planner.night.plan import BodyDetail
from planner.sheets.clock_words import clock, span
from planner.sheets.night_words import eyepiece_words, what_it_is, when_words
from planner.sheets.verdict_words import reason_words, verdict_words
from planner.verdict.steps import Step

if TYPE_CHECKING:
    from planner.night.plan import PlannedTarget
    from planner.night.single_target import ListPlace

EXPECTED = {
    Step.UNKNOWN: "nobody knows",
    Step.NOT_SEEN: "nothing",
    Step.BORDERLINE: "perhaps a glimpse",
    Step.SEEN: "seen with patience",
    Step.PLAIN: "seen at once",
}


def verdict_lines(target: PlannedTarget, place: ListPlace | None) -> list[str]:
    """The four lines; a target that cannot be looked at tonight has one, with the reason."""
    named = target.name == target.kind.label
    kind = "" if named else f"{target.kind.label} "
    what = f"{target.name}, {kind}in {target.constellation}"
    reason = reason_words(target)
    if target.best_time is None or target.altitude_deg is None or target.azimuth_deg is None:
        return [f"{what}: not shown tonight: {reason}."]
    shown = (
        f"{_place_words(place)}: {verdict_words(target)}"
        if target.shown
        else (f"not shown tonight: {verdict_words(target)}")
    )
    where = f"{target.altitude_deg:.0f}° high in the {compass_point(target.azimuth_deg)}"
    usable = f"usable {span(target.window_start, target.window_end)}"
    if target.even_start is None:
        when = f"best at {clock(target.best_time)}, {where}; {usable}"
    else:
        when = f"any time {when_words(target)}, {where} at {clock(target.best_time)}; {usable}"
    return [
        f"{what}: {shown}.",
        f"When and where: {when}.",
        f"Eyepiece: {eyepiece_words(target)}.",
        f"Expect: {_expected(target)}; {reason}.",
    ]


def _place_words(place: ListPlace | None) -> str:
    """Whether the night's list has it, and where."""
    if place is None:
        return "shown tonight"
    where = f"place {place.place} of {place.shown_count}"
    if place.listed:
        return f"on tonight's list, {where}"
    return f"shown tonight, {where}, past the usual end of the list"


def _expected(target: PlannedTarget) -> str:
    """What there will be to see, with its measure."""
    double = target.double
    if double is not None:
        bright, faint = double.magnitudes
        told = verdict_words(target)
        pair = f'mag {bright:.1f} and {faint:.1f}, {double.separation_arcsec:.1f}" apart'
        colours = " and ".join(word or "unknown" for word in double.colours)
        return f"{told}; {pair}" + (f", {colours}" if any(double.colours) else "")
    if isinstance(target.detail, BodyDetail):
        return EXPECTED[target.step] if target.shown else "lost in the sky"
    return f"{EXPECTED[target.step]}, {what_it_is(target)}"
