"""Why the faintest star is what it is: a sum in lines of at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.eye.threshold import TYPICAL_STAR_BV
from planner.sheets.page_text import wrapped
from planner.verdict.scope.limit_reasons import BLUE_BV, RED_BV, Cause

if TYPE_CHECKING:
    from planner.verdict.scope.limit_reasons import LimitReasons
    from planner.verdict.setup import Setup

NOTHING_MAG = 0.005  # prints as 0.00
SUM_INDENT = 17  # of the words beside the two columns of numbers


def reasons_text(setup: Setup, reasons: LimitReasons) -> str:
    """The sum from the bare eye's limit to that at the eyepiece, and what it rests on.

    Every change is printed as the difference of the rounded limits before and after it, so
    that the printed column adds up; each is right to 0.01.
    """
    totals = [round(total, 2) for total in reasons.totals]
    lines = [
        f"Why {reasons.limit_mag:.1f} (Crumey's model), in magnitudes:",
        f"  {totals[0]:6.2f}         both bare eyes, {_eye_words(setup)}",
    ]
    for (cause, change), before, after in zip(reasons.changes, totals, totals[1:], strict=False):
        if cause is Cause.IRIS and abs(change) < NOTHING_MAG:
            continue
        words = _cause_words(setup, reasons, cause)
        lines.append(f"  {after - before:+6.2f} {after:6.2f}  {words}")
    sum_lines = (wrapped(line, SUM_INDENT) for line in lines)
    notes = (
        wrapped(f"  {note}", 2) for note in (_power_note(setup, reasons), _colour_note(reasons))
    )
    return "\n".join((*sum_lines, *notes))


def _eye_words(setup: Setup) -> str:
    observer = setup.observer
    eye = f"sky {setup.zenith_sky_mag:.2f}, eye factor {observer.field_factor:.1f}"
    if observer.field_factor_measured:
        return f"overhead: {eye} (from your own limit)"
    return f"before the air: {eye} (2.0 is typical)"


def _cause_words(setup: Setup, reasons: LimitReasons, cause: Cause) -> str:
    telescope, pupil = setup.telescope, setup.observer.dark_pupil_mm
    held = setup.observer.field_factor_measured
    return {
        Cause.APERTURE: f"aperture {telescope.clear_aperture_mm:g} mm for an eye's {pupil:.1f} mm",
        Cause.IRIS: f"your iris cuts the exit pupil of {reasons.exit_pupil_mm:.1f} mm",
        Cause.TRANSMISSION: f"mirrors and glass pass {telescope.transmission:.0%}",
        Cause.OBSTRUCTION: f"behind the secondary, {telescope.obstruction_ratio:.0%} across",
        Cause.ONE_EYE: "one eye instead of two",
        Cause.DARKER_SKY: f"the power darkens the sky by {reasons.sky_darker_mag:.1f} mag",
        Cause.AIR: "air overhead beyond that in your own limit" if held else "air overhead",
    }[cause]


def _power_note(setup: Setup, reasons: LimitReasons) -> str:
    black = reasons.black_exit_pupil_mm
    power = setup.telescope.clear_aperture_mm / black
    return (
        f"From {power:.0f}x on (exit pupil {black:.2f} mm) the field is black and more power "
        "gains no stars."
    )


def _colour_note(reasons: LimitReasons) -> str:
    return (
        f"For a star of common colour (B-V {TYPICAL_STAR_BV:g}); a white one ({BLUE_BV:.1f}) is "
        f"seen {reasons.blue_gain_mag:.2f} fainter, a red one ({RED_BV:.1f}) must be "
        f"{-reasons.red_gain_mag:.2f} brighter."
    )
