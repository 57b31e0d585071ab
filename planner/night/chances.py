"""What each of many nights would show of some targets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.ephemeris.track import Track
from planner.night.judging import judged_groups
from planner.night.margin_curve import ways
from planner.night.other_moments import verdicts_then
from planner.night.planned import identity
from planner.targets.columns import rows_of
from planner.targets.pairs import Pairs
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.steps import Step
from planner.verdict.verdicts import MarginUnit

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.night.judging import Judged
    from planner.night.many_nights import ManyNights
    from planner.night.margin_curve import Ways
    from planner.night.plan import Identity
    from planner.optics.view import View
    from planner.verdict.verdicts import Verdicts

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

AS_GOOD = 0.2  # of a margin, in its unit: of moments so near the best the highest is told
LEAST_INSIDE, MOST_INSIDE = -2.0, 4.0  # beyond these a night is no worse or better; own judgement
HEIGHT_WEIGHT = 1e-3  # of a degree against a unit of the margin: decides between equals


@dataclass(frozen=True, slots=True)
class Chance:
    """One target in one night at its best moment; ``split_class`` is None but for doubles.

    ``inside`` is the common scale of ``Verdicts``; ``moon_up`` says whether the Moon is up then.
    """

    moment: dt.datetime
    altitude_deg: float
    azimuth_deg: float
    shown: bool
    step: Step
    split_class: SplitClass | None
    margin: float | None
    inside: float
    view: View | None
    moon_up: bool


@dataclass(frozen=True, slots=True)
class TargetNights:
    """A target and its chance in each of D nights, None where it is never usable."""

    target: Identity
    unit: MarginUnit
    chances: tuple[Chance | None, ...]


def target_nights(many: ManyNights) -> tuple[TargetNights, ...]:
    """Every target of the request, by id in its groups, in each of the nights.

    Within 0.2 (mag, or arcseconds of seeing) of the night's best margin the highest moment counts.
    A double is judged with the seeing of the request, whatever the night.
    """
    found: list[TargetNights] = []
    if not len(many.night):
        return ()
    for judged in judged_groups(many.conditions):
        found += _group_nights(many, judged)
    return tuple(sorted(found, key=lambda one: one.target.id))


def nights_worth(targets: tuple[TargetNights, ...], count: int) -> Floats:
    """What each of ``count`` nights is worth, (D,): how far inside its targets are in the mean."""
    if not targets:
        return np.zeros(count)
    inside = np.full((len(targets), count), LEAST_INSIDE)
    for row, target in enumerate(targets):
        for night, chance in enumerate(target.chances):
            if chance is not None:
                inside[row, night] = chance.inside
    return np.asarray(np.clip(np.nan_to_num(inside), LEAST_INSIDE, MOST_INSIDE).mean(axis=0))


def _group_nights(many: ManyNights, judged: Judged) -> list[TargetNights]:
    conditions, rows = many.conditions, judged.systems.lead
    if not len(rows):
        return []
    way = ways(conditions, judged, rows)
    place, moment = _candidates(many, way)
    there = Track(way.track.altitude_deg[place, moment], way.track.azimuth_deg[place, moment])
    verdicts = verdicts_then(conditions, judged, rows[place], moment, there, causes=False)
    best = _best(place * len(many.dates) + many.night[moment], verdicts, there.altitude_deg)
    chances: list[list[Chance | None]] = [[None] * len(many.dates) for _ in rows]
    made = _chances(many, judged, moment[best], rows_of(there, best), verdicts.rows(best))
    for row, chance in zip(best, made, strict=True):
        chances[place[row]][many.night[moment[row]]] = chance
    return [
        TargetNights(identity(judged, number), verdicts.unit, tuple(row))
        for number, row in enumerate(chances)
    ]


def _candidates(many: ManyNights, way: Ways) -> tuple[Ints, Ints]:
    """Targets and moments (n,) worth judging: usable, and no higher moment is as dark that night.

    What stands higher under a sky as dark is seen no worse and is told instead, so that nothing is
    lost by leaving out the others, which are most.
    """
    altitude, sky = way.track.altitude_deg, way.lines.sky_mag
    usable = np.broadcast_to(way.usable, altitude.shape)
    places, moments = [], []
    bounds = np.searchsorted(many.night, np.arange(len(many.dates) + 1))
    for first, end in zip(bounds, bounds[1:], strict=False):
        if first == end:
            continue
        part = slice(first, end)
        order = np.argsort(np.where(usable[:, part], -altitude[:, part], np.inf), axis=1)
        dark = np.where(usable[:, part], sky[:, part], -np.inf)
        dark = np.take_along_axis(dark, order, axis=1)
        before = np.maximum.accumulate(dark, axis=1)[:, :-1]
        kept = np.isfinite(dark)
        kept[:, 1:] &= dark[:, 1:] > before
        target, rank = np.nonzero(kept)
        places.append(target)
        moments.append(first + order[target, rank])
    return np.concatenate(places), np.concatenate(moments)


def _best(key: Ints, verdicts: Verdicts[Any], altitude_deg: Floats) -> Ints:
    """The row of the best moment of each target in each night that has one, (m,).

    ``key`` (n,) is one number for each target and night.
    """
    margin = np.nan_to_num(verdicts.margin, nan=-np.inf, posinf=MOST_INSIDE)
    one, count = np.unique(key, return_inverse=True)
    most = np.full(len(one), -np.inf)
    np.maximum.at(most, count, margin)
    score = np.minimum(margin, most[count] - AS_GOOD) + HEIGHT_WEIGHT * altitude_deg
    order = np.lexsort((-score, count))
    return order[np.searchsorted(count[order], np.arange(len(one)))]


def _chances(
    many: ManyNights, judged: Judged, moments: Ints, there: Track, verdicts: Verdicts[Any]
) -> list[Chance]:
    """One chance for each row, (m,)."""
    conditions = many.conditions
    pairs = isinstance(judged.targets, Pairs)
    few = isinstance(judged.targets, Bodies | Pairs)
    views = conditions.views if few else conditions.every_view
    moon_up = conditions.moon.altitude_deg > 0.0
    inside, found = verdicts.inside, []
    for number, moment in enumerate(moments):
        view, margin = int(verdicts.view[number]), float(verdicts.margin[number])
        found.append(
            Chance(
                moment=conditions.instants[moment],
                altitude_deg=float(there.altitude_deg[number]),
                azimuth_deg=float(there.azimuth_deg[number]),
                shown=bool(verdicts.shown[number]),
                step=Step(int(verdicts.step[number])),
                split_class=SplitClass(int(verdicts.detail.split_class[number])) if pairs else None,
                margin=margin if np.isfinite(margin) else None,
                inside=float(inside[number]),
                view=views[view] if view >= 0 else None,
                moon_up=bool(moon_up[moment]),
            )
        )
    return found
