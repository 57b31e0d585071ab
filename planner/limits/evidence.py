"""Looks as the models see them: each judged anew over a grid of settings, with today's models."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.limits.chances import COMPANION_SPREAD_MAG, OBJECT_SPREAD_MAG, STEP_MAGS
from planner.log.outcome import outcomes_of
from planner.targets.kind import Kind
from planner.verdict.pairs.cache import cached_split_tables
from planner.verdict.pairs.criteria import CLASS_COUNT, CRITERIA
from planner.verdict.pairs.judge import split_instrument, zenith_limits_mag
from planner.verdict.pairs.lookup import (
    SplitConditions,
    StudyPairs,
    ViewChoice,
    limiting_seeing,
    limiting_seeing_in,
)

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from planner.log.record import Record
    from planner.optics.view import View
    from planner.verdict.pairs.tables import SplitTables
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

TILT_NODES = (0.7, 0.85, 1.0)  # the middle one is the default: tables that a night has kept
HANDICAP_NODES = tuple(np.linspace(-2.0, 2.0, 9).tolist())
NEVER_ARCSEC = 0.3  # own judgement; a class that is never reached asks for this seeing
NO_LIMIT_MAG = 99.0  # the faintness is a chance of its own, no hard cut
USUAL_AIRMASS = 1.3
AS_MEANT = 0.12  # a magnification so near that of a view, as a share, means that view
REPEAT = 2.0  # own judgement; n looks at one target count as n / (1 + (n - 1) / 2)


@dataclass(frozen=True, slots=True, eq=False)
class Instrument:
    """Setup, views, and the split tables at each of ``TILT_NODES``."""

    setup: Setup
    views: tuple[View, ...]
    tables: tuple[SplitTables, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Looks:
    """N looks at targets, without their outcomes; arrays (N, ...), C = 4 steps.

    ``log_worst`` (N, A, H, C): ln of the worst zenith seeing over the nodes of motion followed
    and handicap, doubles only. ``room_mag`` (N, C): magnitudes in hand beyond each step, minus
    infinity for a step that the kind lacks. ``count`` (N,): outcomes of the kind.
    """

    is_pair: NDArray[np.bool_]
    log_worst: Floats
    room_mag: Floats
    spread_mag: Floats
    count: Ints

    def rows(self, index: Ints | NDArray[np.bool_]) -> Looks:
        """Some of them."""
        return Looks(
            self.is_pair[index], self.log_worst[index], self.room_mag[index],
            self.spread_mag[index], self.count[index],
        )  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Evidence:
    """N looks with what was seen: ``outcome`` (N,) from 0, ``night`` (N,) a number from 0.

    ``weight`` (N,) lets looks at one target count less than so many targets;
    ``log_written`` (nights,): ln of the seeing written down, NaN for none.
    """

    looks: Looks
    outcome: Ints
    night: Ints
    weight: Floats
    log_written: Floats

    def __len__(self) -> int:
        return len(self.outcome)


def instrument_at(setup: Setup, views: Sequence[View], cache_folder: Path | None) -> Instrument:
    """The instrument with its tables, from the folder or built there."""
    powers = [view.magnification for view in views]
    pupils = [view.exit_pupil_mm for view in views]
    tables = []
    for tilt in TILT_NODES:
        at_node = replace(setup, settings=replace(setup.settings, tilt_followed=tilt))
        tables.append(cached_split_tables(cache_folder, split_instrument(at_node), powers, pupils))
    return Instrument(setup, tuple(views), tuple(tables))


def usable(records: Sequence[Record], setup: Setup, site: str) -> tuple[Record, ...]:
    """The looks through this telescope, at this site, by this observer, that can teach.

    Of a double those that know its pair, of others those with a promise in magnitudes.
    """
    names = (setup.telescope.name, site, setup.observer.name)
    return tuple(
        record
        for record in records
        if record.outcome is not None
        and all(
            own in ("", name)
            for own, name in zip(
                (record.telescope, record.site, record.observer), names, strict=True
            )
        )
        and (record.pair is not None if record.kind is Kind.DOUBLE else _promised(record))
    )


def _promised(record: Record) -> bool:
    solar = record.kind in (Kind.PLANET, Kind.MOON)
    return not solar and record.said is not None and record.said.margin_mag is not None


def evidence_of(records: Sequence[Record], instrument: Instrument) -> Evidence:
    """Usable records as evidence, in the order of nights and then of targets."""
    ordered = sorted(records, key=lambda r: (r.night, r.target, str(r.outcome), r.id))
    nights = sorted({record.night for record in ordered})
    number = {night: n for n, night in enumerate(nights)}
    times: dict[str, int] = {}
    for record in ordered:
        times[record.target] = times.get(record.target, 0) + 1
    outcome = [outcomes_of(r.kind).index(r.outcome) for r in ordered if r.outcome is not None]
    written: list[list[float]] = [[] for _ in nights]
    for record in ordered:
        if record.seeing_arcsec is not None:
            written[number[record.night]].append(np.log(record.seeing_arcsec))
    return Evidence(
        looks=looks_at(ordered, instrument),
        outcome=np.array(outcome, dtype=np.intp),
        night=np.array([number[r.night] for r in ordered], dtype=np.intp),
        weight=np.array([1.0 / (1.0 + (times[r.target] - 1) / REPEAT) for r in ordered]),
        log_written=np.array([np.median(w) if w else np.nan for w in written], dtype=float),
    )


def looks_at(
    records: Sequence[Record], instrument: Instrument, separation_share: float = 1.0
) -> Looks:
    """Records (N,) through the models; ``separation_share`` widens or narrows every pair."""
    count = len(records)
    is_pair = np.array([r.pair is not None for r in records], dtype=bool)
    shape = (count, len(TILT_NODES), len(HANDICAP_NODES), CLASS_COUNT)
    log_worst, room = np.zeros(shape), np.full((count, CLASS_COUNT), -np.inf)
    doubles = [r for r in records if r.pair is not None]
    if doubles:
        log_worst[is_pair], room[is_pair] = _pairs(doubles, instrument, separation_share)
    factor = instrument.setup.observer.field_factor
    for row, record in enumerate(records):
        if record.pair is None and record.said is not None and record.said.margin_mag is not None:
            then = record.said.settings.get("field_factor", factor)
            margin = record.said.margin_mag + 2.5 * np.log10(then / factor)
            room[row, : len(STEP_MAGS)] = margin - np.array(STEP_MAGS)
    star = np.array([r.kind is Kind.RED_STAR or r.pair is not None for r in records], dtype=bool)
    return Looks(
        is_pair=is_pair,
        log_worst=log_worst,
        room_mag=room,
        spread_mag=np.where(star, COMPANION_SPREAD_MAG, OBJECT_SPREAD_MAG),
        count=np.array([len(outcomes_of(r.kind)) for r in records], dtype=np.intp),
    )


def _pairs(
    records: Sequence[Record], instrument: Instrument, separation_share: float
) -> tuple[Floats, Floats]:
    """ln worst seeing (N, A, H, C) and the companion's magnitudes in hand (N, C)."""
    setup, views = instrument.setup, instrument.views
    known = [r.pair for r in records if r.pair is not None]
    pairs = StudyPairs(
        separation_share * np.array([p.separation_arcsec for p in known]),
        np.array([p.v1 for p in known]),
        np.array([p.v2 for p in known]),
    )
    path = np.array([r.airmass or USUAL_AIRMASS for r in records])
    sky = np.array([r.sky_mag or (r.said.sky_mag if r.said else setup.zenith_sky_mag)
                    for r in records])  # fmt: skip
    conditions = SplitConditions(path, setup.extinction_mag, np.full(len(views), NO_LIMIT_MAG))
    view = _views(records, instrument, pairs, conditions)
    worst = np.stack(
        [
            np.stack(
                [
                    limiting_seeing_in(
                        tables, pairs, replace(conditions, companion_handicap_mag=handicap),
                        ViewChoice(view),
                    )
                    for handicap in HANDICAP_NODES
                ],
                axis=1,
            )
            for tables in instrument.tables
        ],
        axis=1,
    )  # fmt: skip
    limit = zenith_limits_mag(setup, np.array([v.exit_pupil_mm for v in views]), sky)
    faint = np.maximum(pairs.v1, pairs.v2) + setup.extinction_mag * (path - 1.0)
    asked = np.array([criterion.margin_mag for criterion in CRITERIA.values()])
    spare = limit[np.arange(len(view)), view] - faint
    return np.log(np.maximum(worst, NEVER_ARCSEC)), spare[:, None] - asked


def _views(
    records: Sequence[Record],
    instrument: Instrument,
    pairs: StudyPairs,
    conditions: SplitConditions,
) -> Ints:
    """The view of each look: by its magnification, else the one that does best."""
    powers = np.array([view.magnification for view in instrument.views])
    worst = limiting_seeing(instrument.tables[1], pairs, conditions).sum(axis=2)
    best = np.argmax(worst, axis=1)
    for row, record in enumerate(records):
        if record.magnification is not None:
            away = np.abs(powers / record.magnification - 1.0)
            if away.min() <= AS_MEANT:
                best[row] = np.argmin(away)
    return np.asarray(best, dtype=np.intp)
