"""A view in its place among others for a purpose, and the reason for it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.optics.view import View


class FaintTarget(Enum):
    """The typical target whose margin is taken: a galaxy with a bulge, or a white patch."""

    GALAXY = auto()
    PATCH = auto()


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
class AboveThreshold:
    """Ranked by a margin in magnitudes; what of the target the eye meets.

    ``size_arcmin`` on the sky looks ``looks_deg`` wide, on a sky ``sky_darker_mag`` darker than
    to the bare eye; ``overflows`` where the target does not fit the field. ``filter_name`` is the
    filter that shows it best, None for none.
    """

    target: FaintTarget
    size_arcmin: float
    looks_deg: float
    sky_darker_mag: float
    overflows: bool
    filter_name: str | None = None


@dataclass(frozen=True, slots=True)
class SkySwept:
    """Ranked by true field times the share of the clear aperture that the eye uses, both in mm."""

    used_aperture_mm: float
    clear_aperture_mm: float


Reason = NearExitPupil | NearPower | AboveThreshold | SkySwept


@dataclass(frozen=True, slots=True)
class RankedView:
    """A view, its score (more is better; the unit is that of the reason), and the reason.

    Scores that differ by less than ``equal_within`` are equals.
    """

    view: View
    score: float
    equal_within: float
    reason: Reason
