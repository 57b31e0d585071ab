"""The plan of one night: finished values, ready for paper and screen."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime, time

    from planner.ephemeris.civil_night import CivilNight
    from planner.ephemeris.site import Site
    from planner.hops.hop import Hop
    from planner.log.seen import Seen
    from planner.night.events.event import Event
    from planner.night.moon_tonight import MoonTonight
    from planner.night.satellites import Satellites
    from planner.optics.telescope import Telescope
    from planner.optics.view import View
    from planner.targets.kind import Kind
    from planner.verdict.bodies.features import Feature
    from planner.verdict.deepsky.cluster_stars import GlobularStars, StarCount
    from planner.verdict.pairs.criteria import SplitClass
    from planner.verdict.pairs.outlook import Outlook
    from planner.verdict.steps import Step
    from planner.verdict.verdicts import Limit, MarginUnit


@dataclass(frozen=True, slots=True)
class Assumptions:
    """What the verdicts rest on; every one is shown to the reader.

    ``seeing_arcsec`` is the zenith seeing (full width at half maximum), ``sky_mag_per_arcsec2``
    the moonless zenith, ``extinction_mag_per_airmass`` for the dark-adapted eye,
    ``eye_pupil_mm`` and ``eye_field_factor`` the observer's, ``least_altitude_deg`` the lowest
    altitude listed. ``own_log_words`` says what of it the observer's own log has told.
    """

    seeing_arcsec: float
    sky_mag_per_arcsec2: float
    sky_words: str
    extinction_mag_per_airmass: float
    air_words: str
    eye_pupil_mm: float
    eye_field_factor: float
    least_exit_pupil_mm: float
    least_altitude_deg: float
    time_step_min: float
    own_log_words: str = ""


class Absence(Enum):
    """Why a target has no usable moment in the hours of a night."""

    TOO_BRIGHT = auto()  # no moment of the hours asked for is dark enough
    NEVER_UP = auto()
    LOW = auto()  # below the least altitude
    HIGH = auto()  # above what the mount reaches, or above the ceiling, whenever it is dark
    OTHER_HOURS = auto()  # usable, but only outside the hours asked for
    HIDDEN = auto()  # behind the local horizon, or up only in twilight


@dataclass(frozen=True, slots=True)
class Unusable:
    """Why a target has no usable moment tonight, its greatest altitude and the least wanted.

    ``elsewhen`` is when it can be used that night outside the hours asked for, or None.
    """

    why: Absence
    highest_deg: float
    least_deg: float
    elsewhen: tuple[datetime, datetime] | None = None


@dataclass(frozen=True, slots=True)
class WorthTerms:
    """Why a target stands where it does in the list, in points.

    ``view`` is how good it looks tonight in this telescope, ``standing`` how many best-of lists
    have it, ``rarity`` that it is seldom so well placed; ``variety`` (0 or less) what the targets
    of its sort before it take away; ``log`` what earlier looks take or give.
    """

    view: float
    standing: float
    rarity: float
    variety: float
    log: float = 0.0

    @property
    def total(self) -> float:
        """The sum."""
        return self.view + self.standing + self.rarity + self.variety + self.log


@dataclass(frozen=True, slots=True)
class DoubleDetail:
    """What only a double star has. Angles for the date of the night, J2000 north.

    ``limiting_seeing_arcsec`` holds the worst zenith seeing of ELONGATED, NOTCHED, JUST, CLEAN, 0
    where that is never reached, None when the pair is not up. ``difference_mag`` is 0 or more.
    ``others`` are the further pairs of a multiple star, each without ``others`` of its own and
    each judged in a ``view`` of its own.
    ``outlook`` tells what the orbit holds for the next twenty years, None without an orbit.
    ``tested_seeing_arcsec`` has the worst seeing of each class for the glass as poor, and as good
    as a mirror test allows; None without one, for pairs of ``others`` and where only lists are
    wanted.
    """

    name: str
    components: str
    separation_arcsec: float
    position_angle_deg: float | None
    magnitudes: tuple[float, float]
    measure_epoch: float | None
    measure_source: str
    colours: tuple[str, str]
    step: Step
    split_class: SplitClass
    limiting_seeing_arcsec: tuple[float, ...] | None
    view: View | None
    chance_alignment: bool
    outlook: Outlook | None
    others: tuple[DoubleDetail, ...] = ()
    tested_seeing_arcsec: tuple[tuple[float, ...], tuple[float, ...]] | None = None

    @property
    def difference_mag(self) -> float:
        """By how much the second star is fainter or brighter, magnitudes."""
        return abs(self.magnitudes[1] - self.magnitudes[0])


@dataclass(frozen=True, slots=True)
class ObjectDetail:
    """What only a deep-sky object has.

    ``nebula_unknown`` marks a nebula of which only the stars inside are judged, ``overflows`` one
    larger than every field; ``stars`` tells what of a cluster's stars shows.
    """

    nebula_unknown: bool
    overflows: bool
    stars: StarCount | GlobularStars | None


@dataclass(frozen=True, slots=True)
class BodyDetail:
    """What only the Moon and planets have, at the best time.

    ``moon`` is her face that minute, where that was asked for. Within 60 degrees of the Sun
    ``safe_from`` and ``safe_until`` tell when one may look for it.
    """

    diameter_arcsec: float
    illuminated_fraction: float
    elongation_deg: float
    features: tuple[Feature, ...] = ()
    satellites: Satellites | None = None
    moon: MoonTonight | None = None
    safe_from: datetime | None = None
    safe_until: datetime | None = None


@dataclass(frozen=True, slots=True)
class RedStarDetail:
    """What only a red star has: the brightest and faintest V ever, period (None: unknown) and B-V.

    The magnitude of the target is that of the middle of the range.
    """

    range_mag: tuple[float, float]
    period_days: float | None
    colour_bv: float | None


@dataclass(frozen=True, slots=True)
class Identity:
    """What a target is, whatever the night; the place is that of the night's date."""

    id: str
    name: str
    designations: tuple[str, ...]
    kind: Kind
    constellation: str
    ra_deg: float
    dec_deg: float
    magnitude: float | None
    size_arcmin: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class PlannedTarget(Identity):
    """One target of the night, judged for this instrument at its best time.

    Times are aware and None where the target cannot be used tonight at all; then the altitude,
    azimuth and airmass are None too, and ``unusable`` says why. ``even_start`` to ``even_end`` is
    the stretch around the best time in which it stands as well, for hours; None where that is
    short. ``margin`` is positive when the target is shown; ``uncertainty`` has the same unit and
    is about one standard error of the models. ``hop`` is the way to it at the best time, where that
    was asked for. ``seen`` is what the log has of it, None for nothing.
    """

    window_start: datetime | None
    window_end: datetime | None
    best_time: datetime | None
    even_start: datetime | None
    even_end: datetime | None
    altitude_deg: float | None
    azimuth_deg: float | None
    airmass: float | None
    unusable: Unusable | None
    shown: bool
    step: Step
    limit: Limit
    margin: float | None
    margin_unit: MarginUnit
    uncertainty: float | None
    view: View | None
    filter_name: str | None
    drift_s: float | None
    worth: WorthTerms
    detail: DoubleDetail | ObjectDetail | BodyDetail | RedStarDetail
    hop: Hop | None = None
    seen: Seen | None = None

    @property
    def double(self) -> DoubleDetail | None:
        """What only a double star has, or None."""
        return self.detail if isinstance(self.detail, DoubleDetail) else None


@dataclass(frozen=True, slots=True)
class Plan:
    """One night's plan for one telescope at one site.

    ``targets`` are sorted with the one most worth going out for first. ``considered`` counts
    every catalogue target that was looked at. ``start`` and ``end`` are the clock times that
    narrow the night, ``start_usual`` and ``end_usual`` tell which of them are the observer's usual
    ones; ``sun_ever_down`` and ``twilight_ever_over`` tell whether those hours hold any moment of
    night, and of darkness, ``lowest_sun_deg`` how deep the Sun is in them at most (None where they
    hold nothing). ``hidden_count`` counts the targets that were judged and are not shown: all of
    them only where the request asks for all.
    """

    site: Site
    night: CivilNight
    moon_illuminated_fraction: float
    telescope: Telescope
    views: tuple[View, ...]
    assumptions: Assumptions
    targets: tuple[PlannedTarget, ...]
    considered: int
    shown_count: int
    hidden_count: int
    start: time | None
    end: time | None
    start_usual: bool
    end_usual: bool
    lowest_sun_deg: float | None
    sun_ever_down: bool
    twilight_ever_over: bool
    events: tuple[Event, ...] = ()
