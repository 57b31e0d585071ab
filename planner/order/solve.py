"""From a problem to an order: prices and bound, beam, climb; and anew when the night changes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import TYPE_CHECKING

import numpy as np

from planner.order.beam import beam_search
from planner.order.climb import climb, kicked
from planner.order.course import clock_of, course_of, possible_rows, start_minutes, with_each
from planner.order.prices import bound_of_all, climbed, in_play, priced
from planner.order.terms import POSSIBLE, some_of, terms_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.order.course import Clock, Course
    from planner.order.prices import Prices
    from planner.order.problem import Problem
    from planner.order.terms import Terms

    Ints = NDArray[np.int64]

KEEP_POINTS = 200  # hundredths, for each look that keeps the one before it; a setting of the search
NARROW = (6, 5)  # width and fan of the beam for an order made anew; settings of the search
UPSET_SHARE = 0.02  # of the old score: what an order made afresh has to bring; own judgement
MOST_BONUS = 400_000_000  # of all must-sees together, so that no sum leaves its range


class Unmet(Enum):
    """Why a must-see is not in the order."""

    NO_WINDOW = "it cannot be started at any minute, even alone"
    CONFLICT = "no order was found that holds it beside the other must-sees"


@dataclass(frozen=True, slots=True)
class Order:
    """An order of looks, (M,) each: ids, start and end minutes; scores in hundredths of a point.

    ``bound``: no order that holds as many must-sees scores more. ``unmet`` names each must-see
    that is not in the order. ``prices`` holds what each candidate's one look is worth to the
    night, for ``resolve``: a candidate left out would take more than it brings.
    """

    ids: tuple[str, ...]
    starts: tuple[int, ...]
    ends: tuple[int, ...]
    score: int
    bound: int
    idle_minutes: int
    unmet: dict[str, Unmet]
    prices: dict[str, int]

    @property
    def entries(self) -> list[tuple[str, int]]:
        """Ids and start minutes, as the checker takes them."""
        return list(zip(self.ids, self.starts, strict=True))


def solve(problem: Problem) -> Order:
    """A good order and its bound; the same on every machine, whatever the order of the rows."""
    terms = terms_of(problem)
    prices = climbed(terms, terms.must & _startable(terms))
    some = prices.to_go.terms
    clock = clock_of(some, _bonus(some))
    course = _best_course(clock, [beam_search(prices.to_go)])
    course = kicked(clock, course)
    return _order(terms, prices, clock, course, some)


def resolve(problem: Problem, old: Order) -> Order:
    """The order of a night that has changed, at the old prices, near the old order.

    ``problem`` begins now: minute 0 is this one, what is done or skipped is no candidate any more,
    and row N + 1 of its hops is where the observer stands. A look that comes after the same one
    as before is worth two more points to the search, so nothing is shuffled without gain.
    """
    terms = terms_of(problem)
    rows = {name: row for row, name in enumerate(terms.ids)}
    rest = [rows[name] for name in old.ids if name in rows]
    kept = replace(terms, cost=_kept_cost(terms, rest))
    known = np.array([old.prices.get(name, 0) for name in terms.ids], dtype=np.int32)
    play = np.union1d(in_play(terms, _minute_worth(old)), np.array(rest, dtype=np.intp))
    play = np.union1d(play, np.flatnonzero(known)).astype(np.intp)
    some = some_of(kept, play)
    prices = priced(some, play, known[play])
    clock = clock_of(some, _bonus(some))
    place = {row: number for number, row in enumerate(play.tolist())}
    course = _best_course(clock, [possible_rows(clock, [place[row] for row in rest])])
    other = _best_course(clock, [beam_search(prices.to_go, *NARROW)])
    worth_it = course.score + UPSET_SHARE * abs(old.score)
    course = other if other.score > worth_it else course
    return _order(terms, prices, clock, course, some_of(terms, play))


def _startable(terms: Terms) -> NDArray[np.bool_]:
    """Which candidates could be started at some minute, by the shortest way there is: (N,)."""
    way = terms.cost < -POSSIBLE
    never = terms.session_minutes + 1
    soonest = np.where(way, terms.hop, never).min(axis=1, initial=never)[terms.regime].T
    soon = np.arange(never)[None, :] >= soonest
    return np.asarray(((terms.value > POSSIBLE) & soon).any(axis=1))


def _bonus(terms: Terms) -> Ints:
    """A bonus (N,) for must-sees that outweighs every score."""
    best = np.maximum(terms.value.max(axis=1, initial=0), 0).astype(np.int64)
    dearest = np.where(terms.cost < -POSSIBLE, np.abs(terms.cost), 0).max(axis=(0, 1), initial=0)
    dearest = dearest + int(terms.posture_cost.max()) + KEEP_POINTS
    worst = np.maximum(-np.where(terms.value > POSSIBLE, terms.value, 0).min(axis=1, initial=0), 0)
    total = int((best + dearest + worst).sum()) + int(terms.awake[-1]) + 1
    return np.where(terms.must, min(total, MOST_BONUS // max(int(terms.must.sum()), 1)), 0)


def _best_course(clock: Clock, sequences: list[list[int]]) -> Course:
    """The best of the climbs from some sequences, and from the must-sees if one is wanting."""
    courses = [climb(clock, course_of(clock, rows)) for rows in sequences]
    must = np.flatnonzero(clock.terms.must)
    held = max(len(set(must.tolist()) & set(course.rows)) for course in courses)
    if held < len(must):
        alone = _inserted(clock, course_of(clock, ()), must)
        if len(alone) > held:
            courses.append(climb(clock, alone))
    return max(courses, key=lambda course: course.score)


def _inserted(clock: Clock, course: Course, others: NDArray[np.intp]) -> Course:
    """Each of some rows put in where it scores best, as long as one still fits."""
    while True:
        free = np.setdiff1d(others, np.array(course.rows, dtype=np.intp))
        if not free.size:
            return course
        scores = [with_each(clock, course, place, place, free) for place in range(len(course) + 1)]
        place, number = np.unravel_index(int(np.argmax(scores)), (len(scores), len(free)))
        rows = (*course.rows[:place], int(free[number]), *course.rows[place:])
        better = course_of(clock, rows, course)
        if better.score <= course.score:
            return course
        course = better


def _kept_cost(terms: Terms, rest: list[int]) -> NDArray[np.int32]:
    """The costs, with the points for each look that follows the same one as before."""
    cost = terms.cost.copy()
    for before, row in zip([len(terms), *rest[:-1]], rest, strict=True):
        way = cost[:, before, row] < -POSSIBLE
        cost[way, before, row] -= KEEP_POINTS
    return cost


def _minute_worth(old: Order) -> int:
    """What a minute was worth in an order, looks and waiting together."""
    return max(old.score, 0) // max(old.ends[-1] if old.ends else 1, 1)


def _order(terms: Terms, prices: Prices, clock: Clock, course: Course, some: Terms) -> Order:
    """The order of a course; ``some`` are the clock's terms without the points for keeping."""
    starts = start_minutes(clock, course)
    plain = clock_of(some, np.zeros(len(some), dtype=np.int64))
    score, idle, last, left = -int(terms.awake[0]), 0, len(some), 0
    posture = int(some.posture[last, 0])
    for row, start in zip(course.rows, starts, strict=True):
        regime = some.regime[start]
        score += int(plain.value[row, start]) - int(plain.cost[regime, last, row])
        score -= int(some.posture_cost[posture, some.posture[row, start]])
        idle += start - left - int(some.hop[regime, last, row])
        last, left = row, start + int(some.minutes[row])
        posture = int(some.posture[row, left])
    score -= int(terms.awake[left])
    held = {some.ids[row] for row in course.rows}
    must = np.flatnonzero(terms.must).tolist()
    startable = _startable(terms)
    unmet = {
        terms.ids[row]: Unmet.CONFLICT if startable[row] else Unmet.NO_WINDOW
        for row in must
        if terms.ids[row] not in held
    }
    conflict = Unmet.CONFLICT in unmet.values()
    return Order(
        ids=tuple(some.ids[row] for row in course.rows),
        starts=tuple(starts),
        ends=tuple(
            start + int(some.minutes[row]) for row, start in zip(course.rows, starts, strict=True)
        ),
        score=score,
        bound=_bound(terms, prices, free=not conflict),
        idle_minutes=idle,
        unmet=unmet,
        prices={some.ids[row]: int(price) for row, price in enumerate(prices.to_go.price) if price},
    )


def _bound(terms: Terms, prices: Prices, free: bool) -> int:
    """The bound for all candidates; where must-sees may be missing, no price is below 0."""
    if not free:
        price = np.maximum(prices.to_go.price, 0).astype(np.int32)
        prices = replace(prices, to_go=replace(prices.to_go, price=price))
    return bound_of_all(terms, prices)
