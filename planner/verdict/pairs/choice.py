"""From worst seeing to an answer: which view, which class tonight, and what limits it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from planner.sky.seeing import AIRMASS_EXPONENT
from planner.verdict.pairs.criteria import (
    GOOD_ENOUGH_SHARE,
    UNEQUAL_FROM_MAG,
    SplitClass,
)
from planner.verdict.pairs.lookup import (
    SplitConditions,
    StarPairs,
    StudyPairs,
    ViewChoice,
    limiting_seeing,
    limiting_seeing_in,
    power_suffices,
)
from planner.verdict.pairs.tables import SplitTables
from planner.verdict.verdicts import Limit

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Singles = NDArray[np.float32]
    Integers = NDArray[np.intp]
    Classes = NDArray[np.int8]

Number = TypeVar("Number", np.float32, np.bool_)

_CHOSEN_BY = (SplitClass.JUST, SplitClass.NOTCHED, SplitClass.ELONGATED)
_NO_LIMIT_MAG = 99.0
TELLING_AIR = 1.15  # loss by altitude that is worth naming: 52 degrees and lower; own judgement
STEADY_NIGHT_ARCSEC = 0.7  # better seeing is no night's to hope for; common practice, no source
CLOSE_UNITS = 2.5  # lambda/D within which a companion is too close rather than outshone


@dataclass(frozen=True, slots=True, eq=False)
class PowersBorne:
    """What bounds the power for each pair, scalar or (P,): ``most`` that aperture, eye and air
    bear, and ``well_apart``, which sets its stars as far apart at the eye as anyone wants.
    """

    most: Floats
    well_apart: Floats


def choose_view(
    worst: Singles,
    powers: Floats,
    allowed: NDArray[np.bool_],
    borne: PowersBorne,
    seeing_arcsec: float,
) -> Integers:
    """The view for each pair (P,) in tonight's zenith seeing.

    First, those of the views ``allowed`` (V,) that reach the best class tonight, so that a pair is
    never told worse for an eyepiece more. Of these the ones not past the most power that the
    telescope bears; where only more does, the lowest. Of these the ones whose worst seeing for JUST
    (for NOTCHED, then ELONGATED, where no view reaches more) is within the model's uncertainty
    of the best. Of these the highest that sets the stars not more than well apart, else the
    lowest. ``worst`` is (P, V, C); ``powers`` (V,) stand in any order.
    """
    order = np.argsort(powers, kind="stable")
    order = order[allowed[order]]
    ranked, rising = np.nan_to_num(worst[:, order]), powers[order]
    classes = tonight_class(ranked, np.float32(seeing_arcsec))
    reach = classes == classes.max(axis=1, keepdims=True)
    borne_too = reach & (rising <= np.reshape(borne.most, (-1, 1)))
    within = np.where(borne_too.any(axis=1, keepdims=True), borne_too, _first(reach))
    best = np.where(within[:, :, None], ranked, 0.0).max(axis=1)
    told_by = np.select([best[:, c - 1] > 0.0 for c in _CHOSEN_BY], _CHOSEN_BY, _CHOSEN_BY[-1])
    told = np.take_along_axis(ranked, told_by[:, None, None] - 1, axis=2)[:, :, 0]
    most = np.take_along_axis(best, told_by[:, None] - 1, axis=1)
    good = within & (told >= GOOD_ENOUGH_SHARE * most)
    apart = good & (rising <= np.reshape(borne.well_apart, (-1, 1)))
    position = np.where(apart.any(axis=1), _last(apart), np.argmax(good, axis=1))
    return np.asarray(order[position], dtype=np.intp)


def _first(marks: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Only the first mark of each row (P, V), which has one at least."""
    return np.asarray(np.arange(marks.shape[1]) == np.argmax(marks, axis=1)[:, None])


def _last(marks: NDArray[np.bool_]) -> Integers:
    """The place of the last mark in each row (P, V)."""
    return np.asarray(marks.shape[1] - 1 - np.argmax(marks[:, ::-1], axis=1), dtype=np.intp)


def allowed_views(
    powers: Floats, exit_pupils_mm: Floats, least_exit_pupil_mm: float
) -> NDArray[np.bool_]:
    """Views (V,) with a large enough exit pupil; without any, those of the lowest power."""
    allowed = np.asarray(exit_pupils_mm) >= least_exit_pupil_mm
    return allowed if allowed.any() else np.asarray(powers) == np.min(powers)


def in_view(worst: Singles, view: Integers) -> Singles:
    """Worst seeing (P, C) of each pair in its chosen view, from (P, V, C)."""
    return np.asarray(np.take_along_axis(worst, view[:, None, None], axis=1)[:, 0])


def tonight_class(worst: Singles, seeing_arcsec: ArrayLike) -> Classes:
    """Best class that holds in tonight's zenith seeing, as ``SplitClass`` numbers.

    ``worst`` (..., C) and ``seeing_arcsec`` (scalar or the leading shape, above 0). NaN counts
    as NOT_SPLIT.
    """
    seeing = np.asarray(seeing_arcsec, dtype=np.float32)
    return np.asarray(np.sum(worst >= seeing[..., None], axis=-1), dtype=np.int8)


def limiting_factor(
    tables: SplitTables,
    pairs: StarPairs,
    conditions: SplitConditions,
    view: Integers,
    in_any: Singles,
    seeing_arcsec: float,
) -> Classes:
    """What keeps each pair (P,) from the next class; numbers of ``Limit``.

    The next class is NOTCHED for a pair not seen as two, JUST for a notched, CLEAN for a just
    split one; NOTHING keeps a clean split. Looks again in the chosen view with one effect left
    out at a time, and names the first that is enough in tonight's seeing: companion too faint
    (no limit of magnitude), power too low (an eye that resolves everything, where the
    apparent separation is short and no view owned does better), altitude (at the zenith,
    where that is worth 15 %). Else the seeing, if one that nights have would do. Else the
    first of the same three and of glare that is enough in such a night; else the
    telescope's own image: too close for it, or lost in the light of the brighter star.
    ``in_any`` (P, C): worst seeing in the best of all views.
    """
    choice = ViewChoice(view)
    base = limiting_seeing_in(tables, pairs, conditions, choice)
    now = tonight_class(base, seeing_arcsec)
    goal = np.clip(now + 1, SplitClass.NOTCHED, SplitClass.CLEAN).astype(np.intp)

    def at_goal(values: NDArray[Number]) -> NDArray[Number]:
        return np.asarray(np.take_along_axis(values, goal[:, None] - 1, axis=1)[:, 0])

    def freed(changed: SplitConditions, changed_choice: ViewChoice) -> Singles:
        return at_goal(limiting_seeing_in(tables, pairs, changed, changed_choice))

    short = ~at_goal(power_suffices(tables, pairs, conditions, view))
    owned = tables.powers[view] < tables.powers.max()
    short &= ~owned | (at_goal(in_any) >= seeing_arcsec)
    no_limit = replace(conditions, limiting_mag=_NO_LIMIT_MAG)
    overhead = replace(conditions, airmass=1.0, dispersion_along_arcsec=0.0)
    telling = np.broadcast_to(conditions.airmass, view.shape) ** AIRMASS_EXPONENT >= TELLING_AIR
    left_out = {
        Limit.COMPANION_TOO_FAINT: freed(no_limit, choice),
        Limit.POWER_TOO_LOW: freed(conditions, replace(choice, with_perfect_eye=True)) * short,
        Limit.ALTITUDE: freed(overhead, choice) * telling,
        Limit.GLARE: freed(conditions, replace(choice, without_glare=True)),
    }
    tonight = [f for f in left_out if f is not Limit.GLARE]
    cases = [now == SplitClass.CLEAN, *(left_out[f] >= seeing_arcsec for f in tonight)]
    cases += [
        at_goal(base) >= STEADY_NIGHT_ARCSEC,
        *(worst >= STEADY_NIGHT_ARCSEC for worst in left_out.values()),
    ]
    names = [Limit.NOTHING, *tonight, Limit.SEEING, *left_out]
    unit = tables.instrument.resolution_arcsec
    unequal = np.abs(np.subtract(pairs.v2, pairs.v1)) >= UNEQUAL_FROM_MAG
    unequal &= np.asarray(pairs.separation_arcsec) > CLOSE_UNITS * unit
    image = np.where(unequal, Limit.GLARE, Limit.RESOLUTION)
    found = np.select(cases, names, image).astype(np.int8)
    low = np.flatnonzero(~np.any(cases, axis=0) & telling)
    return _with_low_ones(tables, pairs, overhead, found, (low, goal[low]))


def _with_low_ones(
    tables: SplitTables,
    pairs: StarPairs,
    overhead: SplitConditions,
    found: Classes,
    asked: tuple[Integers, Integers],
) -> Classes:
    """Limits (P,), of rows asked for ALTITUDE where another view would do overhead.

    Low down the seeing bears little power, so the view chosen there is no measure.
    """
    rows, goal = asked
    if not rows.size:
        return found
    some = StudyPairs(
        *(np.asarray(column)[rows] for column in (pairs.separation_arcsec, pairs.v1, pairs.v2))
    )
    limits = np.broadcast_to(overhead.limiting_mag, (len(found), tables.powers.size))[rows]
    worst = limiting_seeing(tables, some, replace(overhead, limiting_mag=limits)).max(axis=1)
    there = np.take_along_axis(worst, goal[:, None] - 1, axis=1)[:, 0]
    found[rows[there >= STEADY_NIGHT_ARCSEC]] = Limit.ALTITUDE
    return found
