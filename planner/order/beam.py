"""The guided beam: forward over the minutes, the most promising few kept at each of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.order.terms import POSSIBLE
from planner.order.value_to_go import onward

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.order.value_to_go import ValueToGo

    Rows = NDArray[np.intp]

WIDTH = 16  # labels kept at each minute; a setting of the search
FAN = 8  # next looks tried from each; a setting of the search


@dataclass(frozen=True, slots=True, eq=False)
class _Labels:
    """L beginnings of an order, all left at one minute.

    row (L,) left last; value (L,) so far, less the prices of what is in it; seen (L, N); number
    (L,) in the record of all labels.
    """

    row: Rows
    value: NDArray[np.int64]
    seen: NDArray[np.bool_]
    number: Rows


class _Record:
    """Every label that was kept: its row, and the number of the one before it."""

    def __init__(self, start_row: int) -> None:
        self.rows = [start_row]
        self.before = [-1]

    def add(self, rows: Rows, before: Rows) -> Rows:
        """Numbers of new labels."""
        first = len(self.rows)
        self.rows += rows.tolist()
        self.before += before.tolist()
        return np.arange(first, len(self.rows))

    def sequence(self, number: int) -> list[int]:
        """The rows of a label from the start on."""
        found = []
        while self.before[number] >= 0:
            found.append(self.rows[number])
            number = self.before[number]
        return found[::-1]


def beam_search(to_go: ValueToGo, width: int = WIDTH, fan: int = FAN) -> list[int]:
    """A good sequence of rows, each at most once; the value to go at its prices is the guide.

    The guide never falls below what can still come, so labels of one minute compare fairly.
    """
    terms = to_go.terms
    n, t = len(terms), terms.session_minutes
    record = _Record(n)
    waiting: dict[int, list[_Labels]] = {
        0: [_Labels(np.array([n]), np.zeros(1, np.int64), np.zeros((1, n), bool), np.array([0]))]
    }
    best, best_number = 0, 0
    for minute in range(t + 1):
        labels = _kept(to_go, waiting.pop(minute, []), minute, width)
        if labels is None:
            continue
        number = record.add(labels.row, labels.number) if minute else labels.number
        paid = labels.value + labels.seen @ to_go.price.astype(np.int64) - int(terms.awake[minute])
        first = int(paid.argmax())
        if paid[first] > best:
            best, best_number = int(paid[first]), int(number[first])
        _spread(to_go, labels, number, minute, fan, waiting)
    return record.sequence(best_number)


def _kept(to_go: ValueToGo, parts: list[_Labels], minute: int, width: int) -> _Labels | None:
    """The best labels of a minute, without those that another one makes needless."""
    if not parts:
        return None
    row = np.concatenate([part.row for part in parts])
    value = np.concatenate([part.value for part in parts])
    guide = value + to_go.leaving[row, minute]
    first = np.argsort(-guide, kind="stable")[: 2 * width]
    row, value = row[first], value[first]
    seen = np.concatenate([part.seen for part in parts])[first]
    number = np.concatenate([part.number for part in parts])[first]
    seen_as_number = seen.astype(np.float32)
    shared = seen_as_number @ seen_as_number.T
    count = np.diag(shared)
    # a needs no place beside b: same last look, all b saw a saw too, and b is no worse
    needless = (row[:, None] == row) & (shared == count) & (value[:, None] <= value)
    needless &= np.tri(len(row), k=-1, dtype=bool) | (value[:, None] < value)
    keep = np.flatnonzero(~needless.any(axis=1))[:width]
    return _Labels(row[keep], value[keep], seen[keep], number[keep])


def _spread(
    to_go: ValueToGo,
    labels: _Labels,
    number: Rows,
    minute: int,
    fan: int,
    waiting: dict[int, list[_Labels]],
) -> None:
    """Put the most promising next looks of each label where they are left."""
    terms = to_go.terms
    best, start = onward(to_go, minute, labels.row)
    best = np.where(labels.seen, POSSIBLE, best)
    fan = min(fan, len(terms))
    tried = np.argsort(-best, axis=1, kind="stable")[:, :fan]
    gain = np.take_along_axis(best, tried, axis=1)
    parent, place = np.nonzero(gain > POSSIBLE)
    row = tried[parent, place]
    left = start[parent, row] + terms.minutes[row]
    value = labels.value[parent] + gain[parent, place] - to_go.leaving[row, left]
    for end in np.unique(left).tolist():
        some = np.flatnonzero(left == end)
        seen = labels.seen[parent[some]].copy()
        seen[np.arange(len(some)), row[some]] = True
        waiting.setdefault(end, []).append(
            _Labels(row[some], value[some], seen, number[parent[some]])
        )
