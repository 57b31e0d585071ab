"""Prices of the candidates and the bound they give: the Lagrangian dual, climbed by subgradients.

Each candidate may be looked at once. Dropping that rule and taking a price at each visit instead,
the best walk plus the sum of the prices is never below any order (Fisher 1981, Management Science
27, 1, eq. 2; from memory). Prices that make it low also guide the search.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.order.terms import NOT, POSSIBLE, some_of
from planner.order.value_to_go import best_walk, value_to_go

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.order.terms import Terms
    from planner.order.value_to_go import ValueToGo

    Bools = NDArray[np.bool_]
    Ints = NDArray[np.int32]
    Rows = NDArray[np.intp]

STEPS, STEPS_OF_FEW, FEW = 12, 30, 30  # of the ascent; more for few candidates
AIMED_SHARE = 0.9  # of the best bound so far: what a step heads for; a setting of the search
LAST_SHARE = 0.1  # steps shrink to this share over the run; a setting of the search
SLACK = 600  # a candidate this far from paying anywhere is set aside; a setting of the search
MOST_IN_PLAY = 80  # the best of them; the final bound counts all; a setting of the search


@dataclass(frozen=True, slots=True, eq=False)
class Prices:
    """Prices (K,) of the candidates in play, ``rows`` (K,) of all; the rest have the price 0.

    ``to_go`` holds the terms of those in play; ``bound`` is that of these candidates alone.
    ``walk`` is the best walk at the prices, in rows of those in play.
    """

    rows: Rows
    to_go: ValueToGo
    bound: int
    walk: tuple[tuple[int, int], ...]


def first_prices(terms: Terms) -> tuple[Ints, int]:
    """Prices (N,) to begin with, and the worth of a minute in hundredths of a point.

    What a candidate brings at its peak beyond the worth of the minutes it takes, hop with it; the
    worth of a minute is that of the last candidate that fits in when the densest go first.
    """
    peak = terms.value.max(axis=1, initial=0) - _usual(terms.cost)
    taken = terms.minutes + _usual(terms.hop)
    density = peak / taken
    order = np.argsort(-density, kind="stable")
    fits = np.cumsum(taken[order]) <= terms.session_minutes
    least = float(terms.awake[-1]) / terms.session_minutes
    marginal = least if fits.all() else float(density[order[int(fits.sum())]])
    worth = max(marginal, least, 0.0)
    return np.maximum(0, np.round(peak - worth * taken)).astype(np.int32), round(worth)


def in_play(terms: Terms, minute_worth: int) -> Rows:
    """Rows of the candidates that may pay somewhere, the best of many; must-sees always."""
    cheapest = terms.cost.min(axis=(0, 1), initial=0)
    shortest = terms.hop.min(axis=(0, 1), initial=terms.session_minutes)
    gain = terms.value.max(axis=1, initial=0) - cheapest
    gain = gain - minute_worth * (terms.minutes + shortest)
    startable = (terms.value > POSSIBLE).any(axis=1)
    best = np.argsort(-np.where(startable, gain, NOT), kind="stable")[:MOST_IN_PLAY]
    among = np.zeros(len(terms), dtype=bool)
    among[best] = gain[best] > -SLACK
    return np.flatnonzero(startable & (among | terms.must))


def climbed(terms: Terms, musts: Bools, steps: int | None = None) -> Prices:
    """The best prices of some steps of the ascent.

    ``musts`` (N,) marks the must-sees that every order in question holds: theirs may fall below 0.
    """
    begin, minute_worth = first_prices(terms)
    rows = in_play(terms, minute_worth)
    some = some_of(terms, rows)
    price, free = begin[rows].astype(float), musts[rows]
    best: Prices | None = None
    steps = steps or (STEPS_OF_FEW if len(rows) <= FEW else STEPS)
    for number in range(steps):
        found = priced(some, rows, np.round(price).astype(np.int32))
        if best is None or found.bound < best.bound:
            best = found
        excess = np.bincount([row for row, _ in found.walk], minlength=len(rows)) - 1
        excess[(price <= 0.0) & ~free & (excess < 0)] = 0
        ahead = max(found.bound - AIMED_SHARE * best.bound, 0.0) / max(int((excess**2).sum()), 1)
        price += ahead * LAST_SHARE ** (number / max(steps - 1, 1)) * excess
        price = np.where(free, price, np.maximum(price, 0.0))
    assert best is not None
    return best


def priced(some: Terms, rows: Rows, price: Ints) -> Prices:
    """The value to go, the walk and the bound at given prices (K,)."""
    to_go = value_to_go(some, price)
    walk = tuple(best_walk(to_go))
    return Prices(rows, to_go, to_go.of_the_night + int(price.sum()), walk)


def bound_of_all(terms: Terms, prices: Prices) -> int:
    """The bound for every candidate, those set aside with the price 0."""
    price = np.zeros(len(terms), dtype=np.int32)
    price[prices.rows] = prices.to_go.price
    return value_to_go(terms, price).of_the_night + int(price.sum())


def _usual(table: Ints) -> Ints:
    """The median over all rows of a table (R, N + 1, N), possible ways alone: (N,)."""
    flat = np.sort(np.concatenate(list(table)), axis=0)
    return np.asarray(flat[(len(flat) - 1) // 2])
