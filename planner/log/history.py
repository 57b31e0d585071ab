"""What of a log counts: the last version of each look that nobody took back."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.log.record import Record


def standing(records: Sequence[Record]) -> tuple[Record, ...]:
    """The looks that count, by the moment of the look; ``records`` in the order of writing.

    Corrections form a family with the look they correct, from whichever machine; its last
    version counts that was not withdrawn. Where the latest was withdrawn, the one before it
    counts again.
    """
    withdrawn = {record.replaces for record in records if record.withdraws}
    above = {record.id: record.replaces for record in records if not record.withdraws}
    last: dict[str, Record] = {}
    for record in records:
        if not record.withdraws and record.id not in withdrawn:
            last[_root(record.id, above)] = record
    return tuple(sorted(last.values(), key=lambda record: record.at))


def _root(identifier: str, above: dict[str, str | None]) -> str:
    """The first look of a family of corrections; a circle, which only an editor makes, ends."""
    seen = {identifier}
    while (parent := above.get(identifier)) is not None and parent in above and parent not in seen:
        seen.add(parent)
        identifier = parent
    return identifier


def last_act(records: Sequence[Record]) -> tuple[Record, ...]:
    """What was written last and not taken back: one record, or a whole batch; empty for none."""
    withdrawn = {record.replaces for record in records if record.withdraws}
    left = [r for r in records if not r.withdraws and r.id not in withdrawn]
    if not left:
        return ()
    last = left[-1]
    if last.batch is None:
        return (last,)
    return tuple(record for record in left if record.batch == last.batch)
