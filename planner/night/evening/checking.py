"""Checks an order that somebody edited against every rule that one of our own keeps."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from planner.night.evening.preparing import prepared
from planner.order.checker import Rule, faults

if TYPE_CHECKING:
    from planner.night.evening.order_file import FiledLook
    from planner.night.evening.request import EveningRequest


@dataclass(frozen=True, slots=True)
class OrderFault:
    """One breach: which entry of the file (from 1), its name, and the rule.

    ``earliest`` is when it could begin at the soonest, where it begins too soon. ``short_by`` are
    the minutes that it is shorter than a look takes; then there is no rule.
    """

    entry: int
    name: str
    rule: Rule | None
    earliest: dt.datetime | None = None
    short_by_min: int = 0


def order_faults(asked: EveningRequest, looks: tuple[FiledLook, ...]) -> tuple[OrderFault, ...]:
    """Every fault of the entries; breaks are taken as they stand."""
    targets = [(number, look) for number, look in enumerate(looks, start=1) if look.target_id]
    wanted = tuple(dict.fromkeys(look.target_id for _, look in targets))
    parts = prepared(replace(asked, must=wanted, breaks=()))
    session, problem = parts.session, parts.problem
    entries = [(look.target_id, session.minute(look.start)) for _, look in targets]
    found = [
        OrderFault(
            targets[fault.entry][0],
            targets[fault.entry][1].name,
            fault.rule,
            None if fault.earliest_minute is None else session.clock(fault.earliest_minute),
        )
        for fault in faults(problem, entries)
    ]
    for number, look in targets:
        if look.target_id in problem.ids:
            needed = int(problem.minutes[problem.ids.index(look.target_id)])
            short = needed - session.minute(look.end) + session.minute(look.start)
            if short > 0:
                found.append(OrderFault(number, look.name, None, short_by_min=short))
    return tuple(sorted(found, key=lambda fault: fault.entry))
