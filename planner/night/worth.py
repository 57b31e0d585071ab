"""How much a target is worth going out for tonight: a small sum, each term told to the reader.

Every number here is our own judgement, not a measurement; it decides only the order of a list.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.kind import Kind
from planner.targets.standing import best_list_counts

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.night.systems import Systems
    from planner.targets.deepsky import DeepSky
    from planner.targets.pairs import Pairs
    from planner.targets.red_stars import RedStars
    from planner.verdict.deepsky.judge import DeepSkyDetail
    from planner.verdict.verdicts import Verdicts

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]
    Texts = NDArray[np.object_]

MOST_STANDING = 34.0
LISTS_TO_SATURATE = 2.0  # lists after which two thirds of the standing are had
CLASS_VIEW = np.array([0.0, 2.0, 11.0, 19.0, 22.0])  # by SplitClass
FINEST_SEPARATION_ARCSEC = 6.0  # close, yet parted at a glance in a small telescope
SEPARATION_SPREAD = 1.1  # of its natural logarithm
WIDE_ARCSEC = (45.0, 120.0)  # from here on two stars rather than a pair, each step once more
COLOUR_CONTRAST_BV = 0.5
CHANCE_COST = 12.0
MULTIPLE_WORTH = 3.0  # for every further pair of the system that shows
MARGIN_SCALE_MAG = 1.6
KIND_VIEW = {  # few planetaries and bright nebulae, many open clusters
    Kind.PLANETARY_NEBULA: 12.0, Kind.NEBULA: 4.0, Kind.GALAXY: 2.0, Kind.GLOBULAR_CLUSTER: 0.0,
    Kind.OPEN_CLUSTER: -4.0,
}  # fmt: skip
NEBULA_UNKNOWN_COST = 20.0
OVERFLOW_COST = 2.0
LOW_ALL_YEAR_DEG = 35.0  # a target that never stands higher here is taken when it is at its best
LOW_WORTH = 5.0
NEAR_BEST_DEG = 5.0
OUT_OF_SEASON_COST = 8.0  # of what stands far lower tonight than it does in its own season
IN_SEASON_DEG, SEASON_SPREAD_DEG = 30.0, 15.0  # so much lower costs nothing, and so much more all
SEASON_TOP_DEG = 65.0  # higher than this is no better
LEAVING_MOMENTS = 24  # two hours: a target that goes sooner after dark is the season's last
LEAVING_WORTH = 3.0
OPPOSITION_DEG = 140.0  # elongation from which an outer planet is in its season
OPPOSITION_WORTH = 6.0
RED_STAR_VIEW = 32.0  # of one surely seen: a point of light, for its colour alone
COLOUR_FROM_BV = 1.2  # each magnitude redder is worth as much as two brighter ones
BODY_VIEW = {
    "Moon": 50.0, "Jupiter": 60.0, "Saturn": 62.0, "Mars": 34.0, "Venus": 42.0,
    "Mercury": 26.0, "Uranus": 24.0, "Neptune": 18.0,
}  # fmt: skip
BODY_STANDING = {
    "Moon": 30.0, "Jupiter": 30.0, "Saturn": 30.0, "Mars": 24.0, "Venus": 20.0,
    "Mercury": 16.0, "Uranus": 14.0, "Neptune": 12.0,
}  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Worth:
    """The terms of N targets, (N,): points for the view tonight, for standing and for rarity.

    ``log`` is what earlier looks take or give, None before the log is asked.
    """

    view: Floats
    standing: Floats
    rarity: Floats
    log: Floats | None = None

    @property
    def total(self) -> Floats:
        """The sum."""
        known = self.view + self.standing + self.rarity
        return np.asarray(known if self.log is None else known + self.log)

    def rows(self, rows: ArrayLike) -> Worth:
        """Some of the targets."""
        chosen = np.asarray(rows)
        log = None if self.log is None else self.log[chosen]
        return Worth(self.view[chosen], self.standing[chosen], self.rarity[chosen], log)


@dataclass(frozen=True, slots=True, eq=False)
class Season:
    """Where N targets stand tonight and at most, degrees, and how many moments are left then."""

    altitude_deg: Floats
    highest_deg: Floats
    moments_left: Ints


def pair_worth(pairs: Pairs, split_class: NDArray[np.int8], chance: Bools, season: Season) -> Worth:
    """Worth of pairs (P,): how well split, bright, close, coloured and high they are."""
    view = CLASS_VIEW[split_class]
    view = view + np.clip(1.5 * (7.5 - pairs.v1), 0.0, 9.0)
    view = view + np.clip(1.5 * (9.5 - pairs.v2), 0.0, 9.0)
    contrast = np.abs(pairs.colour2_bv - pairs.colour1_bv) > COLOUR_CONTRAST_BV
    away = np.log(pairs.separation_arcsec / FINEST_SEPARATION_ARCSEC) / SEPARATION_SPREAD
    view = view + 5.0 * contrast + 6.0 * np.exp(-0.5 * away**2)
    view = view - sum(9.0 * (pairs.separation_arcsec > limit) for limit in WIDE_ARCSEC)
    view = view - CHANCE_COST * chance
    return Worth(
        np.asarray(view + _height(season.altitude_deg)), _standing(pairs.pair_id), _rarity(season)
    )


def deepsky_worth(
    objects: DeepSky, verdicts: Verdicts[DeepSkyDetail], powers: Floats, season: Season
) -> Worth:
    """Worth of objects (N,): how surely seen, how large in the eyepiece, how bright and high.

    ``powers`` are those of the views that the verdicts count in.
    """
    margin = np.nan_to_num(verdicts.margin, nan=-1.0)
    view = 30.0 * (1.0 - np.exp(-np.clip(margin + 0.5, 0.0, None) / MARGIN_SCALE_MAG))
    apparent_deg = np.nan_to_num(objects.major_arcmin) / 60.0 * powers[verdicts.view]
    view = view + 8.0 * np.clip(np.log2(np.maximum(apparent_deg, 0.25) / 0.25) / 6.0, 0.0, 1.0)
    view = view + np.nan_to_num(np.clip(2.0 * (9.5 - objects.v_mag), 0.0, 10.0))
    view = view + np.array([KIND_VIEW.get(kind, 0.0) for kind in objects.kind], dtype=float)
    view = view - OVERFLOW_COST * verdicts.detail.overflows
    nebula = objects.kind == Kind.NEBULA
    view = view - NEBULA_UNKNOWN_COST * (verdicts.detail.by_stars & nebula)
    return Worth(
        np.asarray(view + _height(season.altitude_deg)), _standing(objects.id), _rarity(season)
    )


def red_star_worth(stars: RedStars, margin_mag: Floats, season: Season) -> Worth:
    """Worth of red stars (N,): how surely seen, how bright, how red and how high."""
    margin = np.nan_to_num(margin_mag, nan=-1.0, neginf=-1.0)
    view = RED_STAR_VIEW * (1.0 - np.exp(-np.clip(margin, 0.0, None) / MARGIN_SCALE_MAG))
    view = view + np.clip(1.5 * (9.0 - stars.middle_mag), 0.0, 6.0)
    view = view + np.nan_to_num(np.clip(3.0 * (stars.colour_bv - COLOUR_FROM_BV), 0.0, 6.0))
    return Worth(
        np.asarray(view + _height(season.altitude_deg)), _standing(stars.name), _rarity(season)
    )


def body_worth(
    names: Texts, diameter_arcsec: Floats, elongation_deg: Floats, season: Season
) -> Worth:
    """Worth of the Moon and planets (N,); Mars by the size of its disc."""
    view = np.array([BODY_VIEW[name] for name in names], dtype=float)
    mars = np.clip(2.0 * (diameter_arcsec - 10.0), -16.0, 24.0)
    view = view + np.where(names == "Mars", mars, 0.0) + _height(season.altitude_deg)
    outer = ~np.isin(names, ("Moon", "Mercury", "Venus"))
    rarity = OPPOSITION_WORTH * (outer & (elongation_deg >= OPPOSITION_DEG))
    standing = np.array([BODY_STANDING[name] for name in names], dtype=float)
    return Worth(np.asarray(view), standing, np.asarray(rarity, dtype=float))


def system_worth(systems: Systems, shown: Bools, worth: Worth) -> Worth:
    """Worth of each system (S,): of its leading pair, and more for further pairs that show.

    ``shown`` and ``worth`` are those of the pairs, (N,). The standing is that of the pair of the
    system that stands in most lists.
    """
    before = np.append(0, np.cumsum(shown[systems.rows]))
    further = np.clip(np.diff(before[systems.starts]) - 1.0, 0.0, 3.0)
    lead = worth.rows(systems.lead)
    best = (
        np.maximum.reduceat(worth.standing[systems.rows], systems.starts[:-1])
        if len(systems)
        else lead.standing
    )
    return Worth(lead.view + MULTIPLE_WORTH * further, best, lead.rarity)


def _standing(ids: Texts) -> Floats:
    """Points for the number of best-of lists a target stands in; they level off."""
    counts = best_list_counts(ids.tolist())
    return np.asarray(MOST_STANDING * (1.0 - np.exp(-counts / LISTS_TO_SATURATE)))


def _rarity(season: Season) -> Floats:
    """Points for what is low all year from here and near its best now, or leaves for the season.

    What stands far lower than it does in a season that is still to come loses some.
    """
    low = season.highest_deg < LOW_ALL_YEAR_DEG
    low &= season.altitude_deg >= season.highest_deg - NEAR_BEST_DEG
    leaving = season.moments_left <= LEAVING_MOMENTS
    missing = np.minimum(season.highest_deg, SEASON_TOP_DEG) - np.nan_to_num(season.altitude_deg)
    early = np.clip((missing - IN_SEASON_DEG) / SEASON_SPREAD_DEG, 0.0, 1.0)
    lost = OUT_OF_SEASON_COST * np.where(leaving, 0.0, early)
    return np.asarray(LOW_WORTH * low + LEAVING_WORTH * (leaving & ~low) - lost)


def _height(altitude_deg: Floats) -> Floats:
    """Up to ten points for height: all from 55 degrees, none at 15."""
    return np.asarray(10.0 * np.clip((np.nan_to_num(altitude_deg) - 15.0) / 40.0, 0.0, 1.0))
