"""Writes out one judged target: everything a sheet needs, as numbers and enums."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from planner.ephemeris.bodies import Bodies
from planner.ephemeris.constellation import constellation_at
from planner.ephemeris.sun_safety import WALL_WITHIN_DEG
from planner.night.pair_facts import PairFacts, pair_facts
from planner.night.plan import (
    BodyDetail,
    DoubleDetail,
    Identity,
    ObjectDetail,
    PlannedTarget,
    RedStarDetail,
    WorthTerms,
)
from planner.night.safe_span import safe_span
from planner.night.spans import Span, spans_of
from planner.optics.view import drift_s
from planner.sky.airmass import airmass
from planner.targets.columns import known
from planner.targets.kind import Kind
from planner.targets.pairs import (
    Pairs,
    colour_word,
    combined_magnitude,
)
from planner.targets.red_stars import RedStars
from planner.targets.titles import (
    object_designations,
    object_title,
    pair_title,
    red_star_designations,
    red_star_title,
    system_designations,
    system_title,
)
from planner.verdict.deepsky.cluster_stars import cluster_stars
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.steps import Step
from planner.verdict.verdicts import NO_FILTER, NO_VIEW, Limit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged
    from planner.night.ranking import Entry
    from planner.optics.view import View
    from planner.targets.deepsky import DeepSky


def planned_targets(
    conditions: Conditions, judged: Judged, entries: Sequence[Entry]
) -> list[PlannedTarget]:
    """Targets of a judged group by their entries in the list, in that order."""
    numbers = np.array([entry.number for entry in entries], dtype=np.intp)
    rows, shown = judged.systems.lead[numbers], judged.shown[numbers]
    spans = spans_of(conditions, judged, rows, shown)
    facts = pair_facts(conditions, judged, numbers)
    return [
        _planned(conditions, judged, entry, spans[int(row)], facts)
        for entry, row in zip(entries, rows, strict=True)
    ]


def _planned(
    conditions: Conditions, judged: Judged, entry: Entry, span: Span, facts: PairFacts
) -> PlannedTarget:
    number = entry.number
    row, *others = map(int, judged.systems.members(number))
    times, verdicts = judged.times, judged.verdicts
    usable = bool(times.usable[row])
    what = identity(judged, number)
    view = _view(conditions, judged, row)
    first, last, even = span.first, span.last, span.even
    shown = bool(judged.shown[number])
    moments, best = conditions.instants, int(times.best[row])
    altitude, margin = float(times.altitude_deg[row]), float(verdicts.margin[row])
    filter_index = int(verdicts.filter_index[row])
    known = usable and bool(np.isfinite(margin))
    return PlannedTarget(
        **{name: getattr(what, name) for name in Identity.__slots__},
        window_start=moments[first] if usable else None,
        window_end=moments[last] if usable else None,
        best_time=moments[best] if usable else None,
        even_start=moments[even[0]] if even else None,
        even_end=moments[even[1]] if even else None,
        altitude_deg=altitude if usable else None,
        azimuth_deg=float(times.azimuth_deg[row]) if usable else None,
        airmass=float(airmass(altitude)) if usable else None,
        unusable=span.unusable,
        shown=shown,
        step=Step(int(verdicts.step[row])) if usable else Step.NOT_SEEN,
        limit=Limit(int(verdicts.limit[row])) if usable else Limit.ALTITUDE,
        margin=margin if known else None,
        margin_unit=verdicts.unit,
        uncertainty=float(verdicts.uncertainty[row]) if known else None,
        view=view,
        filter_name=(
            conditions.request.filters[filter_index].name
            if usable and filter_index != NO_FILTER
            else None
        ),
        drift_s=None if view is None else float(drift_s(view.true_field_deg, what.dec_deg)),
        worth=WorthTerms(
            view=float(judged.worth.view[number]),
            standing=float(judged.worth.standing[number]),
            rarity=float(judged.worth.rarity[number]),
            variety=-entry.variety,
            log=0.0 if judged.worth.log is None else float(judged.worth.log[number]),
        ),
        detail=_detail(conditions, judged, row, others, facts),
        seen=conditions.request.seen.get(what.id),
    )


def identity(judged: Judged, number: int) -> Identity:
    """What one target of a judged group is."""
    row, *others = map(int, judged.systems.members(number))
    targets = judged.targets
    if isinstance(targets, Pairs):
        return _pair_identity(targets, row, others)
    if isinstance(targets, Bodies):
        return _body_identity(judged, row)
    if isinstance(targets, RedStars):
        return _red_star_identity(targets, row)
    return _object_identity(targets, row)


def _pair_identity(pairs: Pairs, row: int, others: list[int]) -> Identity:
    return Identity(
        id=str(pairs.system_id[row]),
        name=system_title(pairs, row, others),
        designations=system_designations(pairs, row, others),
        kind=Kind.DOUBLE,
        constellation=str(pairs.constellation[row]),
        ra_deg=float(pairs.ra_deg[row]),
        dec_deg=float(pairs.dec_deg[row]),
        magnitude=float(combined_magnitude(pairs.v1[row], pairs.v2[row])),
        size_arcmin=None,
    )


def _object_identity(objects: DeepSky, row: int) -> Identity:
    major, minor = float(objects.major_arcmin[row]), float(objects.minor_arcmin[row])
    return Identity(
        id=objects.id[row],
        name=object_title(objects, row),
        designations=object_designations(objects, row),
        kind=objects.kind[row],
        constellation=objects.constellation[row],
        ra_deg=float(objects.ra_deg[row]),
        dec_deg=float(objects.dec_deg[row]),
        magnitude=known(objects.v_mag[row]),
        size_arcmin=None if np.isnan(major) else (major, major if np.isnan(minor) else minor),
    )


def _red_star_identity(stars: RedStars, row: int) -> Identity:
    return Identity(
        id=str(stars.name[row]),
        name=red_star_title(stars, row),
        designations=red_star_designations(stars, row),
        kind=Kind.RED_STAR,
        constellation=str(stars.constellation[row]),
        ra_deg=float(stars.ra_deg[row]),
        dec_deg=float(stars.dec_deg[row]),
        magnitude=float(stars.middle_mag[row]),
        size_arcmin=None,
    )


def _body_identity(judged: Judged, row: int) -> Identity:
    there = judged.targets.rows([row]).at(judged.times.best[row : row + 1])
    name, ra, dec = str(there.name[0]), float(there.ra_deg[0]), float(there.dec_deg[0])
    diameter = float(there.diameter_arcsec[0]) / 60.0
    return Identity(
        id=name,
        name=name,
        designations=(name,),
        kind=Kind.MOON if name == "Moon" else Kind.PLANET,
        constellation=constellation_at(ra, dec),
        ra_deg=ra,
        dec_deg=dec,
        magnitude=known(there.magnitude[0]),
        size_arcmin=(diameter, diameter),
    )


def _view(conditions: Conditions, judged: Judged, row: int) -> View | None:
    index = int(judged.verdicts.view[row])
    if not judged.times.usable[row] or index == NO_VIEW:
        return None
    own = index < len(conditions.views)
    return conditions.views[index] if own else conditions.every_view[index]


def _detail(
    conditions: Conditions, judged: Judged, row: int, others: list[int], facts: PairFacts
) -> DoubleDetail | ObjectDetail | BodyDetail | RedStarDetail:
    if isinstance(judged.targets, Pairs):
        further = tuple(_double(conditions, judged, other, facts) for other in others)
        return _double(conditions, judged, row, facts, further)
    found: Any = judged.verdicts.detail
    usable = bool(judged.times.usable[row])
    if isinstance(judged.targets, Bodies):
        beside = float(found.elongation_deg[row]) < WALL_WITHIN_DEG
        safe = safe_span(conditions) if usable and beside else (None, None)
        return BodyDetail(
            diameter_arcsec=float(found.diameter_arcsec[row]),
            illuminated_fraction=float(found.illuminated_fraction[row]),
            elongation_deg=float(found.elongation_deg[row]),
            features=tuple(found.features[row]) if usable else (),
            safe_from=safe[0],
            safe_until=safe[1],
        )
    if isinstance(judged.targets, RedStars):
        return RedStarDetail(
            range_mag=(float(found.v_bright_mag[row]), float(found.v_faint_mag[row])),
            period_days=known(found.period_days[row]),
            colour_bv=known(found.colour_bv[row]),
        )
    limits = float(found.star_limit_mag[row]), float(found.best_star_limit_mag[row])
    shown = bool(judged.shown[row])
    return ObjectDetail(
        nebula_unknown=bool(found.nebula_unknown[row]),
        overflows=bool(found.overflows[row]),
        stars=cluster_stars(judged.targets, row, *limits) if shown else None,
    )


def _double(
    conditions: Conditions,
    judged: Judged,
    row: int,
    facts: PairFacts,
    others: tuple[DoubleDetail, ...] = (),
) -> DoubleDetail:
    pairs, found = judged.targets, judged.verdicts.detail
    usable = bool(judged.times.usable[row])
    worst = tuple(float(value) for value in found.limiting_seeing_arcsec[row])
    return DoubleDetail(
        name=pair_title(pairs, row),
        components=str(pairs.components[row]) or "AB",
        separation_arcsec=float(pairs.separation_arcsec[row]),
        position_angle_deg=known(pairs.position_angle_deg[row]),
        magnitudes=(float(pairs.v1[row]), float(pairs.v2[row])),
        measure_epoch=known(pairs.measure_epoch_yr[row]),
        measure_source=str(pairs.measure_source[row]),
        colours=(colour_word(pairs.colour1_bv[row]), colour_word(pairs.colour2_bv[row])),
        step=Step(int(judged.verdicts.step[row])) if usable else Step.NOT_SEEN,
        split_class=SplitClass(int(found.split_class[row])) if usable else SplitClass.NOT_SPLIT,
        limiting_seeing_arcsec=worst if usable else None,
        view=_view(conditions, judged, row),
        chance_alignment=facts.by_chance[row],
        outlook=facts.outlook.get(row),
        others=others,
    )
