"""Which of the owner's views suits a purpose, or a wanted exit pupil, and why."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.profile import FIELD_SHARE
from planner.optics.light import used_aperture_mm
from planner.verdict.powers import (
    DOUBLE_EXIT_PUPILS_MM,
    PLANET_EXIT_PUPILS_MM,
    doubles_most,
    planets_most,
)
from planner.verdict.scope.typical import SIZES_ARCMIN, FaintTarget, showing

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from planner.optics.eyepiece import Filter
    from planner.optics.view import View
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]

EQUAL_SHARE = 0.1  # less is lost in the models' uncertainty
PERFECT_AIR_ARCSEC = 1e-6  # bounds no power
LEAST_SHARE = 0.8  # of the most power wanted, where air or eye lower that; own judgement


class Purpose(StrEnum):
    """What the observer wants to look at."""

    GALAXIES = "galaxies"
    NEBULAE = "nebulae"
    GLOBULARS = "globulars"
    CLUSTERS = "clusters"
    PLANETS = "planets"
    DOUBLES = "doubles"
    SWEEPING = "sweeping"


class Fit(Enum):
    """Where a power lies against those wanted."""

    TOO_LOW = auto()
    RIGHT = auto()
    TOO_HIGH = auto()


@dataclass(frozen=True, slots=True)
class WantedPowers:
    """The powers wanted; ``capped_by_seeing`` where aperture and eye alone would bear more."""

    least: float
    most: float
    capped_by_seeing: bool


@dataclass(frozen=True, slots=True)
class NearExitPupil:
    """Ranked by nearness to an exit pupil in mm; ``ratio`` is the view's own against it."""

    wanted_mm: float
    ratio: float


@dataclass(frozen=True, slots=True)
class NearPower:
    """Ranked by nearness to the most power wanted; the best within comes before all past it."""

    wanted: WantedPowers
    fit: Fit


@dataclass(frozen=True, slots=True)
class AsAtNight:
    """Ranked as the night chooses for a typical target; what of it the eye meets.

    ``margin_mag`` above its threshold, ``looks_deg`` wide, with the filter named; ``overflows``
    where it does not fit the field.
    """

    target: FaintTarget
    margin_mag: float
    looks_deg: float
    filter_name: str | None
    overflows: bool


@dataclass(frozen=True, slots=True)
class SkySwept:
    """Ranked by true field times the share of the clear aperture that the eye uses, both in mm."""

    used_aperture_mm: float
    clear_aperture_mm: float


Reason = NearExitPupil | NearPower | AsAtNight | SkySwept


@dataclass(frozen=True, slots=True)
class RankedView:
    """A view, its score (more is better; the unit is that of the reason), and the reason.

    Scores that differ by less than ``equal_within`` are equals.
    """

    view: View
    score: float
    equal_within: float
    reason: Reason


def rank_for_purpose(
    setup: Setup, views: Sequence[View], purpose: Purpose, filters: Sequence[Filter] = ()
) -> tuple[RankedView, ...]:
    """The views from the best for a purpose to the worst.

    Galaxies, nebulae, globulars and clusters: as the night chooses for a typical one, overhead,
    with the filter that helps most. Planets and doubles: the highest power that aperture, eye
    and air bear, as at night for a planet or a close pair overhead. Sweeping: true field times
    the share of the aperture that the eye uses. Views below the observer's least exit pupil are
    left out unless there are no others.
    """
    least = setup.observer.least_exit_pupil_mm
    usable = [view for view in views if view.exit_pupil_mm >= least] or list(views)
    if purpose in _TARGETS:
        ranked = _as_at_night(setup, views, filters, _TARGETS[purpose])
        return _sorted([one for one in ranked if one.view in usable])
    return _sorted(_RULES[purpose](setup, usable))


def rank_by_exit_pupil(views: Sequence[View], exit_pupil_mm: float) -> tuple[RankedView, ...]:
    """The views from the nearest to a wanted exit pupil (mm, above 0) to the farthest, by ratio."""
    ratios = [view.exit_pupil_mm / exit_pupil_mm for view in views]
    return _sorted(
        [
            RankedView(view, min(ratio, 1.0 / ratio), 0.0, NearExitPupil(exit_pupil_mm, ratio))
            for view, ratio in zip(views, ratios, strict=True)
        ]
    )


def doubles_powers(setup: Setup) -> WantedPowers:
    """From the clear aperture in mm to the most that close doubles bear overhead."""
    return _wanted(setup, DOUBLE_EXIT_PUPILS_MM, doubles_most)


def planets_powers(setup: Setup) -> WantedPowers:
    """From that of an exit pupil of 1.2 mm to the most that planets bear overhead."""
    return _wanted(setup, PLANET_EXIT_PUPILS_MM, planets_most)


def _wanted(
    setup: Setup,
    exit_pupils_mm: tuple[float, float],
    most_power: Callable[[Setup, float], Floats],
) -> WantedPowers:
    """The power of the wider exit pupil, or 0.8 of the most borne in tonight's seeing, to that."""
    most = float(most_power(setup, setup.seeing_arcsec))
    least = min(setup.telescope.clear_aperture_mm / exit_pupils_mm[0], LEAST_SHARE * most)
    return WantedPowers(least, most, most < float(most_power(setup, PERFECT_AIR_ARCSEC)))


def _sorted(ranked: Sequence[RankedView]) -> tuple[RankedView, ...]:
    """Best first; equals in the order of power, whatever the order given."""
    return tuple(
        sorted(ranked, key=lambda r: (-round(r.score, 9), r.view.magnification, r.view.name))
    )


def _exit_pupils(views: Sequence[View]) -> Floats:
    """Exit pupils of the views, mm."""
    return np.array([view.exit_pupil_mm for view in views])


def _as_at_night(
    setup: Setup, views: Sequence[View], filters: Sequence[Filter], target: FaintTarget
) -> list[RankedView]:
    """Views scored by how the night would choose among them for a typical target."""
    shown = showing(setup, views, filters, target)
    size = SIZES_ARCMIN[target]
    return [
        RankedView(
            view,
            float(score),
            EQUAL_SHARE,
            AsAtNight(
                target=target,
                margin_mag=float(margin),
                looks_deg=size * view.magnification / 60.0,
                filter_name=filters[shown.filter_index].name if shown.filter_index >= 0 else None,
                overflows=size > FIELD_SHARE * 60.0 * view.true_field_deg,
            ),
        )
        for view, score, margin in zip(views, shown.score, shown.margin_mag, strict=True)
    ]


def _planets(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Nearness to the most power that planets bear."""
    return _power_scores(views, planets_powers(setup))


def _doubles(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """Nearness to the most power that close doubles bear."""
    return _power_scores(views, doubles_powers(setup))


def _power_scores(views: Sequence[View], wanted: WantedPowers) -> list[RankedView]:
    """The share of the most power wanted; past that as far the other way, below the best within."""
    shares = [view.magnification / wanted.most for view in views]
    within = max((share for share in shares if share <= 1.0), default=1.0)
    scores = [share if share <= 1.0 else within / share for share in shares]
    return [
        RankedView(view, score, EQUAL_SHARE, NearPower(wanted, _fit(view, wanted)))
        for view, score in zip(views, scores, strict=True)
    ]


def _fit(view: View, wanted: WantedPowers) -> Fit:
    """Where a view's power lies against those wanted."""
    if view.magnification < wanted.least:
        return Fit.TOO_LOW
    return Fit.TOO_HIGH if view.magnification > wanted.most else Fit.RIGHT


def _sweeping(setup: Setup, views: Sequence[View]) -> list[RankedView]:
    """True field times the share of the aperture that enters the eye."""
    aperture = setup.telescope.clear_aperture_mm
    used = used_aperture_mm(aperture, _exit_pupils(views), setup.observer.dark_pupil_mm)
    return [
        RankedView(
            view,
            float(view.true_field_deg * mm / aperture),
            EQUAL_SHARE,
            SkySwept(float(mm), aperture),
        )
        for view, mm in zip(views, used, strict=True)
    ]


_RULES: dict[Purpose, Callable[[Setup, Sequence[View]], list[RankedView]]] = {
    Purpose.PLANETS: _planets,
    Purpose.DOUBLES: _doubles,
    Purpose.SWEEPING: _sweeping,
}
_TARGETS = {
    Purpose.GALAXIES: FaintTarget.GALAXY,
    Purpose.NEBULAE: FaintTarget.NEBULA,
    Purpose.GLOBULARS: FaintTarget.GLOBULAR,
    Purpose.CLUSTERS: FaintTarget.CLUSTER,
}
