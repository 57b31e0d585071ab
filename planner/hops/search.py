"""The cheapest way from a star the bare eye sees to a target, by at most four legs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import horizontal_deg, unit_vectors
from planner.ephemeris.site import horizon_altitude_deg
from planner.hops.clock import clock_hour, right_and_up
from planner.hops.hop import Hop, Leg, Means, Stop
from planner.hops.line import OFF_COST, ONE_STAR_SHARE, best_line

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.site import Site
    from planner.hops.landmarks import Landmarks
    from planner.optics.turn import Turn

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

# The costs are own judgement, in legs.
MOST_LEGS = 4  # farther nobody hops; own judgement
LEG_SHARE = 0.8  # of the field, so that both ends stand in one view; own judgement
LANDING_SHARE = 0.25  # of the field; own judgement
FAR_LANDING = 2.0  # for a last star from which the target is not near; own judgement
LENGTH = 0.3  # for the longest leg; own judgement
START_FAINT = 0.4  # a magnitude beyond 3; own judgement
BRIGHT_MAG = 3.0  # a start star that nobody mistakes; own judgement
FAINT = 0.5  # a magnitude beyond what a finder shows with ease; own judgement
EASY_MAG = 2.0  # above its limit; own judgement
RIVAL = 0.3  # for each star it may be taken for; own judgement
MOST_RIVALS = 5  # more make it no worse; own judgement
FAME_COST = np.array([0.0, 0.1, 0.5, 1.2])
ONE_DOT_DEG = 0.03  # closer stars are one to a finder; own judgement
WIDE_COUNT = 120  # the brightest within reach; own judgement
NEAR_COUNT = 40  # the brightest close by; own judgement
POINTER_REACH_DEG = 15.0  # farther a sight is set by guess; own judgement
NEAREST_ZENITH_DEG = 1.0  # nearer up and right say nothing; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class HopSky:
    """The sky of one minute: zenith, north and east of the site as unit vectors (3,).

    In the frame of the catalogs; ``limit_mag`` is the faintest start star, V.
    """

    site: Site
    zenith: Floats
    north: Floats
    east: Floats
    limit_mag: float

    def horizontal_deg(self, places: Floats) -> tuple[Floats, Floats]:
        """Altitude without air and azimuth of places (N, 3), degrees."""
        return horizontal_deg(places, self.zenith, self.north, self.east)


@dataclass(frozen=True, slots=True)
class Guide:
    """What one hops through: its true field, faintest star and turn (None unknown).

    ``landing_deg`` is how near the last star has to be for the target to be met without a search:
    a quarter of the field, for a sight of that of the lowest power.
    """

    means: Means
    name: str
    field_deg: float
    limit_mag: float
    turn: Turn | None
    landing_deg: float


@dataclass(frozen=True, slots=True)
class Aim:
    """A target: its place (ICRS, degrees), and whether bare eye and finder show it."""

    ra_deg: float
    dec_deg: float
    bare_eye: bool = False
    in_finder: bool = False

    @property
    def place(self) -> Floats:
        """The place as a unit vector (3,)."""
        return unit_vectors(self.ra_deg, self.dec_deg)


@dataclass(frozen=True, slots=True, eq=False)
class _Nodes:
    """The landmarks of one search: rows, distances to one another and to the target, degrees."""

    rows: Ints
    apart_deg: Floats
    to_target_deg: Floats


def find_hop(sky: HopSky, guide: Guide, aim: Aim, stars: Landmarks) -> Hop:
    """The way to a target at one minute; the same whatever else is asked for."""
    place = aim.place
    altitude, azimuth = sky.horizontal_deg(place[None, :])
    hop = Hop(
        means=guide.means,
        instrument=guide.name,
        field_deg=guide.field_deg,
        altitude_deg=float(altitude[0]),
        azimuth_deg=float(azimuth[0]),
        bare_eye=aim.bare_eye,
        in_finder=aim.in_finder and guide.means is Means.FINDER,
    )
    if hop.bare_eye or guide.means is Means.NOTHING:
        return hop
    nodes = _nodes(sky, guide, place, stars)
    start_cost = _start_costs(sky, nodes, stars)
    if guide.means is Means.POINTER:
        return _sighted(hop, (sky, guide), aim, (nodes, start_cost), stars)
    path = _cheapest(nodes, start_cost, guide, stars)
    return hop if path is None else _walked(hop, (sky, guide), aim, nodes.rows[path], stars)


def _nodes(sky: HopSky, guide: Guide, place: Floats, stars: Landmarks) -> _Nodes:
    """The brightest stars around a target and the fainter ones close by, above the horizon."""
    reach = MOST_LEGS * LEG_SHARE * guide.field_deg
    reach = POINTER_REACH_DEG if guide.means is Means.POINTER else min(reach, 90.0)
    cosine = stars.place[: stars.wide] @ place
    rows = np.flatnonzero(cosine >= np.cos(np.radians(reach)))[:WIDE_COUNT]
    if guide.means is not Means.POINTER:
        close = _within(stars, place, LEG_SHARE * guide.field_deg)
        rows = np.union1d(rows, close[:NEAR_COUNT])
    rows = rows[stars.v_mag[rows] <= max(guide.limit_mag, sky.limit_mag)]
    altitude, azimuth = sky.horizontal_deg(stars.place[rows])
    up = (altitude > 0.0) & (altitude > horizon_altitude_deg(sky.site, azimuth))
    rows = rows[up & (altitude < 90.0 - NEAREST_ZENITH_DEG)]
    places = stars.place[rows]
    return _Nodes(rows, _apart_deg(places, places), _apart_deg(places, place[None, :])[:, 0])


def _within(stars: Landmarks, place: Floats, reach_deg: float) -> Ints:
    """The stars within a reach of a place, the brightest first; a band of height is cut out first.

    Heights above the equator's plane differ by no more than the angle between two places.
    """
    reach = np.radians(reach_deg)
    low, high = np.searchsorted(stars.height, (place[2] - reach, place[2] + reach))
    band = stars.by_height[low:high]
    return np.sort(band[stars.place[band] @ place >= np.cos(reach)])


def _apart_deg(one: Floats, other: Floats) -> Floats:
    return np.asarray(np.degrees(np.arccos(np.clip(one @ other.T, -1.0, 1.0))))


def _rivals(nodes: _Nodes, v_mag: Floats, radius_deg: float, within_mag: float) -> Floats:
    """How many stars of like brightness each might be taken for, (n,)."""
    near = (nodes.apart_deg <= radius_deg) & (nodes.apart_deg > ONE_DOT_DEG)
    like = np.abs(v_mag[:, None] - v_mag[None, :]) <= within_mag
    return np.asarray(np.minimum((near & like).sum(axis=1), MOST_RIVALS), dtype=float)


def _start_costs(sky: HopSky, nodes: _Nodes, stars: Landmarks) -> Floats:
    """The cost of each star as a start, (n,); infinite where the bare eye does not see it."""
    v = stars.v_mag[nodes.rows]
    cost = START_FAINT * np.clip(v - BRIGHT_MAG, 0.0, None)
    cost = cost + FAME_COST[stars.fame[nodes.rows]] + RIVAL * _rivals(nodes, v, 3.0, 1.0)
    return np.where(v <= sky.limit_mag, cost, np.inf)


def _sighted(
    hop: Hop,
    tools: tuple[HopSky, Guide],
    aim: Aim,
    known: tuple[_Nodes, Floats],
    stars: Landmarks,
) -> Hop:
    """The way with a sight without power: along the line of two stars, or from one that is near."""
    nodes, start_cost = known
    landing = tools[1].landing_deg
    if not np.isfinite(start_cost).any():
        return hop
    line = best_line(stars.place[nodes.rows], start_cost, aim.place)
    off_deg = ONE_STAR_SHARE * nodes.to_target_deg
    cost = start_cost + OFF_COST * off_deg
    start = int(np.argmin(cost))
    if line is None or cost[start] <= line.cost:
        walked = _walked(hop, tools, aim, nodes.rows[[start]], stars)
        return replace(walked, sweep=bool(off_deg[start] > landing))
    walked = _walked(hop, tools, aim, nodes.rows[[line.first, line.second]], stars)
    return replace(walked, line_share=line.share, sweep=line.off_deg > landing)


def _cheapest(nodes: _Nodes, start_cost: Floats, guide: Guide, stars: Landmarks) -> Ints | None:
    """The stars of the cheapest way, from the start on: Bellman and Ford, a round for each leg."""
    reach = LEG_SHARE * guide.field_deg
    v = stars.v_mag[nodes.rows]
    enter = FAINT * np.clip(v - (guide.limit_mag - EASY_MAG), 0.0, None)
    enter = enter + RIVAL * _rivals(nodes, v, guide.landing_deg, 0.7)
    allowed = (nodes.apart_deg <= reach) & (v <= guide.limit_mag)[None, :]
    step = np.where(allowed, 1.0 + LENGTH * nodes.apart_deg / reach + enter[None, :], np.inf)
    land = 1.0 + LENGTH * nodes.to_target_deg / reach
    land = land + FAR_LANDING * (nodes.to_target_deg > guide.landing_deg)
    land = np.where(nodes.to_target_deg <= reach, land, np.inf)
    costs, before = [start_cost], []
    best, end = np.inf, (0, 0)
    if not len(nodes.rows):
        return None
    for legs in range(MOST_LEGS):
        total = costs[-1] + land
        last = int(np.argmin(total))
        if total[last] < best - 1e-9:
            best, end = float(total[last]), (legs, last)
        through = costs[-1][:, None] + step
        before.append(np.argmin(through, axis=0))
        costs.append(np.min(through, axis=0))
    if not np.isfinite(best):
        return None
    path = [end[1]]
    for legs in range(end[0], 0, -1):
        path.append(int(before[legs - 1][path[-1]]))
    return np.array(path[::-1])


def _walked(hop: Hop, tools: tuple[HopSky, Guide], aim: Aim, rows: Ints, stars: Landmarks) -> Hop:
    """The hop along some stars to the target."""
    sky, guide = tools
    stops = [
        Stop(float(stars.ra_deg[r]), float(stars.dec_deg[r]), stars.name[r], float(stars.v_mag[r]))
        for r in rows
    ]
    places = [*stars.place[rows], aim.place]
    ends = [*stops[1:], Stop(aim.ra_deg, aim.dec_deg)]
    legs = tuple(_leg(sky, guide, (places[i], places[i + 1]), end) for i, end in enumerate(ends))
    far = legs[-1].length_deg > guide.landing_deg
    return replace(hop, start=stops[0], legs=legs, sweep=far and not hop.in_finder)


def _leg(sky: HopSky, guide: Guide, ends: tuple[Floats, Floats], to: Stop) -> Leg:
    right, up = right_and_up(ends[0], ends[1], sky.zenith)
    length = 2.0 * np.degrees(np.arcsin(np.linalg.norm(ends[1] - ends[0]) / 2.0))
    image = None if guide.turn is None else clock_hour(right, up, guide.turn)
    return Leg(to, float(length), float(length / guide.field_deg), clock_hour(right, up), image)
