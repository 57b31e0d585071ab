"""What the diagonal and the tube leave of the light, as text of at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.sheets.page_text import cell_text
from planner.sheets.ruled_table import ruled_table
from planner.sheets.tube_words import section
from planner.tube.field import USUAL_LIT_FIELD_MM, USUAL_OBSTRUCTION

if TYPE_CHECKING:
    from planner.tube.account import Account
    from planner.tube.field import Diagonal, FieldOfView

NAME_WIDTH = 30
SPARE_MM = (10.0, 25.0)  # between light and tube; common practice, no source
WARM_AIR = "since tube air is warm"


def light_part(found: Account) -> str:
    """Diagonal, offset, fields and rings; nothing for what is no Newtonian."""
    lit = found.diagonal
    part = section("Light", ([] if lit is None else _diagonal_lines(lit)) + _ring_lines(found))
    if lit is None or not lit.views:
        return part
    rows = [_field_row(field) for field in lit.views]
    headers = ["eyepiece", "field", "light at its rim", "lost mag", "diagonal for all of it"]
    return f"{part}\n{ruled_table(headers, rows, 'lrrrr', 2)}"


def _diagonal_lines(lit: Diagonal) -> list[str]:
    cone, usual = lit.cone, f"{USUAL_LIT_FIELD_MM:g}"
    middle = (
        f"lights {lit.lit_mm:.1f} across fully"
        if lit.lit_mm > 0.0
        else "does not light even the middle fully: part of the mirror is lost"
    )
    lines = [
        f"Diagonal {cone.secondary_mm:g}, {lit.obstruction:.0%} of the aperture, "
        f"{cone.diagonal_to_focus_mm:g} before the focus: {middle}.",
        *([] if lit.rack_mm is None else [_rack_line(lit.rack_mm)]),
        f"Set it off by {lit.offset_mm:.1f} towards the main mirror and {lit.offset_mm:.1f} away "
        f"from the focuser ({lit.offset_mm * 2.0**0.5:.1f} down its own slope).",
        f"Practice: {usual} fully lit is plenty for the eye, which takes a diagonal of "
        f"{lit.usual_diagonal_mm:.1f} ({lit.usual_diagonal_mm / cone.aperture_mm:.0%}); planets "
        f"like it at {USUAL_OBSTRUCTION:.0%} or less. Half the light lost at the rim of a wide "
        "field is hardly seen.",
    ]
    if lit.focus_room_mm is not None and lit.usual_diagonal_mm > cone.secondary_mm:
        room = (
            f"must lie at most {lit.focus_room_mm:.0f} outside the tube"
            if lit.focus_room_mm > 0.0
            else "would have to lie inside the tube, so only a larger one does it"
        )
        lines.append(
            f"Practice: to light those {usual} with the diagonal you have, the focus {room}."
        )
    return lines


def _rack_line(rack_mm: float) -> str:
    if rack_mm < 0.0:
        return (
            f"The focus lies {-rack_mm:.1f} below the top of the focuser racked in: no eyepiece "
            "comes to focus. Move the main mirror up the tube by as much, or take a lower focuser."
        )
    return f"The focus lies {rack_mm:.1f} above the focuser racked in."


def _ring_lines(found: Account) -> list[str]:
    if not found.rings:
        return []
    told = [f"{ring.width_mm:.0f} at {ring.distance_mm:.0f}" for ring in found.rings]
    line = f"Nothing may be narrower inside than {' and '.join(told)} before the mirror"
    lines = [f"{line}, for the widest eyepiece."]
    shell = found.rig.shell
    room = None
    if shell is not None and shell.inner_mm is not None:
        room = (shell.inner_mm - max(ring.width_mm for ring in found.rings)) / 2.0
        lines.append(f"The tube of {shell.inner_mm:g} {_room_words(room)}")
    if room is None:
        lines.append(f"Practice: leave {_spare_words()} more all around, {WARM_AIR}.")
    return lines + _end_lines(found)


def _room_words(room_mm: float) -> str:
    """What the tube leaves around the light, and whether practice wants more."""
    if room_mm < 0.0:
        return f"cuts in by {-room_mm:.0f}!"
    low, high = SPARE_MM
    told = round(room_mm)
    enough = "too little" if told < low else "plenty" if told > high else "enough"
    return f"leaves {told} all around. Practice wants {_spare_words()}, {WARM_AIR}: {enough}."


def _spare_words() -> str:
    return "{:g} to {:g}".format(*SPARE_MM)


def _end_lines(found: Account) -> list[str]:
    """That the tube ends before the diagonal, where the kit says so."""
    lit, shell = found.diagonal, found.rig.shell
    if lit is None or shell is None or shell.length_mm is None or shell.length_mm >= lit.front_mm:
        return []
    return [
        f"The tube, {shell.length_mm:g} long, ends before the diagonal does, which with the "
        f"focuser beside it reaches to {lit.front_mm:.0f} before the mirror! Check length, the "
        "focal length and diagonal_to_focus."
    ]


def _field_row(field: FieldOfView) -> list[str]:
    loss = f"{field.rim_loss_mag:.2f}" if field.rim_share > 0.0 else "all"
    return [
        cell_text(field.view, NAME_WIDTH), f"{field.width_mm:.1f}", f"{field.rim_share:.0%}", loss,
        f"{field.diagonal_mm:.1f}",
    ]  # fmt: skip
