"""The telescope's own report in words: bounds of power, uses of a view, why a star shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.verdict.powers import EYE_COMFORT_ARCSEC, SEEING_COMFORT_ARCSEC, Bound
from planner.verdict.scope.limit_reasons import Cause
from planner.verdict.scope.view_summary import Use

if TYPE_CHECKING:
    from planner.verdict.scope.instrument import InstrumentSummary

USE_WORDS = {
    Use.FINDING: "finding, star clouds, the largest nebulae",
    Use.WIDE_FIELDS: "wide fields, large nebulae, open clusters",
    Use.DEEP_SKY: "galaxies, nebulae, clusters",
    Use.COMPACT_DEEP_SKY: "galaxies, globular clusters",
    Use.MOON_AND_SMALL_OBJECTS: "Moon, planets, small nebulae and galaxies",
    Use.PLANETS_AND_DOUBLES: "planets, Moon, doubles",
    Use.CLOSE_DOUBLES: "close doubles in steady air",
    Use.LITTLE: "little gain: dim and soft",
}
CAUSE_NAMES = {
    Cause.APERTURE: "aperture",
    Cause.IRIS: "iris",
    Cause.TRANSMISSION: "transmission",
    Cause.OBSTRUCTION: "obstruction",
    Cause.ONE_EYE: "one eye",
    Cause.DARKER_SKY: "darker sky",
    Cause.AIR: "air",
}


def bound_words(summary: InstrumentSummary, bound: Bound) -> str:
    """Why less power than a bound, or more, is of no use."""
    setup, observer = summary.setup, summary.setup.observer
    return {
        Bound.EYE_PUPIL: "below it the exit pupil is wider than your own "
        f"({observer.dark_pupil_mm:.1f} mm) and aperture is wasted",
        Bound.SEEING: f'seeing of {setup.seeing_arcsec:.1f}" blurs a star to '
        f"{SEEING_COMFORT_ARCSEC / 60.0:g}', which looks plainly soft",
        Bound.RESOLUTION: f"Dawes's {summary.dawes_arcsec:.2f}\" is spread to "
        f"{EYE_COMFORT_ARCSEC / 60.0:g}', which the eye splits with ease",
        Bound.LEAST_EXIT_PUPIL: "the exit pupil shrinks to your least, "
        f"{observer.least_exit_pupil_mm:g} mm",
    }[bound]
