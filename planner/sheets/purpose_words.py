"""Why a view suits a purpose or an exit pupil, in words, and what its score counts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.verdict.scope.purpose import AsAtNight, Fit, NearExitPupil, NearPower
from planner.verdict.scope.typical import (
    CLUSTER_ARCMIN,
    CLUSTER_STARS_MAG,
    GALAXY_ARCMIN,
    GALAXY_MAG,
    GLOBULAR_ARCMIN,
    GLOBULAR_MAG,
    NEBULA_ARCMIN,
    NEBULA_SURFACE_MAG,
    FaintTarget,
)

if TYPE_CHECKING:
    from planner.verdict.scope.purpose import RankedView, Reason
    from planner.verdict.setup import Setup

SAME_PUPIL = 0.005  # share of the exit pupil wanted; prints as 1.00
FIT_WORDS = {Fit.TOO_LOW: "too low", Fit.RIGHT: "right", Fit.TOO_HIGH: "too high"}
TARGET_WORDS = {
    FaintTarget.GALAXY: f"a galaxy of mag {GALAXY_MAG:g}, {GALAXY_ARCMIN[0]:g}' x "
    f"{GALAXY_ARCMIN[1]:g}', with a bright middle",
    FaintTarget.NEBULA: f"an emission nebula of {NEBULA_ARCMIN:g}', {NEBULA_SURFACE_MAG:g} mag "
    "per square arcsecond",
    FaintTarget.GLOBULAR: f"a globular cluster of mag {GLOBULAR_MAG:g}, {GLOBULAR_ARCMIN:g}'",
    FaintTarget.CLUSTER: f"an open cluster of {CLUSTER_ARCMIN:g}' with stars of mag "
    f"{CLUSTER_STARS_MAG:g}",
}


def unit_words(reason: Reason) -> str:
    """What the score of a ranked view counts."""
    if isinstance(reason, NearExitPupil):
        return "1 is the exit pupil asked for"
    if isinstance(reason, NearPower):
        return "1 is the power wanted"
    if isinstance(reason, AsAtNight):
        return (
            f"1 is the power that suits {TARGET_WORDS[reason.target]}, below 0 the magnitudes lost"
        )
    return "degrees of field x share of the aperture used"


def rank_words(setup: Setup, ranked: RankedView) -> str:
    """Why a view has its place."""
    reason, view = ranked.reason, ranked.view
    if isinstance(reason, NearExitPupil):
        return (
            f"exit pupil {view.exit_pupil_mm:.2f} mm for {reason.wanted_mm:g} mm: "
            f"{_ratio_words(reason.ratio)}"
        )
    if isinstance(reason, NearPower):
        return f"{FIT_WORDS[reason.fit]}: {_power_words(setup, reason)}"
    if isinstance(reason, AsAtNight):
        return _night_words(reason)
    return (
        f"{view.true_field_deg:.2f} deg of sky, {reason.used_aperture_mm:.0f} of "
        f"{reason.clear_aperture_mm:.0f} mm aperture used"
    )


def _night_words(reason: AsAtNight) -> str:
    words = [
        f"looks {reason.looks_deg:.1f} deg across",
        f"{reason.margin_mag:.1f} mag in hand",
    ]
    if reason.filter_name is not None:
        words.append(f"with {reason.filter_name}")
    return f"{'too large for the field; ' if reason.overflows else ''}{', '.join(words)}"


def _ratio_words(ratio: float) -> str:
    if abs(ratio - 1.0) < SAME_PUPIL:
        return "as wanted"
    side = "brighter, less power" if ratio > 1.0 else "darker, more power"
    return f"{max(ratio, 1.0 / ratio):.2f}x {side}"


def _power_words(setup: Setup, reason: NearPower) -> str:
    wanted = reason.wanted
    words = f"{wanted.least:.0f}x to {wanted.most:.0f}x wanted"
    if wanted.capped_by_seeing:
        words += f', no more in seeing of {setup.seeing_arcsec:.1f}"'
    return words
