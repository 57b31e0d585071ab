"""Double stars of one night, judged."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import (
    Track,
    highest_altitude_deg,
    parallactic_angle_at_deg,
    track,
)
from planner.night.course import Course
from planner.night.judged import Judged
from planner.night.plan import DoubleDetail, PlannedTarget
from planner.night.standing import Standing, placed, standing, unusable_reason
from planner.night.worth import double_worth
from planner.optics.view import drift_s
from planner.sky.seeing import dispersion_arcsec
from planner.targets.catalog import load_orbits, load_pairs
from planner.targets.kind import Kind
from planner.targets.pairs import at_epoch, colour_word, combined_magnitude, take
from planner.verdict.doubles import LIMIT_WORDS, PairMoments, judge_pairs, split_instrument
from planner.verdict.split_cache import cached_split_tables
from planner.verdict.split_choice import LimitingFactor
from planner.verdict.split_criteria import SplitClass, split_words
from planner.verdict.split_lookup import PairInput, dispersion_along

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.circumstances import Circumstances
    from planner.targets.pairs import Pairs
    from planner.verdict.doubles import PairVerdicts
    from planner.verdict.split_tables import SplitTables

    Floats = NDArray[np.float64]
    Bools = NDArray[np.bool_]

CHANCE_ALIGNMENT = 0.3  # expected share of chance pairs from which a pair is called one
DEEP_TWILIGHT_DEG = -12.0
TWILIGHT_COST = (
    2.0  # degrees of height that one degree of brighter twilight is worth; own judgement
)
SEEING_UNCERTAINTY_SHARE = 0.15  # of the image model; docs/models.md
MARGIN_UNIT = "arcsec of seeing"
SHOWN_FROM = SplitClass.NOTCHED
CLASS_NAMES = {
    SplitClass.NOT_SPLIT: "not split",
    SplitClass.ELONGATED: "elongated",
    SplitClass.NOTCHED: "notched",
    SplitClass.JUST: "just",
    SplitClass.CLEAN: "clean",
}


@dataclass(frozen=True, slots=True, eq=False)
class _Group:
    """P judged pairs and all that writing one of them out needs.

    ``usable`` is (P, T), the other arrays (P,), at the best moment.
    """

    found: Circumstances
    pairs: Pairs
    tables: SplitTables
    track: Track
    usable: Bools
    where: Standing
    verdicts: PairVerdicts
    chance: Bools
    shown: Bools
    worth: Floats


def judge_doubles(found: Circumstances) -> Judged:
    """Judge every pair that the request allows, as it stands at the night's date."""
    year = float(np.mean(found.grid.years))
    wanted = _wanted(found, load_pairs())
    possible = wanted if found.request.include_all else take(wanted, _rises(found, wanted))
    group = _judge(found, at_epoch(possible, load_orbits(), year))
    return Judged(
        len(wanted),
        group.shown,
        group.worth,
        lambda row: _planned(group, row),
        lambda row: _course(group, row),
    )


def _wanted(found: Circumstances, pairs: Pairs) -> Pairs:
    request = found.request
    keep = np.ones(len(pairs), dtype=bool)
    if request.constellation is not None:
        keep &= pairs.constellation == request.constellation
    if request.faintest is not None:
        keep &= combined_magnitude(pairs.v1, pairs.v2) <= request.faintest
    if request.only is not None:
        keep &= np.isin(pairs.pair_id, list(request.only))
    return take(pairs, keep)


def _rises(found: Circumstances, pairs: Pairs) -> Bools:
    """Which pairs ever stand above the least altitude at the site."""
    return highest_altitude_deg(found.request.site, pairs.dec_deg) >= found.least_altitude_deg


def _judge(found: Circumstances, pairs: Pairs) -> _Group:
    course = track(found.request.site, found.grid, pairs.ra_deg, pairs.dec_deg)
    usable = found.above_horizon(course) & found.twilight_over
    brightness = np.clip(found.sun.altitude_deg - DEEP_TWILIGHT_DEG, 0.0, None)
    where = standing(usable, course.altitude_deg - TWILIGHT_COST * brightness, course)
    tables = cached_split_tables(
        found.request.cache_folder,
        split_instrument(found.setup),
        [view.magnification for view in found.views],
        [view.exit_pupil_mm for view in found.views],
    )
    verdicts = judge_pairs(found.setup, found.views, tables, _moments(found, pairs, where))
    chance = (np.nan_to_num(pairs.chance) >= CHANCE_ALIGNMENT) & (pairs.discoverer == "")
    chance |= pairs.physical == "no"
    return _Group(
        found=found,
        pairs=pairs,
        tables=tables,
        track=course,
        usable=usable,
        where=where,
        verdicts=verdicts,
        chance=chance,
        shown=where.usable & (verdicts.split_class >= SHOWN_FROM),
        worth=double_worth(pairs, verdicts.split_class, where.altitude_deg, chance),
    )


def _moments(found: Circumstances, pairs: Pairs, where: Standing) -> PairMoments:
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


def _highest(group: _Group, row: int) -> float:
    return float(group.track.altitude_deg[row].max())


def _course(group: _Group, row: int) -> Course:
    """The pair at every moment, each in the view that is best then."""
    found, course = group.found, group.track
    moments = np.arange(len(found.instants))
    pairs = take(group.pairs, np.full(len(moments), row))
    altitude = course.altitude_deg[row]
    where = standing(
        np.ones((len(moments), 1), dtype=bool), altitude[:, None],
        Track(altitude[:, None], course.azimuth_deg[row][:, None]),
    )  # fmt: skip
    moment = _moments(found, pairs, replace(where, best=moments))
    verdicts = judge_pairs(found.setup, found.views, group.tables, moment)
    notched = verdicts.worst_seeing_arcsec[:, SHOWN_FROM - 1].astype(float)
    return Course(
        instants=found.instants,
        altitude_deg=altitude,
        azimuth_deg=course.azimuth_deg[row],
        sky_mu=moment.sky_mu,
        margin=notched - found.request.seeing_arcsec,
        margin_unit=MARGIN_UNIT,
        usable=group.usable[row],
    )


def _planned(group: _Group, row: int) -> PlannedTarget:
    pairs, found, where = group.pairs, group.found, group.where
    usable = bool(where.usable[row])
    split_class = SplitClass(int(group.verdicts.split_class[row])) if usable else SplitClass(0)
    view = found.views[group.verdicts.view[row]]
    notched = float(group.verdicts.worst_seeing_arcsec[row, SHOWN_FROM - 1])
    seeing = found.request.seeing_arcsec
    shown = bool(group.shown[row])
    return PlannedTarget(
        id=pairs.pair_id[row],
        name=_name(pairs, row),
        designations=_designations(pairs, row),
        kind=Kind.DOUBLE,
        constellation=pairs.constellation[row],
        ra_deg=float(pairs.ra_deg[row]),
        dec_deg=float(pairs.dec_deg[row]),
        magnitude=float(combined_magnitude(pairs.v1[row], pairs.v2[row])),
        size_arcmin=None,
        **placed(found, where, row),
        shown=shown,
        verdict=split_words(split_class, _difference(pairs, row)) if usable else "not up",
        margin=notched - seeing if usable else None,
        margin_unit=MARGIN_UNIT,
        uncertainty=max(0.1, SEEING_UNCERTAINTY_SHARE * notched) if usable else None,
        limited_by=_limit_word(group, row),
        reason=_reason(group, row),
        view=view if usable else None,
        filter_name=None,
        drift_s=float(drift_s(view.true_field_deg, pairs.dec_deg[row])) if usable else None,
        worth=float(group.worth[row]),
        double=_detail(group, row, split_class),
    )


def _difference(pairs: Pairs, row: int) -> float:
    return float(abs(pairs.v2[row] - pairs.v1[row]))


def _detail(group: _Group, row: int, split_class: SplitClass) -> DoubleDetail:
    pairs = group.pairs
    angle = float(pairs.position_angle_deg[row])
    worst = {
        CLASS_NAMES[SplitClass(number)]: float(group.verdicts.worst_seeing_arcsec[row, number - 1])
        for number in (SplitClass.CLEAN, SplitClass.JUST, SplitClass.NOTCHED, SplitClass.ELONGATED)
    }
    usable = bool(group.where.usable[row])
    by_class = {name: value if usable and value > 0.0 else None for name, value in worst.items()}
    return DoubleDetail(
        components=pairs.components[row] or "AB",
        separation_arcsec=float(pairs.separation_arcsec[row]),
        position_angle_deg=None if np.isnan(angle) else angle,
        magnitudes=(float(pairs.v1[row]), float(pairs.v2[row])),
        measure_epoch=float(pairs.measure_epoch_yr[row]),
        measure_source=pairs.measure_source[row],
        colours=(colour_word(pairs.colour1_bv[row]), colour_word(pairs.colour2_bv[row])),
        split_class=CLASS_NAMES[split_class],
        worst_seeing_arcsec=by_class["just"],
        worst_seeing_by_class=by_class,
        chance_alignment=bool(group.chance[row]),
    )


def _name(pairs: Pairs, row: int) -> str:
    """The star's letter or number and its own name; else the discoverer's number."""
    parts = [pairs.name[row] or pairs.discoverer[row], pairs.proper_name[row]]
    words = " ".join(part for part in parts if part)
    components = pairs.components[row]
    if not words:
        words = f"HIP {pairs.hip[row]}" if pairs.hip[row] else pairs.pair_id[row]
    return words if components in ("", "AB") else f"{words} {components}"


def _designations(pairs: Pairs, row: int) -> tuple[str, ...]:
    hip = f"HIP {pairs.hip[row]}" if pairs.hip[row] else ""
    wds = f"WDS {pairs.wds[row]}" if pairs.wds[row] else ""
    names = (pairs.proper_name[row], pairs.name[row], pairs.discoverer[row], wds, hip)
    return tuple(name for name in names if name)


def _limit_word(group: _Group, row: int) -> str:
    if not group.where.usable[row]:
        return "altitude"
    return LIMIT_WORDS[LimitingFactor(int(group.verdicts.limit[row]))]


def _reason(group: _Group, row: int) -> str:
    if not group.where.usable[row]:
        return unusable_reason(group.found, group.where, row, _highest(group, row))
    worst = group.verdicts.worst_seeing_arcsec[row]
    limit = _limit_word(group, row)
    by = f"; limited by {limit}" if limit else ""
    goal = worst[SplitClass.JUST - 1]
    parts = (
        f"{'split' if _difference(group.pairs, row) < 2.0 else 'companion held'} in seeing up to "
        f'about {goal:.1f}"'
        if goal > 0.0
        else _hopeless(float(worst[SHOWN_FROM - 1]))
    )
    chance = "; probably a chance alignment" if group.chance[row] else ""
    return f"{parts}{by}{chance}"


def _hopeless(notched: float) -> str:
    if notched > 0.0:
        return f'at best notched, in seeing up to about {notched:.1f}"'
    return "beyond this telescope in any seeing"
