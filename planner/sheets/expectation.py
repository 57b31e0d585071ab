"""What to expect of a target, in one line for the sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.angles import compass_point
from planner.charts.letters import printed, width_pt
from planner.charts.scene import Face
from planner.sheets.night_words import (
    class_seeing_words,
    eyepiece_words,
    margin_words,
    short_name,
    what_it_is,
)
from planner.sheets.verdict_words import near_sun_words, verdict_words

if TYPE_CHECKING:
    from planner.night.plan import PlannedTarget

SIGNS = str.maketrans({'"': "″", "'": "′", "-": "−"})


def expectation(target: PlannedTarget) -> str:
    """What it is and how it should show; of a pair where its companion stands and how faint."""
    double = target.double
    if double is None:
        margin = margin_words(target).replace("-", "−")
        told = "" if margin == "−" else f" ({margin} in hand)"
        what = what_it_is(target).translate(SIGNS)
        line = f"{target.kind.label}, {what}: {verdict_words(target)}{told}"
        return "; ".join(filter(None, (near_sun_words(target), line)))  # first: a line may be cut
    bright, faint = double.magnitudes
    where = ""
    if double.position_angle_deg is not None:
        where = f", companion to the {compass_point(double.position_angle_deg)}"
    share = 10.0 ** (0.4 * double.difference_mag)
    light = "as bright" if share < 1.15 else f"1/{share:.0f} as bright" if share >= 1.5 else (
        "nearly as bright"
    )  # fmt: skip
    worst = class_seeing_words(double).replace('"', "″")
    until = f" in seeing {worst}" if worst else ""
    return (
        f"{double.separation_arcsec:.1f}″, {bright:.1f} and {faint:.1f}{where}, {light}: "
        f"{verdict_words(target)}{until}"
    )


def place_words(target: PlannedTarget) -> str:
    """Height and direction at the start: ``54° up in the WSW``."""
    if target.altitude_deg is None or target.azimuth_deg is None:
        return "not up"
    return f"{target.altitude_deg:.0f}° up in the {compass_point(target.azimuth_deg)}"


def short_place(target: PlannedTarget) -> str:
    """The same for a list: ``54° WSW``."""
    return place_words(target).replace(" up in the ", " ")


def print_name(target: PlannedTarget) -> str:
    """The name with Greek letters, as on the charts."""
    return printed(target.name)


def power_line(target: PlannedTarget) -> str:
    """The eyepiece, its power and the filter."""
    return eyepiece_words(target)


def chart_name(target: PlannedTarget) -> str:
    """The shortest good name, for the middle of a chart."""
    return printed(short_name(target))


def fitted(words: str, room_pt: float, size_pt: float, face: Face = Face.PLAIN) -> str:
    """The words, cut with an ellipsis where they are wider than the room."""
    if width_pt(words, size_pt, face) <= room_pt:
        return words
    length = len(words)
    while length > 1 and width_pt(words[:length].rstrip() + "…", size_pt, face) > room_pt:
        length -= 1
    return words[:length].rstrip() + "…"


def broken(words: str, room_pt: float, size_pt: float, face: Face = Face.PLAIN) -> list[str]:
    """The words as lines of at most a width."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_pt(longer, size_pt, face) <= room_pt:
            lines[-1] = longer
        else:
            lines.append(fitted(word, room_pt, size_pt, face))
    return lines
