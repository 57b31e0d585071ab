"""Friction of a tube's altitude bearing as text of at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.optics.telescope import Mount
from planner.sheets.tube_words import loading_name, section, slide_words
from planner.tube.account import HOLD_FACTOR

if TYPE_CHECKING:
    from planner.tube.account import Account
    from planner.tube.bearing import Bearing

FRICTION_SEEN = (0.08, 0.2)  # of pads that makers use; common practice, no source
FAR = 2.0  # times the bearing's radius asked for: the axis is the matter; own judgement


def friction_part(found: Account) -> str:
    """What friction holds, what it should, and how to measure it."""
    cradle, now, most = found.rig.cradle, found.cradle_axis, found.heaviest
    if cradle is None or cradle.bearing is None or now is None or most is None:
        return ""
    bearing = cradle.bearing
    assumed = f" (assumed: {', '.join(cradle.assumed)})" if cradle.assumed else ""
    lines = [
        f"The bearing of {bearing.radius_mm:g} radius holds {most.hold_nm:.2f} N m with friction "
        f"{bearing.friction:g}, pads {bearing.pad_angle_deg:g} deg off the lowest point{assumed}; "
        f"the tube turns it with up to {now.torque_nm:.2f} ({loading_name(now.worst)}).",
        _usual_radius(found, bearing),
        *_check_lines(found, bearing),
    ]
    return section("Friction of the altitude bearing", lines)


def _usual_radius(found: Account, bearing: Bearing) -> str:
    """Whether the bearing is large enough; where the axis is far off, that it comes first."""
    now, best = found.cradle_axis, found.best_axis
    assert now is not None and best is not None
    assert now.radius_mm is not None and best.radius_mm is not None
    line = f"Practice: hold {HOLD_FACTOR:g} times the greatest turn. "
    if now.radius_mm <= bearing.radius_mm:
        return line + "This bearing does."
    if now.radius_mm > FAR * bearing.radius_mm and best.radius_mm < now.radius_mm / FAR:
        there = (
            "there this bearing does."
            if best.radius_mm <= bearing.radius_mm
            else f"there it takes a radius of {best.radius_mm:.0f}, or pads that rub more."
        )
        return line + f"Move the axis first, to where it serves best: {there}"
    line += f"That asks for a radius of {now.radius_mm:.0f} as the axis is"
    if best.radius_mm < 0.9 * now.radius_mm:
        line += f", {best.radius_mm:.0f} with the axis that serves best"
    return line + "; or for pads that rub more."


def _check_lines(found: Account, bearing: Bearing) -> list[str]:
    """How to measure the friction with a spring balance."""
    check = found.friction_check
    if check is None:
        return []
    low, high = FRICTION_SEEN
    clamps = ", clamps loose" if found.telescope.mount is Mount.DRIVEN else ""
    first = ""
    if check.slide_first_mm:
        first = (
            f"slide the tube {slide_words(check.slide_first_mm)} first, since level it goes by "
            "itself and one pull cannot be read. Then, "
        )
    return [
        f"Measure it: {first}with the tube level{clamps} and {loading_name(check.loading)} in it, "
        "pull the eyepiece slowly up, then down, with a spring balance. Both pulls added are "
        f"{check.both_pulls_n:.1f} N for a friction of {bearing.friction:g}; twice as much means "
        f"twice the friction. Makers see {low:g} to {high:g}."
    ]
