"""The order of a list: worth, less what many of the same sort before it take away."""

from __future__ import annotations

import heapq
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.night.judging import Judged

    Waiting = tuple[float, str, int, int, str]

KIND_COST = 0.9  # points for each target of the same kind before it; own judgement
NEIGHBOUR_COST = 2.0  # and for each of the same kind in the same constellation; own judgement
MOST_COST = 24.0  # at most, so that a long list stays in the order of worth; own judgement


@dataclass(frozen=True, slots=True)
class Entry:
    """One target of the list: its group and number there, and the points that variety took."""

    group: int
    number: int
    variety: float


def ranked(groups: list[Judged], include_all: bool) -> list[Entry]:
    """Every target listed: the shown ones by worth and variety, then the rest by worth.

    The worthiest first; then again and again the one that is worth most beside those chosen: the
    tenth open cluster in Auriga is worth less than the first of its kind. Equals go by their id,
    so that the order of the catalogs does not matter.
    """
    shown: list[Waiting] = []
    hidden: list[Waiting] = []
    for place, group in enumerate(groups):
        total = group.worth.total.tolist()
        for number, (is_shown, identifier) in enumerate(
            zip(group.shown.tolist(), group.ids.tolist(), strict=True)
        ):
            entry = (-total[number], identifier, place, number, str(group.sorts[number]))
            (shown if is_shown else hidden).append(entry)
    order = _varied(shown)
    if include_all:
        order += [Entry(place, number, 0.0) for _, _, place, number, _ in sorted(hidden)]
    return order


def _varied(waiting: list[Waiting]) -> list[Entry]:
    """Greedy choice; what variety takes only grows, so a stale place is simply looked at again."""
    heap = [(cost, identifier, place, number, sort, 0.0) for cost, identifier, place, number, sort
            in waiting]  # fmt: skip
    heapq.heapify(heap)
    kinds: Counter[str] = Counter()
    sorts: Counter[str] = Counter()
    order = []
    while heap:
        cost, identifier, place, number, sort, taken = heapq.heappop(heap)
        kind = sort.partition(" ")[0]
        now = min(KIND_COST * kinds[kind] + NEIGHBOUR_COST * sorts[sort], MOST_COST)
        if now > taken:
            again = (cost + now - taken, identifier, place, number, sort, now)
            heapq.heappush(heap, again)
            continue
        kinds[kind] += 1
        sorts[sort] += 1
        order.append(Entry(place, number, now))
    return order
