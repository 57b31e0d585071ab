"""Double stars of one night, judged, with the pairs of a multiple star as one target."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import (
    PRECESSION_SLACK_DEG,
    highest_altitude_deg,
    parallactic_angle_at_deg,
    track,
)
from planner.importers.library import load_all_orbits, load_all_pairs
from planner.night.standing import Standing, joined, standing
from planner.night.worth import double_worth
from planner.sky.seeing import dispersion_arcsec
from planner.targets.columns import rows_of, with_rows
from planner.targets.pairs import at_epoch, combined_magnitude, match_orbits, take
from planner.verdict.doubles import PairMoments, judge_pairs, split_instrument
from planner.verdict.split_cache import cached_split_tables
from planner.verdict.split_criteria import SplitClass
from planner.verdict.split_lookup import PairInput, dispersion_along

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.circumstances import Circumstances
    from planner.targets.orbit import Orbits
    from planner.targets.pairs import Pairs
    from planner.verdict.doubles import PairVerdicts
    from planner.verdict.split_tables import SplitTables

    Floats = NDArray[np.float64]
    Bools = NDArray[np.bool_]
    Ints = NDArray[np.intp]

CHANCE_ALIGNMENT = 0.3  # expected share of chance pairs from which a pair is called one
DEEP_TWILIGHT_DEG = -12.0
# Degrees of height worth a degree of brighter twilight: so much for each magnitude of the
# companion beyond 5, within bounds; own judgement.
TWILIGHT_COST_PER_MAG = 2.0
TWILIGHT_COST_BOUNDS = (2.0, 12.0)
BRIGHT_COMPANION_MAG = 5.0
TWILIGHT_SHARES = (1.0, 0.3, 0.0)  # of that cost: three candidates for the best moment
MULTIPLE_WORTH = 3.0  # for every further pair of the system that shows; own judgement
SHOWN_FROM = SplitClass.NOTCHED
PAIRS_AT_ONCE = 8192  # keeps the (pairs, moments) arrays small


@dataclass(frozen=True, slots=True, eq=False)
class JudgedPairs:
    """P judged pairs at their best moments; arrays are (P,).

    ``rows`` holds them system by system, those of system s from ``starts`` (S + 1,)[s] on, the
    pair that stands for its star first. ``system_worth`` is (S,). ``orbit`` is the row of the
    pair's orbit, -1 for none.
    """

    found: Circumstances
    pairs: Pairs
    orbits: Orbits
    orbit: NDArray[np.int64]
    tables: SplitTables
    where: Standing
    verdicts: PairVerdicts
    chance: Bools
    shown: Bools
    worth: Floats
    rows: Ints
    starts: Ints
    system_worth: Floats

    @property
    def lead(self) -> Ints:
        """Row of the pair that stands for each star or multiple star, (S,)."""
        return np.asarray(self.rows[self.starts[:-1]])

    def members(self, number: int) -> Ints:
        """Rows of the pairs of one system, the leading one first, then by worth."""
        return self.rows[self.starts[number] : self.starts[number + 1]]


def judged_pairs(found: Circumstances) -> tuple[JudgedPairs, int]:
    """Judge every pair that the request allows, as it stands at the night's date.

    Returns the pairs that could be looked at, and the number considered.
    """
    year = float(np.mean(found.grid.years))
    folder = found.request.library_folder
    wanted = _wanted(found, load_all_pairs(folder))
    possible = wanted if found.request.include_all else take(wanted, _rises(found, wanted))
    orbits = load_all_orbits(folder)
    orbit = match_orbits(possible, orbits)
    return _judge(found, at_epoch(possible, orbits, year), orbits, orbit), len(wanted)


def _wanted(found: Circumstances, pairs: Pairs) -> Pairs:
    request = found.request
    keep = np.ones(len(pairs), dtype=bool)
    if request.constellation is not None:
        keep &= pairs.constellation == request.constellation
    if request.faintest is not None:
        keep &= combined_magnitude(pairs.v1, pairs.v2) <= request.faintest
    if request.only is not None:
        keep &= np.isin(pairs.pair_id, list(request.only))
    return pairs if keep.all() else take(pairs, keep)


def _rises(found: Circumstances, pairs: Pairs) -> Bools:
    """Which pairs ever stand above the least altitude at the site."""
    highest = highest_altitude_deg(found.request.site, pairs.dec_deg) + PRECESSION_SLACK_DEG
    return np.asarray(highest >= found.least_altitude_deg)


def _judge(
    found: Circumstances, pairs: Pairs, orbits: Orbits, orbit: NDArray[np.int64]
) -> JudgedPairs:
    tables = cached_split_tables(
        found.request.cache_folder,
        split_instrument(found.setup),
        [view.magnification for view in found.views],
        [view.exit_pupil_mm for view in found.views],
    )
    where, verdicts = _at_best_moments(found, pairs, tables)
    chance = np.nan_to_num(pairs.chance) >= CHANCE_ALIGNMENT
    chance |= pairs.physical == "no"
    shown = where.usable & (verdicts.split_class >= SHOWN_FROM)
    worth = double_worth(pairs, verdicts.split_class, where.altitude_deg, chance)
    rows, starts = _systems(pairs, shown, chance, worth)
    return JudgedPairs(
        found=found,
        pairs=pairs,
        orbits=orbits,
        orbit=orbit,
        tables=tables,
        where=where,
        verdicts=verdicts,
        chance=chance,
        shown=shown,
        worth=worth,
        rows=rows,
        starts=starts,
        system_worth=_system_worth(rows, starts, shown, worth),
    )


def _at_best_moments(
    found: Circumstances, pairs: Pairs, tables: SplitTables
) -> tuple[Standing, PairVerdicts]:
    """Standing and verdict of each pair at the moment at which it is split best.

    The first candidate is high and dark; the others weigh height more, and are taken where
    they reach a better class.
    """
    where, *others = pair_standings(found, pairs)
    verdicts = judge_pairs(found.setup, found.views, tables, pair_moments(found, pairs, where))
    for other in others:
        rows = np.flatnonzero(other.usable & (other.best != where.best))
        there = rows_of(other, rows)
        again = judge_pairs(
            found.setup, found.views, tables, pair_moments(found, take(pairs, rows), there)
        )
        better = again.split_class > verdicts.split_class[rows]
        where = with_rows(where, rows[better], rows_of(there, better))
        verdicts = with_rows(verdicts, rows[better], rows_of(again, better))
    return where, verdicts


def pair_standings(found: Circumstances, pairs: Pairs) -> list[Standing]:
    """Candidates for the best moment of each pair: high, and more or less out of twilight.

    One standing for each of ``TWILIGHT_SHARES`` of the full cost of twilight.
    """
    glow = np.clip(found.sun.altitude_deg - DEEP_TWILIGHT_DEG, 0.0, None)
    beyond = pairs.v2 - BRIGHT_COMPANION_MAG
    cost = np.clip(TWILIGHT_COST_PER_MAG * beyond, *TWILIGHT_COST_BOUNDS)
    parts: list[list[Standing]] = [[] for _ in TWILIGHT_SHARES]
    for start in range(0, max(len(pairs), 1), PAIRS_AT_ONCE):
        rows = slice(start, start + PAIRS_AT_ONCE)
        course = track(found.request.site, found.grid, pairs.ra_deg[rows], pairs.dec_deg[rows])
        usable = found.above_horizon(course) & found.twilight_over
        for part, share in zip(parts, TWILIGHT_SHARES, strict=True):
            score = course.altitude_deg - share * cost[rows, None] * glow
            part.append(standing(usable, score, course))
    return [joined(part) for part in parts]


def pair_moments(found: Circumstances, pairs: Pairs, where: Standing) -> PairMoments:
    """The pairs at their best moments, with the sky and the air's spectrum there."""
    slant = parallactic_angle_at_deg(found.grid, pairs.ra_deg, pairs.dec_deg, where.best)
    pressure = found.request.site.pressure_hpa
    oblique = 0.5 * dispersion_arcsec(where.airmass, pressure)
    along = dispersion_along(where.airmass, pressure, pairs.position_angle_deg, slant)
    sky = found.background_at(where.altitude_deg, pairs.ra_deg, pairs.dec_deg, where.best)
    return PairMoments(
        pairs=PairInput(pairs.separation_arcsec, pairs.v1, pairs.v2),
        airmass=where.airmass,
        sky_mu=sky.sky_mu,
        dispersion_along_arcsec=np.where(np.isnan(along), oblique, along),
    )


def _systems(pairs: Pairs, shown: Bools, chance: Bools, worth: Floats) -> tuple[Ints, Ints]:
    """Rows of the pairs, system by system, and where each system starts, (S + 1,).

    In front stands a shown pair before one that is not, a true one before one by chance, then
    the worthier; the others follow by worth.
    """
    _, system = np.unique(pairs.system_id, return_inverse=True)
    order = np.lexsort((-worth, chance, ~shown, system))
    first = np.ones(len(order), dtype=bool)
    first[1:] = system[order][1:] != system[order][:-1]
    behind = np.ones(len(order), dtype=bool)
    behind[order[first]] = False
    rows = np.lexsort((-worth, behind, system))
    return rows, np.append(np.flatnonzero(first), len(order))


def _system_worth(rows: Ints, starts: Ints, shown: Bools, worth: Floats) -> Floats:
    """Worth of each system (S,): of its leading pair, and more for further pairs that show."""
    before = np.append(0, np.cumsum(shown[rows]))
    further = np.clip(np.diff(before[starts]) - 1.0, 0.0, 3.0)
    return np.asarray(worth[rows[starts[:-1]]] + MULTIPLE_WORTH * further)
