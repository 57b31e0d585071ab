"""What is wrong with an edited order, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.order.checker import Rule
from planner.sheets.clock_words import clock

if TYPE_CHECKING:
    from planner.night.evening.checking import OrderFault

RULE_WORDS = {
    Rule.UNKNOWN: "is not shown tonight under these conditions, or is no target; take it out",
    Rule.TWICE: "stands twice; take one out",
    Rule.OUTSIDE_SESSION: "lies outside the hours of the evening; move it, or use --whole-night",
    Rule.OUTSIDE_WINDOW: "is not within reach all the time of its look; move it",
    Rule.TOO_SOON: "begins before the way there is made; not before {time}",
    Rule.NO_WAY: "cannot be reached from the one before",
}


def fault_words(fault: OrderFault) -> str:
    """One fault in one line: the entry's number and name, and the remedy."""
    where = f"entry {fault.entry}, {fault.name}"
    if fault.rule is None:
        return f"{where}: is {fault.short_by_min} minutes too short for a look; end it later"
    return f"{where}: {RULE_WORDS[fault.rule].format(time=clock(fault.earliest))}"
