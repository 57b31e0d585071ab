"""The tube and what carries it as text of at most 100 columns, for one with a saw in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.sheets.page_text import wrapped
from planner.sheets.tube_balance_text import balance_part
from planner.sheets.tube_friction_text import friction_part
from planner.sheets.tube_hand_text import ground_part, hand_part
from planner.sheets.tube_light_text import light_part
from planner.sheets.tube_words import MISSING_WORDS, section
from planner.tube.cooling import FAN_W_M2K, STILL_W_M2K, cooling_time_min, lag_k

if TYPE_CHECKING:
    from planner.tube.account import Account
    from planner.tube.cooling import Blank

WARM_K = 10.0  # a mirror from a room into a night; common practice, no source
COOL_K = 1.0  # good from here on; common practice, no source
FALLING_K_PER_H = 1.0
OPENING = (
    'Lengths in mm, forces in N (10 N is the weight of about 1 kg). Lines marked "Practice" are '
    "rules of the trade; all else is geometry and physics of the kit's numbers."
)
LIFTING = (
    "Lift one piece at a time, close to the body and with bent knees, on a way you have walked by "
    "light; in the dark or on wet ground take less, or a second pair of hands. How much one "
    "person should lift is for the guidance on lifting where you live, and for your back, to say."
)


def tube_text(found: Account) -> str:
    """The whole answer: light, balance, friction, hand and ground, cooling, lifting, what lacks."""
    heading = wrapped(f"{found.telescope.name}: the tube and what carries it")
    parts = [
        f"{heading}\n{wrapped(OPENING, 0)}",
        light_part(found),
        balance_part(found),
        friction_part(found),
        hand_part(found),
        ground_part(found),
        _cooling_part(found),
        _lifting_part(found),
        _missing_part(found),
    ]
    return "\n\n".join(part for part in parts if part)


def _cooling_part(found: Account) -> str:
    blank = found.blank
    if blank is None:
        return ""
    back = "air at its back" if blank.open_back else "its back closed"
    still, fan = (blank.time_constant_min(h) for h in (STILL_W_M2K, FAN_W_M2K))
    return section(
        "Cooling",
        [
            f"Mirror {blank.thickness_mm:g} thick of {blank.glass}, {back}, about "
            f"{blank.mass_kg(found.telescope.focal_length_mm):.2f} kg: what it is warmer than the "
            f"air falls to a third (1/e) in about {still:.0f} min, with a fan {fan:.0f} min.",
            f"From {WARM_K:g} K too warm to {COOL_K:g} K: about {_hours(blank, STILL_W_M2K)}, with "
            f"a fan {_hours(blank, FAN_W_M2K)}. In air that cools by {FALLING_K_PER_H:g} K an hour "
            f"it stays {lag_k(still, FALLING_K_PER_H):.1f} K warmer for good.",
            f"Practice: below {COOL_K:g} K it no longer spoils the image. How fast air takes the "
            "heat is known to 40 % only, and so are these times.",
        ],
    )


def _hours(blank: Blank, transfer: float) -> str:
    minutes = cooling_time_min(blank.time_constant_min(transfer), WARM_K, COOL_K)
    hours, rest = divmod(5 * round(minutes / 5.0), 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"


def _lifting_part(found: Account) -> str:
    tube, base = found.tube_kg, found.rig.base
    weights = [] if tube is None else [f"tube {tube:.1f} kg"]
    weights += [] if base is None else [f"base {base.mass_kg:.1f} kg"]
    if not weights:
        return ""
    if tube is not None and base is not None:
        weights.append(f"together {tube + base.mass_kg:.1f} kg")
    told = ", ".join(weights)
    return section("Lifting", [f"{told[0].upper()}{told[1:]}. {LIFTING}"])


def _missing_part(found: Account) -> str:
    names = ", ".join(found.unweighed)
    return section(
        "Not told, since the kit does not say enough:",
        [f"- {MISSING_WORDS[each].format(unweighed=names)}" for each in found.missing],
    )
