"""Which pairs belong to one star, and which of them stands for it in the list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]
    Texts = NDArray[np.object_]


@dataclass(frozen=True, slots=True, eq=False)
class Systems:
    """S targets of a list, made of N rows.

    ``rows`` (N,) holds the rows system by system, those of system s from ``starts`` (S + 1,)[s]
    on, the one that stands for it first.
    """

    rows: Ints
    starts: Ints

    def __len__(self) -> int:
        """Number of systems."""
        return len(self.starts) - 1

    @property
    def lead(self) -> Ints:
        """The row that stands for each system, (S,)."""
        return np.asarray(self.rows[self.starts[:-1]])

    def members(self, number: int) -> Ints:
        """The rows of one system, the leading one first."""
        return self.rows[self.starts[number] : self.starts[number + 1]]


def single_systems(count: int) -> Systems:
    """Every row a target of its own."""
    return Systems(np.arange(count), np.arange(count + 1))


def by_system(system_id: Texts, shown: Bools, chance: Bools, worth: Floats) -> Systems:
    """Pairs (N,) by the system they belong to.

    In front stands a shown pair before one that is not, a true one before one by chance, then
    the worthier; the others follow by worth.
    """
    _, system = np.unique(system_id, return_inverse=True)
    order = np.lexsort((-worth, chance, ~shown, system))
    first = np.ones(len(order), dtype=bool)
    first[1:] = system[order][1:] != system[order][:-1]
    behind = np.ones(len(order), dtype=bool)
    behind[order[first]] = False
    rows = np.lexsort((-worth, behind, system))
    return Systems(rows, np.append(np.flatnonzero(first), len(order)))
