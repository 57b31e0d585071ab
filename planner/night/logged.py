"""What a record of the log holds of the night: the view, the pair as it stood, the promise."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.importers.library import load_all_pairs
from planner.log.outcome import OTHER_OUTCOMES, PAIR_OUTCOMES, Outcome
from planner.log.record import LoggedPair, Promise, Record
from planner.night.single_target import plan_single
from planner.sky.airmass import airmass
from planner.verdict.pairs.cache import model_digest
from planner.verdict.steps import Step
from planner.verdict.verdicts import MarginUnit

if TYPE_CHECKING:
    import datetime as dt

    from planner.night.margin_curve import MarginCurve
    from planner.night.plan import DoubleDetail, PlannedTarget
    from planner.night.request import Request

DIGEST_KEPT = 12  # characters that tell one edition of the models from another


@dataclass(frozen=True, slots=True)
class Expected:
    """One target as the planner judged it for a night, and its course through that night."""

    target: PlannedTarget
    curve: MarginCurve


def expected(request: Request) -> dict[str, Expected]:
    """The targets of ``request.only`` by id, each judged at its best time, shown or not.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
    """
    plan, curves = plan_single(request)
    pairs = zip(plan.targets, curves, strict=True)
    return {target.id: Expected(target, curve) for target, curve in pairs}


def plain_record(request: Request, found: Expected, at: dt.datetime, now: dt.datetime) -> Record:
    """The record of a look at ``at`` (aware), still without a word on how the target looked.

    ``now`` is the moment of writing (UTC).
    """
    target = found.target
    return Record(
        id=str(uuid.uuid4()),
        written=now,
        at=at,
        night=request.date,
        target=target.id,
        name=target.name,
        kind=target.kind,
        site=request.site.name,
        telescope=request.telescope.name,
        observer=request.observer.name,
        clear_aperture_mm=round(request.telescope.clear_aperture_mm, 1),
        airmass=_airmass_at(found.curve, at),
        pair=None if target.double is None else _pair(request, target, target.double),
        said=_promise(request, target),
    )


def _airmass_at(curve: MarginCurve, at: dt.datetime) -> float | None:
    """Airmass at the moment of the night nearest to the look; None below the horizon."""
    away = np.array([abs((moment - at).total_seconds()) for moment in curve.instants])
    altitude = float(curve.altitude_deg[int(np.argmin(away))])
    return round(float(airmass(altitude)), 3) if altitude > 0.0 else None


def _pair(request: Request, target: PlannedTarget, double: DoubleDetail) -> LoggedPair:
    pairs = load_all_pairs(request.library_folder)
    own = np.flatnonzero(pairs.system_id == target.id)
    named = [row for row in own if (str(pairs.components[row]) or "AB") == double.components]
    angle = double.position_angle_deg
    return LoggedPair(
        id=str(pairs.pair_id[named[0]]) if named else target.id,
        components=double.components,
        separation_arcsec=round(double.separation_arcsec, 3),
        position_angle_deg=None if angle is None else round(angle, 1),
        v1=round(double.magnitudes[0], 2),
        v2=round(double.magnitudes[1], 2),
    )


def promised_outcome(target: PlannedTarget) -> Outcome | None:
    """The verdict in the words of the log; None where there was none that night."""
    if target.unusable is not None or target.step is Step.UNKNOWN:
        return None
    if target.double is not None:
        return PAIR_OUTCOMES[int(target.double.split_class)]
    return OTHER_OUTCOMES[int(target.step)]


def _promise(request: Request, target: PlannedTarget) -> Promise:
    worst, margin = None, None
    double = target.double
    if double is not None and double.limiting_seeing_arcsec is not None:
        elongated, notched, just, clean = (round(w, 3) for w in double.limiting_seeing_arcsec)
        worst = (elongated, notched, just, clean)
    if target.margin is not None and target.margin_unit is MarginUnit.MAGNITUDES:
        margin = round(target.margin, 3) if np.isfinite(target.margin) else None
    settings = request.setup.settings
    return Promise(
        outcome=promised_outcome(target),
        worst_seeing_arcsec=worst,
        margin_mag=margin,
        seeing_arcsec=request.seeing_arcsec,
        sky_mag=request.zenith_sky_mag,
        settings={
            "tilt_followed": settings.tilt_followed,
            "companion_handicap_mag": settings.companion_handicap_mag,
            "field_factor": round(request.observer.field_factor, 4),
        },
        model=model_digest()[:DIGEST_KEPT],
    )
