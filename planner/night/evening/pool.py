"""The targets that may be looked at in an evening: the worthiest shown, with their margins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.night.margin_curve import margins, ways
from planner.sky.seeing import AIRMASS_EXPONENT
from planner.targets.kind import Kind
from planner.targets.pairs import Pairs, combined_magnitude
from planner.targets.red_stars import RedStars
from planner.verdict.verdicts import FARTHEST_INSIDE, MarginUnit

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged
    from planner.night.ranking import Entry
    from planner.verdict.verdicts import Verdicts

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]
    Texts = NDArray[np.object_]

LOOK_MINUTES = {  # to settle, look, change the eyepiece once and write a line; own judgement
    Kind.RED_STAR: 5, Kind.DOUBLE: 7, Kind.OPEN_CLUSTER: 9, Kind.PLANETARY_NEBULA: 11,
    Kind.GLOBULAR_CLUSTER: 11, Kind.GALAXY: 13, Kind.NEBULA: 14, Kind.PLANET: 18, Kind.MOON: 25,
}  # fmt: skip
CLOSE_ARCSEC, CLOSE_MINUTES = 2.5, 4  # a close pair wants waiting for steady moments
BEYOND_EVEN = 1.0  # uncertainties short of an even chance at which a look is worth nothing
SATURATION = 3.0  # uncertainties in hand that make two thirds of the full view
MURK_EXPONENT = 0.2  # of the airmass: what is low looks poorer than it measures; own judgement
NO_WORTH = 40.0  # of a filler; own judgement
FULL_WORTH = 100.0  # of what an evening is for; own judgement
FULL_POINTS = 100.0  # for that
FILLER_SHARE = 0.25  # of the way up, which a filler has all the same; own judgement
WORTH_EXPONENT = 2.0  # a showpiece is worth more than two things half as far up; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class Pool:
    """K targets of a night, (K,), and how they do at its T moments, (K, T).

    ``entries`` are their places in the judged groups, the worthiest first. ``points`` is what the
    whole look at the best moment is worth, ``quality`` the share of it at each moment, 0 to 1;
    ``usable`` marks moments at which the target is within reach and shows. ``view`` and
    ``filter_index`` are those of the best moment; ``margin_mag`` what is in hand there, infinite
    for pairs and the Moon.
    """

    entries: tuple[Entry, ...]
    ids: tuple[str, ...]
    kind: Texts
    minutes: Ints
    points: Floats
    ra_deg: Floats
    dec_deg: Floats
    magnitude: Floats
    view: Ints
    filter_index: Ints
    margin_mag: Floats
    altitude_deg: Floats
    azimuth_deg: Floats
    quality: Floats
    usable: Bools

    def __len__(self) -> int:
        """Number of targets."""
        return len(self.ids)


def evening_pool(conditions: Conditions, groups: list[Judged], entries: tuple[Entry, ...]) -> Pool:
    """The entries with their courses through the night; every one must be shown tonight."""
    places, parts = [], []
    for number, group in enumerate(groups):
        own = [place for place, entry in enumerate(entries) if entry.group == number]
        if own:
            places += own
            parts.append(_part(conditions, group, [entries[place] for place in own]))
    order = np.argsort(places)
    columns = {name: np.concatenate([part[name] for part in parts])[order] for name in parts[0]}
    return Pool(entries=entries, ids=tuple(columns.pop("ids").tolist()), **columns)


def _part(conditions: Conditions, group: Judged, entries: list[Entry]) -> dict[str, NDArray[Any]]:
    """The columns of the pool for entries of one group."""
    numbers = np.array([entry.number for entry in entries])
    rows = group.systems.lead[numbers]
    way, verdicts = ways(conditions, group, rows), group.verdicts.rows(rows)
    margin = margins(conditions, group, rows, way.lines, fixed_view=True)
    usable = way.usable & (margin >= 0.0)
    usable[np.arange(len(rows)), group.times.best[rows]] = True
    fullness = _fullness(margin, verdicts.uncertainty)
    if not isinstance(group.targets, Pairs):  # theirs has the height in the seeing
        airmass = np.nan_to_num(way.lines.airmass, nan=np.inf)
        body = isinstance(group.targets, Bodies)
        fullness = fullness * airmass ** -(AIRMASS_EXPONENT if body else MURK_EXPONENT)
    best = np.where(usable, fullness, 0.0).max(axis=1, keepdims=True)
    variety = np.array([entry.variety for entry in entries])
    worth = group.worth.total[numbers] - variety
    return _facts(group, rows) | {
        "ids": group.ids[numbers],
        "points": _points(worth),
        "view": verdicts.view,
        "filter_index": verdicts.filter_index,
        "margin_mag": _margin_mag(verdicts),
        "altitude_deg": way.track.altitude_deg,
        "azimuth_deg": way.track.azimuth_deg,
        "quality": np.where(usable, fullness / best, 0.0),
        "usable": usable,
    }


def _points(worth: Floats) -> Floats:
    """Points of whole looks (K,) by worth: few for a filler, rising ever steeper."""
    share = np.maximum((worth - NO_WORTH) / (FULL_WORTH - NO_WORTH), FILLER_SHARE)
    return np.asarray(FULL_POINTS * share**WORTH_EXPONENT)


def _fullness(margin: Floats, uncertainty: Floats) -> Floats:
    """How much of the full view margins (K, T) give, 0 to 1: it levels off far inside."""
    with np.errstate(invalid="ignore"):
        inside = np.minimum(margin / uncertainty[:, None], FARTHEST_INSIDE)
    inside = np.nan_to_num(inside, nan=FARTHEST_INSIDE)  # the Moon
    return np.asarray(1.0 - np.exp(-np.clip(inside + BEYOND_EVEN, 0.0, None) / SATURATION))


def _margin_mag(verdicts: Verdicts[Any]) -> Floats:
    """Magnitudes in hand (K,): what a dazzled eye may lose; infinite for pairs."""
    if verdicts.unit is MarginUnit.MAGNITUDES:
        return verdicts.margin
    return np.full_like(verdicts.margin, np.inf)


def _facts(group: Judged, rows: Ints) -> dict[str, NDArray[Any]]:
    """Kind, minutes of a look, place and magnitude of some rows."""
    targets: Any = group.targets
    if isinstance(targets, Bodies):
        there = targets.at(group.times.best[rows], rows)
        kind = np.where(there.is_moon, Kind.MOON, Kind.PLANET).astype(object)
        place, magnitude = (there.ra_deg, there.dec_deg), there.magnitude
        more = np.zeros(len(rows), dtype=np.intp)
    elif isinstance(targets, Pairs):
        kind = np.full(len(rows), Kind.DOUBLE, dtype=object)
        place = targets.ra_deg[rows], targets.dec_deg[rows]
        magnitude = combined_magnitude(targets.v1[rows], targets.v2[rows])
        more = CLOSE_MINUTES * (targets.separation_arcsec[rows] < CLOSE_ARCSEC)
    elif isinstance(targets, RedStars):
        kind = np.full(len(rows), Kind.RED_STAR, dtype=object)
        place = targets.ra_deg[rows], targets.dec_deg[rows]
        magnitude = targets.middle_mag[rows]
        more = np.zeros(len(rows), dtype=np.intp)
    else:
        kind, magnitude = targets.kind[rows], targets.v_mag[rows]
        place = targets.ra_deg[rows], targets.dec_deg[rows]
        more = np.zeros(len(rows), dtype=np.intp)
    usual = np.array([LOOK_MINUTES[k] for k in kind], dtype=np.intp)
    return {
        "kind": kind,
        "minutes": usual + more,
        "ra_deg": place[0],
        "dec_deg": place[1],
        "magnitude": magnitude,
    }
