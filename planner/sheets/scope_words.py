"""The telescope's own report in words: bounds of power, uses of a view, why a star shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.verdict.powers import EYE_COMFORT_ARCSEC, SEEING_COMFORT_ARCSEC, Bound
from planner.verdict.scope.closest_pairs import DIFFERENCES_MAG
from planner.verdict.scope.limit_reasons import Cause
from planner.verdict.scope.view_summary import Use

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.verdict.scope.closest_pairs import ClosestPairs
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


def closest_words(closest: Sequence[ClosestPairs]) -> str:
    """Which pairs are just split, in one seeing after the other; in brackets the test's doubt."""
    told = [
        f'in seeing of {each.seeing_arcsec:.1f}": '
        + ", ".join(_closest_word(each, column) for column in range(len(DIFFERENCES_MAG)))
        for each in closest
    ]
    words = f"about, at {closest[0].view.magnification:.0f}x " + "; ".join(told)
    if any("(" in line for line in told):
        words += ". In brackets: as your mirror test allows"
    return words


def _closest_word(closest: ClosestPairs, column: int) -> str:
    difference = DIFFERENCES_MAG[column]
    pair = f"{difference:g} mag apart" if difference else "two alike"
    word = _arcsec(closest.separations_arcsec[column])
    if closest.by_test is None:
        return f"{pair} {word}"
    ends = [_arcsec(end) for end in closest.by_test[column]]
    doubt = "" if ends == [word, word] else f" ({ends[0]} to {ends[1]})"
    return f"{pair} {word}{doubt}"


def _arcsec(separation: float | None) -> str:
    return "none" if separation is None else f'{separation:.1f}"'
