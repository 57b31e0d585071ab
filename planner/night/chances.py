"""What each of many nights would show of some targets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.night.judging import judged_groups
from planner.night.margin_curve import margins, ways
from planner.night.other_moments import verdicts_then, where_then
from planner.night.planned import identity
from planner.targets.pairs import Pairs
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.steps import Step
from planner.verdict.verdicts import MarginUnit

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.night.judging import Judged
    from planner.night.many_nights import ManyNights
    from planner.night.plan import Identity
    from planner.optics.view import View

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
    margin = margins(conditions, judged, rows, way.lines)
    margin = np.nan_to_num(margin, nan=-np.inf, posinf=MOST_INSIDE)
    usable = np.broadcast_to(way.usable, margin.shape)
    best, ever = _best_moments(many, usable, margin, way.track.altitude_deg)
    place, night = np.nonzero(ever)
    moments = best[place, night]
    repeated = rows[place]
    there = where_then(conditions, judged, repeated, moments)
    verdicts = verdicts_then(conditions, judged, repeated, moments, there, causes=False)
    chances: list[list[Chance | None]] = [[None] * len(many.dates) for _ in rows]
    classes = verdicts.detail.split_class if isinstance(judged.targets, Pairs) else None
    views = (
        conditions.views if isinstance(judged.targets, Bodies | Pairs) else conditions.every_view
    )
    inside = verdicts.inside
    for number, (target, date, moment) in enumerate(zip(place, night, moments, strict=True)):
        view = int(verdicts.view[number])
        value = float(verdicts.margin[number])
        chances[target][date] = Chance(
            moment=conditions.instants[moment],
            altitude_deg=float(there.altitude_deg[number]),
            azimuth_deg=float(there.azimuth_deg[number]),
            shown=bool(verdicts.shown[number]),
            step=Step(int(verdicts.step[number])),
            split_class=None if classes is None else SplitClass(int(classes[number])),
            margin=value if np.isfinite(value) else None,
            inside=float(inside[number]),
            view=views[view] if view >= 0 else None,
            moon_up=bool(conditions.moon.altitude_deg[moment] > 0.0),
        )
    return [
        TargetNights(identity(judged, number), verdicts.unit, tuple(row))
        for number, row in enumerate(chances)
    ]


def _best_moments(
    many: ManyNights, usable: Bools, margin: Floats, altitude_deg: Floats
) -> tuple[Ints, Bools]:
    """The best moment of each target in each night (K, D), and whether there is one."""
    best = np.zeros((len(margin), len(many.dates)), dtype=np.intp)
    ever = np.zeros(best.shape, dtype=bool)
    bounds = np.searchsorted(many.night, np.arange(len(many.dates) + 1))
    for night, (first, end) in enumerate(zip(bounds, bounds[1:], strict=False)):
        if first == end:
            continue
        part = slice(first, end)
        value = np.where(usable[:, part], margin[:, part], -np.inf)
        enough = value.max(axis=1, keepdims=True) - AS_GOOD
        score = np.minimum(value, enough) + HEIGHT_WEIGHT * altitude_deg[:, part]
        best[:, night] = first + np.where(usable[:, part], score, -np.inf).argmax(axis=1)
        ever[:, night] = usable[:, part].any(axis=1)
    return best, ever
