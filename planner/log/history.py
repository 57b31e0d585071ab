"""What of a log counts: the last version of each look that nobody took back."""

from __future__ import annotations

from operator import attrgetter
from typing import TYPE_CHECKING, Protocol, TypeVar

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from planner.log.record import Record


class Version(Protocol):
    """One version of a look, or what takes one back."""

    @property
    def id(self) -> str: ...
    @property
    def at(self) -> dt.datetime: ...
    @property
    def replaces(self) -> str | None: ...
    @property
    def withdraws(self) -> bool: ...


V = TypeVar("V", bound=Version)


def standing(records: Sequence[V]) -> tuple[V, ...]:
    """The looks that count, by the moment of the look; ``records`` in the order of writing.

    Corrections form a family with the look they correct, from whichever machine; its last
    version counts that was not withdrawn. Where the latest was withdrawn, the one before it
    counts again.
    """
    if not any(record.replaces for record in records):  # the common case of a long log
        return tuple(sorted(records, key=attrgetter("at")))
    above = {record.id: record.replaces for record in records if not record.withdraws}
    last = {_root(record.id, above): record for record in not_withdrawn(records)}
    return tuple(sorted(last.values(), key=attrgetter("at")))


def _root(identifier: str, above: dict[str, str | None]) -> str:
    """The first look of a family of corrections; a circle, which only an editor makes, ends."""
    seen = {identifier}
    while (parent := above.get(identifier)) is not None and parent in above and parent not in seen:
        seen.add(parent)
        identifier = parent
    return identifier


def not_withdrawn(records: Sequence[V]) -> tuple[V, ...]:
    """All versions of looks that nobody took back, in the order of writing."""
    withdrawn = {record.replaces for record in records if record.withdraws}
    return tuple(r for r in records if not r.withdraws and r.id not in withdrawn)


def last_act(records: Sequence[Record]) -> tuple[Record, ...]:
    """What was written last and not taken back: one record, or a whole batch; empty for none."""
    left = not_withdrawn(records)
    if not left:
        return ()
    last = left[-1]
    if last.batch is None:
        return (last,)
    return tuple(record for record in left if record.batch == last.batch)
