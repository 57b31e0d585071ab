"""Writes out judged double stars: the target, its particulars and its course."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import highest_altitude_deg, track
from planner.night.double_course import MARGIN_UNIT, double_course, shown_standing
from planner.night.double_list import SHOWN_FROM, JudgedPairs, judged_pairs
from planner.night.double_words import (
    CLASS_NAMES,
    pair_designations,
    pair_name,
    seeing_words,
    whole_tenths,
)
from planner.night.judged import Judged
from planner.night.plan import DoubleDetail, PlannedTarget
from planner.night.standing import placed, unusable_reason
from planner.optics.view import drift_s
from planner.sky.airmass import airmass
from planner.sky.seeing import dispersion_arcsec
from planner.targets.columns import rows_of
from planner.targets.kind import Kind
from planner.targets.pairs import NO_ORBIT, colour_word, combined_magnitude
from planner.verdict.doubles import LIMIT_WORDS
from planner.verdict.margin import Step
from planner.verdict.outlook import OutlookPair, outlook, outlook_words
from planner.verdict.split_choice import LimitingFactor
from planner.verdict.split_criteria import NOT_SPLIT_WORDS, SplitClass, split_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.night.circumstances import Circumstances
    from planner.optics.view import View
    from planner.targets.pairs import Pairs

SEEING_UNCERTAINTY_SHARE = 0.15  # of the image model; docs/models.md
LEAST_UNCERTAINTY_ARCSEC = 0.1


def judge_doubles(found: Circumstances) -> Judged:
    """Judge the double and multiple stars that the request allows."""
    judged, considered = judged_pairs(found)
    lead = judged.lead
    return Judged(
        considered=considered,
        ids=judged.pairs.system_id[lead],
        shown=judged.shown[lead],
        worth=judged.system_worth,
        write=lambda number: planned_double(judged, number),
        course=lambda number: double_course(judged, int(lead[number])),
    )


def planned_double(judged: JudgedPairs, number: int) -> PlannedTarget:
    """One star or multiple star, told by its leading pair."""
    row, *others = map(int, judged.members(number))
    pairs, found, where = judged.pairs, judged.found, judged.where
    usable = bool(where.usable[row])
    view = _view(judged, row)
    notched = float(judged.verdicts.worst_seeing_arcsec[row, SHOWN_FROM - 1])
    return PlannedTarget(
        id=str(pairs.system_id[row]),
        name=_system_name(pairs, row, others),
        designations=_designations(pairs, row, others),
        kind=Kind.DOUBLE,
        constellation=str(pairs.constellation[row]),
        ra_deg=float(pairs.ra_deg[row]),
        dec_deg=float(pairs.dec_deg[row]),
        magnitude=float(combined_magnitude(pairs.v1[row], pairs.v2[row])),
        size_arcmin=None,
        **placed(found, shown_standing(judged, row) if judged.shown[row] else where, row),
        shown=bool(judged.shown[row]),
        verdict=_words(judged, row),
        margin=notched - found.request.seeing_arcsec if usable else None,
        margin_unit=MARGIN_UNIT,
        uncertainty=_uncertainty_arcsec(notched) if usable else None,
        limited_by=_limit_word(judged, row),
        reason=_reason(judged, row),
        view=view,
        filter_name=None,
        drift_s=None if view is None else float(drift_s(view.true_field_deg, pairs.dec_deg[row])),
        worth=float(judged.system_worth[number]),
        double=_detail(judged, row, tuple(_detail(judged, other) for other in others)),
    )


def _designations(pairs: Pairs, lead: int, others: Sequence[int]) -> tuple[str, ...]:
    """Every name of the leading pair, then the discoverers' of the further pairs."""
    further = (str(pairs.discoverer[other]) for other in others)
    names = (*pair_designations(pairs, lead), *(name for name in further if name))
    return tuple(dict.fromkeys(names))


def _system_name(pairs: Pairs, lead: int, others: Sequence[int]) -> str:
    """The leading pair's name, with the name of its multiple star where it has none itself."""
    own = pairs.proper_name[lead]
    proper = "" if own else next((pairs.proper_name[o] for o in others if pairs.proper_name[o]), "")
    return f"{pair_name(pairs, lead)} {proper}".rstrip()


def _view(judged: JudgedPairs, row: int) -> View | None:
    return judged.found.views[judged.verdicts.view[row]] if judged.where.usable[row] else None


def _class(judged: JudgedPairs, row: int) -> SplitClass:
    usable = judged.where.usable[row]
    return SplitClass(int(judged.verdicts.split_class[row])) if usable else SplitClass.NOT_SPLIT


def _words(judged: JudgedPairs, row: int) -> str:
    if not judged.where.usable[row]:
        return "not up"
    words = split_words(_class(judged, row), _difference(judged, row))
    notched = float(judged.verdicts.worst_seeing_arcsec[row, SHOWN_FROM - 1])
    beyond = abs(notched - judged.found.request.seeing_arcsec)
    if beyond > _uncertainty_arcsec(notched):
        return words
    return f"{Step.BORDERLINE}: {'just ' if words == NOT_SPLIT_WORDS else ''}{words}"


def _uncertainty_arcsec(notched_arcsec: float) -> float:
    """How far the worst seeing may be out."""
    return max(LEAST_UNCERTAINTY_ARCSEC, SEEING_UNCERTAINTY_SHARE * notched_arcsec)


def _difference(judged: JudgedPairs, row: int) -> float:
    return float(abs(judged.pairs.v2[row] - judged.pairs.v1[row]))


def _detail(judged: JudgedPairs, row: int, others: tuple[DoubleDetail, ...] = ()) -> DoubleDetail:
    pairs = judged.pairs
    usable = bool(judged.where.usable[row])
    worst = judged.verdicts.worst_seeing_arcsec[row]
    by_class = {
        CLASS_NAMES[number]: _positive(worst[number - 1]) if usable else None
        for number in (SplitClass.CLEAN, SplitClass.JUST, SplitClass.NOTCHED, SplitClass.ELONGATED)
    }
    return DoubleDetail(
        name=pair_name(pairs, row),
        components=str(pairs.components[row]) or "AB",
        separation_arcsec=float(pairs.separation_arcsec[row]),
        position_angle_deg=_known(pairs.position_angle_deg[row]),
        magnitudes=(float(pairs.v1[row]), float(pairs.v2[row])),
        measure_epoch=_known(pairs.measure_epoch_yr[row]),
        measure_source=str(pairs.measure_source[row]),
        colours=(colour_word(pairs.colour1_bv[row]), colour_word(pairs.colour2_bv[row])),
        verdict=_words(judged, row),
        split_class=CLASS_NAMES[_class(judged, row)],
        worst_seeing_arcsec=by_class["just"],
        worst_seeing_by_class=by_class,
        view=_view(judged, row),
        chance_alignment=bool(judged.chance[row]),
        outlook=_outlook(judged, row),
        others=others,
    )


def _known(value: float) -> float | None:
    return None if np.isnan(value) else float(value)


def _positive(value: NDArray[np.float32]) -> float | None:
    return whole_tenths(float(value)) if value > 0.0 else None


def _outlook(judged: JudgedPairs, row: int) -> str | None:
    """What the orbit holds for the next twenty years, at the pair's greatest height here."""
    if judged.orbit[row] == NO_ORBIT:
        return None
    found, pairs = judged.found, judged.pairs
    highest = float(highest_altitude_deg(found.request.site, pairs.dec_deg[row]))
    if highest <= 0.0:
        return None
    path = float(airmass(highest))
    pair = OutlookPair(
        v1=float(pairs.v1[row]),
        v2=float(pairs.v2[row]),
        airmass=path,
        sky_mu=found.request.sky_mag,
        dispersion_along_arcsec=0.5
        * float(dispersion_arcsec(path, found.request.site.pressure_hpa)),
    )
    orbit = rows_of(judged.orbits, judged.orbit[row : row + 1])
    year = float(found.grid.years[0])
    return outlook_words(outlook(found.setup, found.views, judged.tables, orbit, pair, year))


def _limit_word(judged: JudgedPairs, row: int) -> str:
    if not judged.where.usable[row]:
        return "altitude"
    return LIMIT_WORDS[LimitingFactor(int(judged.verdicts.limit[row]))]


def _reason(judged: JudgedPairs, row: int) -> str:
    if not judged.where.usable[row]:
        site, pairs = judged.found.request.site, judged.pairs
        course = track(
            site, judged.found.grid, pairs.ra_deg[row : row + 1], pairs.dec_deg[row : row + 1]
        )
        highest = float(course.altitude_deg.max())
        return unusable_reason(judged.found, judged.where, row, highest)
    worst = judged.verdicts.worst_seeing_arcsec[row]
    parts = seeing_words(
        float(worst[SplitClass.JUST - 1]),
        float(worst[SHOWN_FROM - 1]),
        float(worst[SplitClass.ELONGATED - 1]),
        _difference(judged, row),
    )
    limit = _limit_word(judged, row)
    by = f"; limited by {limit}" if limit else ""
    chance = "; probably a chance alignment" if judged.chance[row] else ""
    return f"{parts}{by}{chance}"
