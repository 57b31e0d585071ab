"""The way to a target in plain words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.angles import compass_point
from planner.hops.hop import Means

if TYPE_CHECKING:
    from planner.hops.hop import Hop, Leg, Stop

CLOCK_NOTE = (
    "Ways are told by the clock: 12 o'clock is straight up towards overhead, 3 to the right, "
    "first as the bare eye sees the sky, then as the finder shows it."
)
LETTERS = "ABCD"
BESIDE_DEG = 0.25  # nearer than that no direction is told
LINE_WORDS = {0.33: "a third", 0.5: "the middle", 0.67: "two thirds"}


def hop_words(hop: Hop) -> list[str]:
    """The way as lines, each to be wrapped by the caller."""
    where = f"{hop.altitude_deg:.0f}° up in the {compass_point(hop.azimuth_deg)}"
    if hop.bare_eye:
        return [f"way: point straight at it, the bare eye shows it, {where}"]
    if hop.start is None:
        return [f"way: no sound hop; go {where} and sweep at the lowest power"]
    if hop.line_share is not None:
        lines = [f"way: {_along(hop)}"]
        return [*lines, f"no landmark near it: sweep around {where}"] if hop.sweep else lines
    parts = [f"from {_star(hop.start, '')}"]
    parts += [_leg(hop, leg, number) for number, leg in enumerate(hop.legs)]
    lines = [f"way: {'; '.join(parts)}"]
    if hop.in_finder:
        lines.append(f"it is seen in the {hop.instrument} itself")
    elif hop.sweep:
        lines.append(f"no landmark near it: sweep around {where}")
    return lines


def _along(hop: Hop) -> str:
    """A line of two stars to sight along: where on it, or how far beyond the second."""
    assert hop.start is not None and hop.line_share is not None
    first, last = hop.legs
    line = f"the line from {_star(hop.start, '')} to {_star(first.to, '')}"
    between = LINE_WORDS.get(round(hop.line_share, 2))
    if between:
        return f"sight {between} of {line}, {first.length_deg:.1f}° apart"
    beyond = "as far again" if hop.line_share == 2.0 else "half as far again"
    away = f"{last.length_deg:.1f}° towards {clock_words(last.sky_hour)} in the sky"
    return f"sight along {line} and {beyond} beyond it, {away}"


def clock_words(hour: float) -> str:
    """The whole hour on the clock nearest to an hour 0..12."""
    return f"{(round(hour) - 1) % 12 + 1} o'clock"


def _leg(hop: Hop, leg: Leg, number: int) -> str:
    last = number == len(hop.legs) - 1
    if last and number and leg.length_deg < BESIDE_DEG:
        return "the target is beside it"
    target = "the target" if last else _star(leg.to, LETTERS[number])
    text = f"{leg.length_deg:.1f}° towards {clock_words(leg.sky_hour)} in the sky"
    if hop.means is Means.POINTER:
        return f"{text} to {target}"
    seen = "the eyepiece" if hop.means is Means.EYEPIECE else "the finder"
    if leg.image_hour is None:
        text += f" (how {seen} turns it is not known)"
    else:
        text += f", {clock_words(leg.image_hour).split()[0]} in {seen}"
    return f"{text}: {leg.share:.1f} of its field, to {target}"


def _star(stop: Stop, letter: str) -> str:
    name = stop.name or (f"star {letter}".rstrip())
    return name if stop.v_mag is None else f"{name} (mag {stop.v_mag:.1f})"
