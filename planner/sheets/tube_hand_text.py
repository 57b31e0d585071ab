"""The hand at the eyepiece and the feet on the ground as text of at most 100 columns."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.optics.telescope import Design, Mount
from planner.sheets.ruled_table import ruled_table
from planner.sheets.tube_words import loading_name, section, set_in
from planner.tube.balance import GRAVITY_M_S2

if TYPE_CHECKING:
    from planner.tube.account import Account
    from planner.tube.attitude import Attitude

PLEASANT_N = (5.0, 15.0)  # of the hand at the eyepiece; common practice, no source
LEAST_TOLD = 0.005  # a friction below it would be told as 0.00


def hand_part(found: Account) -> str:
    """Heights and forces at the eyepiece, altitude by altitude."""
    told = _forces_worth_telling(found.attitudes)
    if not told:
        return ""
    headers = [
        "altitude\ndeg", "eyepiece\nheight", "front heavy\nN m", "raise it\nN", "lower it\nN",
        "to the side\nN", "push that tips\nN",
    ]  # fmt: skip
    rows = [
        [
            f"{row.altitude_deg:g}", _told(row.height_mm, 0), _told(row.torque_nm, 2),
            _told(row.raise_n, 1), _told(row.lower_n, 1), _told(row.turn_n, 1),
            _told(row.push_n, 0),
        ]
        for row in told
    ]  # fmt: skip
    shown = [c for c in range(len(headers)) if any(row[c] != "-" for row in rows)]
    cells = [[row[c] for c in shown] for row in rows]
    title = "At the eyepiece"
    if found.heaviest is not None:
        title += f", loaded with the most: {loading_name(found.heaviest.loading)}"
    table = ruled_table([headers[c] for c in shown], cells, "r" * len(shown), 2)
    notes = _hand_notes(found, told)
    return "\n".join([title, table, *([set_in(notes)] if notes else [])])


def _forces_worth_telling(rows: tuple[Attitude, ...]) -> tuple[Attitude, ...]:
    """The rows, without the pulls of a tube that goes by itself at every altitude."""
    if all(_goes(row) for row in rows):
        return tuple(replace(row, raise_n=None, lower_n=None) for row in rows)
    return rows


def _goes(row: Attitude) -> bool:
    pulls = (row.raise_n, row.lower_n)
    return any(pull is not None and pull < 0.0 for pull in pulls)


def _hand_notes(found: Account, told: tuple[Attitude, ...]) -> list[str]:
    notes = _place_notes(found, told)
    if any(row.raise_n is not None for row in told):
        low, high = PLEASANT_N
        notes.append(
            f"Practice: {low:g} to {high:g} N, alike up, down and to the side, follow a star well "
            "at high power. Below 0 the tube goes by itself; near the zenith turning to the side "
            "is always hard."
        )
    elif any(row.raise_n is not None for row in found.attitudes):
        notes.append(
            "Up and down no force is told: the tube goes by itself at every altitude. Balance it "
            "first."
        )
    forces = any(row.raise_n is not None or row.turn_n is not None for row in told)
    if forces and found.telescope.mount is Mount.DRIVEN:
        notes.append("Forces of the hand hold with the mount's clamps loose.")
    return notes


def _place_notes(found: Account, told: tuple[Attitude, ...]) -> list[str]:
    """What is odd about the eyepiece's place."""
    scope, notes = found.telescope, []
    stand = scope.stand
    if stand and stand.pivot_to_focuser_mm > 0.0 and scope.design is not Design.NEWTONIAN:
        arm = stand.pivot_to_focuser_mm
        notes.append(
            f"The kit has the focuser {arm:.0f} before the axis, towards the sky. Where it lies "
            f'behind, as a {scope.design}\'s does, write pivot_to_focuser = "-{arm:.0f} mm".'
        )
    if any(row.height_mm is not None and row.height_mm <= 0.0 for row in told):
        notes.append(
            "At height 0 or less the eyepiece would lie in the ground: check pivot_height and "
            "pivot_to_focuser."
        )
    return notes


def _told(value: float | None, digits: int) -> str:
    if value is None:
        return "-"
    return f"{value:.{digits}f}" if abs(value) < 1e6 else "none can"


def ground_part(found: Account) -> str:
    """How firmly it stands, and what tips it or slides it away."""
    stands = found.standing
    if stands is None:
        return ""
    if stands.weight_n == 0.0 or stands.slides_below == 0.0:
        tips = "At some altitude its weight lies outside the feet: it falls over by itself!"
    elif stands.weight_n > 1e6:
        tips = "No weight resting on the eyepiece tips it."
    else:
        tips = (
            f"A hand that rests on the eyepiece with {stands.weight_n:.0f} N, the weight of "
            f"{stands.weight_n / GRAVITY_M_S2:.1f} kg, tips it."
        )
    lines = [
        f"{stands.mass_kg:.1f} kg in all; the line between two feet passes {stands.side_mm:.0f} "
        f"from the upright axis. {tips}"
    ]
    if LEAST_TOLD <= stands.slides_below < math.inf:
        lines.append(
            f"Where feet and ground rub with less than {stands.slides_below:.2f}, a push at the "
            "eyepiece slides it before it tips."
        )
    lines.append("Nobody should hold on to the eyepiece in the dark, least of all a child.")
    return section("On the ground", lines)
