"""Balance and friction of a tube as text of at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.sheets.page_text import cell_text
from planner.sheets.ruled_table import ruled_table
from planner.sheets.tube_words import (
    drift_words,
    grams,
    loading_name,
    section,
    set_in,
    slide_words,
)
from planner.tube.account import HOLD_FACTOR

if TYPE_CHECKING:
    from planner.tube.account import Account
    from planner.tube.bearing import Bearing
    from planner.tube.loading import Turning

HANGING_MM = 150.0  # where a weight beside the axis may hang, for an example
TOLD_MM = 2.0  # lengths measured by hand are no better
FRICTION_SEEN = (0.08, 0.2)  # of pads that makers use; common practice, no source
NAME_WIDTH = 24


def balance_part(found: Account) -> str:
    """Balance point of every loading, and what to do about it."""
    if not found.loadings:
        return ""
    lines = [
        "Balance: along, from where the parts are measured, and above the middle of the level tube."
    ]
    table = _loading_table(found)
    if found.turnings:
        table = _turning_table(found)
        lines.append(
            "Slide: how far to move the tube in its cradle for balance when level; back is towards "
            "the mirror."
        )
    if any(each.more_kg is not None for each in found.turnings):
        lines.append(
            "May come, may go: grams that may be put into the focuser or taken from it before the "
            f"tube drifts at some altitude up to {found.telescope.greatest_altitude_deg:g} deg."
        )
    if abs(found.arm_gap_mm) > TOLD_MM:
        lines.append(_gap_line(found))
    return f"Balance\n{table}\n{set_in([*lines, *_axis_lines(found)])}"


def _gap_line(found: Account) -> str:
    stand = found.telescope.stand
    assert stand is not None
    arm = stand.pivot_to_focuser_mm
    return (
        f"Measure again: from axis to focuser it is {arm + found.arm_gap_mm:.0f} by parts and "
        f"cradle, but pivot_to_focuser is {arm:.0f}. Balance and forces up and down go by the "
        "first, heights and what tips it by the second."
    )


def _loading_table(found: Account) -> str:
    rows = [
        [
            cell_text(loading_name(each), NAME_WIDTH), f"{each.load.mass_kg:.2f}",
            f"{each.load.along_mm:.0f}", f"{each.load.above_mm:.0f}",
        ]
        for each in found.loadings
    ]  # fmt: skip
    return ruled_table(["focuser", "tube\nkg", "balance\nalong", "\nabove"], rows, "lrrr", 2)


def _turning_table(found: Account) -> str:
    headers = [
        "focuser", "tube\nkg", "balance\nalong", "\nabove", "\nslide", "may come\ng", "may go\ng",
        "let go,\nthe front",
    ]  # fmt: skip
    rows = [_turning_row(each) for each in found.turnings]
    shown = [c for c in range(len(headers)) if c < 5 or any(row[c] != "-" for row in rows)]
    cells = [[row[c] for c in shown] for row in rows]
    align = "".join("lrrrlrrl"[c] for c in shown)
    return ruled_table([headers[c] for c in shown], cells, align, 2)


def _turning_row(turned: Turning) -> list[str]:
    load, loading = turned.loading.load, turned.loading
    more, less = grams(turned.more_kg), grams(turned.less_kg)
    drifts = drift_words(turned)
    return [
        cell_text(loading_name(loading), NAME_WIDTH),
        f"{load.mass_kg:.2f}",
        f"{load.along_mm:.0f}",
        f"{load.above_mm:.0f}",
        slide_words(turned.slide_mm),
        more if drifts == "stays" else "-",
        less if drifts == "stays" and loading.view is not None else "-",
        drifts,
    ]


def _axis_lines(found: Account) -> list[str]:
    best, now = found.best_axis, found.cradle_axis
    if best is None:
        return []
    line = (
        f"The axis that serves all eyepieces and the empty focuser best lies {best.along_mm:.0f} "
        f"along and {_height_words(best.above_mm)}: nothing then turns the tube with more than "
        f"{best.torque_nm:.2f} N m, level to {found.telescope.greatest_altitude_deg:g} deg"
    )
    line += f"; as it is {now.torque_nm:.2f} N m." if now is not None else "."
    lines = [line]
    if found.rig.cradle is not None:
        lines += _height_lines(found, best.above_mm - found.rig.cradle.axis.above_mm)
    return lines


def _height_words(above_mm: float) -> str:
    if abs(above_mm) < TOLD_MM:
        return "in the tube's middle"
    return f"{abs(above_mm):.0f} {'above' if above_mm > 0.0 else 'below'} the tube's middle"


def _height_lines(found: Account, rides_mm: float) -> list[str]:
    """What to do about a balance point above or below the axis."""
    if abs(rides_mm) < TOLD_MM:
        return []
    mass = max(each.load.mass_kg for each in found.loadings)
    weight, high = mass * abs(rides_mm) / HANGING_MM, rides_mm > 0.0
    return [
        f"The balance point rides {abs(rides_mm):.0f} {'above' if high else 'below'} the axis, so "
        f"a tube that balances level {'lifts' if high else 'drops'} its front when it points high. "
        f"{'Raise' if high else 'Lower'} the axis by {abs(rides_mm):.0f}, or fix {weight:.1f} kg "
        f"to the tube {HANGING_MM:g} straight {'below' if high else 'above'} the axis."
    ]


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
        f"the tube turns it with up to {now.torque_nm:.2f}.",
        _usual_radius(found, bearing),
    ]
    level = found.attitudes[0] if found.attitudes else None
    if level is not None and level.raise_n is not None and level.lower_n is not None:
        low, high = FRICTION_SEEN
        lines.append(
            f"Measure it: with the tube level and {loading_name(most.loading)} in it, pull the "
            "eyepiece slowly up, then down, with a spring balance. Both pulls added are "
            f"{level.raise_n + level.lower_n:.1f} N for a friction of {bearing.friction:g}; twice "
            f"as much means twice the friction. Makers see {low:g} to {high:g}."
        )
    return section("Friction of the altitude bearing", lines)


def _usual_radius(found: Account, bearing: Bearing) -> str:
    now, best = found.cradle_axis, found.best_axis
    assert now is not None and best is not None and now.radius_mm is not None
    line = f"Practice: hold {HOLD_FACTOR:g} times the greatest turn. "
    if now.radius_mm <= bearing.radius_mm:
        return line + "This bearing does."
    line += f"That asks for a radius of {now.radius_mm:.0f} as the axis is"
    if best.radius_mm is not None and best.radius_mm < 0.9 * now.radius_mm:
        line += f", {best.radius_mm:.0f} with the axis that serves best"
    return line + "; or for pads that rub more."
