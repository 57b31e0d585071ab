"""What was seen and when, by target: the little that a night's list wants of a long log."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from operator import attrgetter
from typing import TYPE_CHECKING

import msgspec

from planner.log.history import standing
from planner.log.outcome import FAILURES, Outcome
from planner.log.reading import lines_of, many_new_objects

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class Glance:
    """The few fields of a record that tell what was seen when."""

    id: str
    written: dt.datetime
    at: dt.datetime
    night: dt.date
    target: str
    outcome: Outcome | None = None
    replaces: str | None = None
    withdraws: bool = False


@dataclass(frozen=True, slots=True)
class Seen:
    """What the log has of one target: its looks, and how many of them were in vain.

    ``night`` and ``outcome`` are those of the last look that showed it, of the last in vain where
    none did; ``last_night`` and ``last_at`` are those of the very last look.
    """

    night: dt.date
    outcome: Outcome | None
    looks: int
    failures: int
    last_night: dt.date
    last_at: dt.datetime

    @property
    def showed(self) -> bool:
        """Whether any look showed it."""
        return self.failures < self.looks


_GLANCE = msgspec.json.Decoder(Glance)


def read_seen(folder: Path) -> Mapping[str, Seen]:
    """By target's id what the log in a folder has; damaged lines are left out in silence."""
    with many_new_objects():
        by_target: dict[str, list[Glance]] = {}
        for look in standing(_glances(folder)):
            by_target.setdefault(look.target, []).append(look)
        return {target: _seen(looks) for target, looks in by_target.items()}


def _glances(folder: Path) -> list[Glance]:
    """The glances of every whole line, in the order of writing, each id once."""
    found: dict[str, Glance] = {}
    decode = _GLANCE.decode
    for line in lines_of(folder):
        try:
            glance = decode(line)
        except (ValueError, RecursionError):
            continue
        if glance.at.tzinfo is not None and glance.written.tzinfo is not None:
            found.setdefault(glance.id, glance)
    return sorted(found.values(), key=attrgetter("written"))


def _seen(looks: list[Glance]) -> Seen:
    showing = [look for look in looks if look.outcome not in FAILURES]
    told, last = (showing or looks)[-1], looks[-1]
    return Seen(
        night=told.night,
        outcome=told.outcome,
        looks=len(looks),
        failures=len(looks) - len(showing),
        last_night=last.night,
        last_at=last.at,
    )
