"""Balance of a tube as text of at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.optics.telescope import Mount
from planner.sheets.page_text import cell_text
from planner.sheets.ruled_table import ruled_table
from planner.sheets.tube_words import (
    back_words,
    drift_words,
    grams,
    grams_off,
    loading_name,
    set_in,
    slide_words,
)

if TYPE_CHECKING:
    from planner.tube.account import Account
    from planner.tube.loading import Turning

HANGING_MM = 150.0  # where a weight beside the axis may hang, for an example
TOLD_MM = 2.0  # lengths measured by hand are no better
NAME_WIDTH = 24
MAY_COME, MAY_GO = 5, 6  # columns of the table


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
            "Slide: how far to move the tube in its cradle for balance when level; back is "
            f"{back_words(found.telescope.design)}."
        )
        lines += _change_lines(found)
    if abs(found.arm_gap_mm) > TOLD_MM:
        lines.append(_gap_line(found))
    return f"Balance\n{table}\n{set_in([*lines, *_axis_lines(found)])}"


def _change_lines(found: Account) -> list[str]:
    """What the last columns of the table mean, as far as they are shown."""
    rows = [_turning_row(each) for each in found.turnings]
    lines = []
    if any(row[MAY_COME] != "-" for row in rows):
        goes = any(row[MAY_GO] != "-" for row in rows)
        lines.append(
            f"May come{', may go' if goes else ''}: grams that may be put into the focuser "
            f"{'or taken from it ' if goes else ''}before the tube drifts at some altitude up to "
            f"{found.telescope.greatest_altitude_deg:g} deg."
        )
    if found.telescope.mount is Mount.DRIVEN and any(row[-1] != "-" for row in rows):
        lines.append("Whether it stays or goes by itself holds with the mount's clamps loose.")
    return lines


def _gap_line(found: Account) -> str:
    stand = found.telescope.stand
    assert stand is not None
    arm = stand.pivot_to_focuser_mm
    behind = ", below 0 behind it," if min(arm, arm + found.arm_gap_mm) < 0.0 else ""
    return (
        f"Measure again: from axis to focuser{behind} it is {arm + found.arm_gap_mm:.0f} by parts "
        f"and cradle, but pivot_to_focuser is {arm:.0f}. Balance and forces up and down go by the "
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
    more, less = grams(turned.more_kg), grams_off(turned.less_kg, loading.glass_kg)
    drifts = drift_words(turned)
    return [
        cell_text(loading_name(loading), NAME_WIDTH),
        f"{load.mass_kg:.2f}",
        f"{load.along_mm:.0f}",
        f"{load.above_mm:.0f}",
        slide_words(turned.slide_mm),
        more if turned.stays else "-",
        less if turned.stays and loading.view is not None else "-",
        drifts,
    ]


def _axis_lines(found: Account) -> list[str]:
    best, now = found.best_axis, found.cradle_axis
    if best is None:
        return []
    line = (
        f"The axis that serves {_served(found)} best lies {best.along_mm:.0f} along and "
        f"{_height_words(best.above_mm)}: nothing then turns the tube with more than "
        f"{best.torque_nm:.2f} N m, level to {found.telescope.greatest_altitude_deg:g} deg"
    )
    if now is not None:
        line += f"; as it is {now.torque_nm:.2f} N m ({loading_name(now.worst)})"
    lines = [f"{line}."]
    if found.rig.cradle is not None:
        lines += _height_lines(found, best.above_mm - found.rig.cradle.axis.above_mm)
    return lines


def _served(found: Account) -> str:
    """What the best axis serves: every loading of the table."""
    glass = "the weighed eyepieces" if found.unweighed else "all eyepieces"
    served = [glass] if any(each.view for each in found.loadings) else []
    served.append("the empty focuser")
    loose = [each.without for each in found.loadings if each.without is not None]
    if loose:
        served.append(f"the tube without {_listed(loose, 'or')}")
    return _listed(served, "and")


def _listed(names: list[str], last: str) -> str:
    """One or more names as people list them: a, b and c."""
    return f" {last} ".join([", ".join(names[:-1]), names[-1]] if names[1:] else names)


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
        f"In the middle of all these the balance point rides {abs(rides_mm):.0f} "
        f"{'above' if high else 'below'} the axis, so a tube that balances level "
        f"{'lifts' if high else 'drops'} its front when it points high. "
        f"{'Raise' if high else 'Lower'} the axis by {abs(rides_mm):.0f}, or fix {weight:.1f} kg "
        f"to the tube {HANGING_MM:g} straight {'below' if high else 'above'} the axis."
    ]
