"""Words for a tube: what is missing, what hangs on it, how it drifts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.optics.telescope import Design
from planner.sheets.page_text import wrapped
from planner.tube.account import Missing

if TYPE_CHECKING:
    from planner.tube.loading import Loading, Turning

MISSING_WORDS = {
    Missing.PATH: "the diagonal's light: give the telescope's diagonal_to_focus",
    Missing.TUBE: (
        "the ring at the front, where the focus comes to lie: give inner_diameter, wall, length "
        "and focuser_height in [tube]"
    ),
    Missing.PARTS: (
        "balance, forces and what tips it: give a [[part]] with mass and along for each thing "
        "that turns with the tube"
    ),
    Missing.FOCUSER: (
        "the balance with eyepieces: give the focuser's [[part]] the role focuser, or the "
        "telescope its pivot_height and pivot_to_focuser"
    ),
    Missing.EYEPIECE_MASS: "the balance with {unweighed}: give the mass of each",
    Missing.CRADLE: (
        "how far to slide, and every force: give axis_along in [cradle], measured as the parts are"
    ),
    Missing.BEARING: "what friction holds: give bearing_radius in [cradle]",
    Missing.STAND: (
        "the eyepiece's height: give the telescope's pivot_height and pivot_to_focuser"
    ),
    Missing.BASE: (
        "what tips it, and the force to the side: give mass, foot_radius and turning_radius in "
        "[base]"
    ),
    Missing.FEET: "what tips it: give foot_radius in [base]",
    Missing.TURNING: "the force to the side: give turning_radius in [base]",
    Missing.MIRROR: "how the mirror cools: give mirror_thickness in [tube]",
}


def section(title: str, lines: list[str]) -> str:
    """A title and its lines, set in; nothing without lines."""
    return "\n".join([title, set_in(lines)]) if lines else ""


def set_in(lines: list[str]) -> str:
    """Lines below a title, wrapped."""
    return "\n".join(wrapped(f"  {line}", 4) for line in lines)


def loading_name(loading: Loading) -> str:
    """What is in the focuser, or what is left off."""
    if loading.without is not None:
        return f"empty, no {loading.without}"
    return loading.view or "empty focuser"


def slide_words(slide_mm: float) -> str:
    """How far to move the tube and which way: back is away from the sky."""
    if abs(slide_mm) < 0.5:
        return "stay"
    return f"{abs(slide_mm):.0f} {'back' if slide_mm > 0.0 else 'forward'}"


def back_words(design: Design) -> str:
    """Which way is back on a tube."""
    return "away from the sky" if design is Design.REFRACTOR else "towards the mirror"


def drift_words(turned: Turning) -> str:
    """Where the front goes by itself, or that it stays; a dash where no friction is known.

    ``sinks below 20 deg``: the front goes down at altitudes from level to 20 degrees.
    """
    if turned.hold_nm is None:
        return "-"
    spans = [("sinks", turned.drifting(down=True)), ("rises", turned.drifting(down=False))]
    top = float(turned.altitude_deg[-1])
    told = [f"{verb} {_span(*span, top)}" for verb, span in spans if span is not None]
    return ",\n".join(told) or "stays"


def _span(low: float, high: float, top: float) -> str:
    if low <= 0.0:
        return "everywhere" if high >= top else f"below {high:.0f} deg"
    return f"above {low:.0f} deg" if high >= top else f"{low:.0f} to {high:.0f} deg"


def grams(mass_kg: float | None) -> str:
    """A change of mass, down to the full 10 g; "any" without a bound, a dash for not known."""
    if mass_kg is None:
        return "-"
    return "any" if mass_kg > 100.0 else f"{10 * int(100.0 * mass_kg + 1e-9)}"


def grams_off(mass_kg: float | None, hanging_kg: float) -> str:
    """What may go of a mass that hangs there: all, or a part of it."""
    return "all" if mass_kg is not None and mass_kg >= hanging_kg else grams(mass_kg)
