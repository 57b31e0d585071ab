"""Looks that nobody expected, better or worse, each with its likeliest reason."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.limits.evidence import evidence_of, looks_at
from planner.limits.foretelling import foretold, nights_seeing, thinned
from planner.limits.likelihood import outcome_chances
from planner.limits.priors import Own

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.limits.evidence import Evidence, Instrument
    from planner.limits.fitting import Fit
    from planner.log.record import Record

    Floats = NDArray[np.float64]

SELDOM = 0.1  # own judgement; chance of so good or so poor a look from which it is a surprise
EXPLAINS = 0.25  # own judgement; chance that a reason must lift it to
SEPARATION_SHARES = (0.8, 0.9, 1.1, 1.25)  # of the catalog's: what a pair may have moved by
AWAY = 0.1  # own judgement; of ln seeing: a night other than usual


class Reason(Enum):
    """The likeliest reason of a surprise."""

    NIGHT = auto()  # the seeing of that night, by its other looks and what was written
    SEPARATION = auto()  # the pair may have moved since it was measured
    SKY = auto()  # a sky or an eye other than assumed
    NONE = auto()  # the wrong star, a slip of the pen


@dataclass(frozen=True, slots=True)
class Surprise:
    """One such look: ``chance`` of one so good or so poor, ``expected`` the likeliest outcome.

    ``seeing_arcsec`` is that of the night without this look, ``separation_arcsec`` the one that
    would explain it; None where that is not the reason.
    """

    record: Record
    better: bool
    chance: float
    expected: int
    reason: Reason
    seeing_arcsec: float | None = None
    separation_arcsec: float | None = None


def surprises(
    records: Sequence[Record], evidence: Evidence, fit: Fit, instrument: Instrument
) -> tuple[Surprise, ...]:
    """The surprises among usable records, the least likely first."""
    ordered = sorted(records, key=lambda r: (r.night, r.target, str(r.outcome), r.id))
    chance = foretold(evidence.looks, thinned(fit)).mean(axis=0)
    found = []
    for row in range(len(ordered)):
        better, tail = _tail(chance[row], int(evidence.outcome[row]))
        if tail < SELDOM:
            likeliest = int(np.argmax(chance[row]))
            known = Surprise(ordered[row], better, tail, likeliest, Reason.NONE)
            found.append(_explained(known, ordered, instrument, fit))
    return tuple(sorted(found, key=lambda one: one.chance))


def _tail(chance: Floats, outcome: int) -> tuple[bool, float]:
    """Whether it was better than expected, and the chance of one so good or so poor."""
    above, below = float(chance[outcome:].sum()), float(chance[: outcome + 1].sum())
    return above < below, min(above, below)


def _explained(
    one: Surprise, records: Sequence[Record], instrument: Instrument, fit: Fit
) -> Surprise:
    """The same with its likeliest reason."""
    if one.record.pair is None:
        return replace(one, reason=Reason.SKY)
    own = fit.middle
    others = [r for r in records if r.night == one.record.night and r.id != one.record.id]
    alone = evidence_of([one.record], instrument)
    outcome = int(alone.outcome[0])
    usual = own[Own.SEEING]
    night = usual
    same_night = evidence_of(others, instrument)
    if len(same_night) or one.record.seeing_arcsec is not None:
        night = _seeing_of(one.record, same_night, own)
    chance = outcome_chances(alone.looks, own[None], np.full((1, 1), night))
    tail = _chance_of_tail(chance, one, outcome)
    told = abs(night - usual) >= AWAY and (night < usual) == one.better
    if told and tail >= EXPLAINS:
        return replace(one, reason=Reason.NIGHT, seeing_arcsec=float(np.exp(night)))
    for share in sorted(SEPARATION_SHARES, key=lambda s: abs(s - 1.0)):
        if (share > 1.0) == one.better:
            looks = looks_at([one.record], instrument, share)
            moved = outcome_chances(looks, own[None], np.full((1, 1), night))
            if _chance_of_tail(moved, one, outcome) >= EXPLAINS:
                wide = share * one.record.pair.separation_arcsec
                return replace(one, reason=Reason.SEPARATION, separation_arcsec=wide)
    return one


def _seeing_of(record: Record, same_night: Evidence, own: Floats) -> float:
    """ln seeing of a look's night, from what was written then, else from its other looks."""
    if record.seeing_arcsec is not None:
        return float(np.log(record.seeing_arcsec))
    return float(nights_seeing(same_night, own)[0])


def _chance_of_tail(chance: Floats, one: Surprise, outcome: int) -> float:
    values = chance.reshape(-1)
    return float(values[outcome:].sum() if one.better else values[: outcome + 1].sum())
