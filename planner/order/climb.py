"""Local search: looks put in, left out and exchanged, short runs turned round, then kicks.

Every try is scored with the exact clock of ``planner.order.course``. Steps and kicks are counted
and not timed, and the kicks come from a fixed seed, so that every machine finds the same order.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.order.course import course_of, hopeful, replaced, with_each

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from planner.order.course import Clock, Course

    Rows = NDArray[np.intp]

WIDEST = 3  # looks that one look may replace; a setting of the search
LONGEST_RUN = 6  # looks that are turned round or shifted by one; a setting of the search
SWEEPS = 6  # at most in one climb; each but the last has found something
NEAR = 5  # looks on either side of a kick that are tried again; a setting of the search
KICKED = (2, 7)  # looks that a kick throws out: at least, and below; a setting of the search
MOST_KICKS, KICKED_LOOKS = 4, 150  # kicks, at most, and kicks times looks; settings of the search
SEED = 20


def climb(clock: Clock, course: Course, span: tuple[int, int] | None = None) -> Course:
    """Improve a course until a whole sweep over its places (all, or a span) finds nothing."""
    for _ in range(SWEEPS):
        first, last = span or (0, len(course))
        before = course.score
        course = _exchanged(clock, course, first, last)
        course = _turned(clock, course, first, last)
        if course.score <= before:
            break
    return course


def kicked(clock: Clock, course: Course) -> Course:
    """Throw out a few looks in a row, climb again near by, and keep what is better.

    The longer the course, the fewer the kicks: each is dearer there, and brings less.
    """
    random = np.random.default_rng(SEED)
    tried_before: set[tuple[tuple[int, ...], int, int]] = set()
    for _ in range(min(MOST_KICKS, KICKED_LOOKS // max(len(course), 1))):
        size = int(random.integers(*KICKED))
        first = int(random.integers(0, max(len(course) - size, 0) + 1))
        gone = set(course.rows[first : first + size])
        if not gone:
            break
        barred = int(random.choice(sorted(gone)))
        rest = course.rows[:first] + course.rows[first + size :]
        if (rest, first, barred) in tried_before:
            continue
        tried_before.add((rest, first, barred))
        tried = course_of(clock, rest, course)
        tried = _exchanged(clock, tried, first - 1, first + 1, barred)
        tried = climb(clock, tried, (first - NEAR, first + size + NEAR))
        if tried.score > course.score:
            course = tried
    return course


def _exchanged(
    clock: Clock, course: Course, first: int, last: int, barred: int | None = None
) -> Course:
    """One sweep: at each place nothing or one other look instead of none to three."""
    place = max(first, 0)
    while place <= min(last, len(course)):
        better = _best_exchange(clock, course, place, barred)
        if better is None:
            place += 1
        else:
            last += len(better) - len(course.rows)
            course = course_of(clock, better, course)
    return course


def _best_exchange(
    clock: Clock, course: Course, place: int, barred: int | None
) -> tuple[int, ...] | None:
    free = np.ones(len(clock), dtype=bool)
    free[list(course.rows)] = False
    if barred is not None:
        free[barred] = False
    others = np.flatnonzero(free)
    best, found = course.score, None
    for width in range(min(WIDEST, len(course) - place) + 1):
        head, tail = course.rows[:place], course.rows[place + width :]
        if width and (score := replaced(clock, course, place, place + width, ())) > best:
            best, found = score, head + tail
        if others.size:
            scores = with_each(clock, course, place, place + width, others)
            chosen = int(scores.argmax())
            if scores[chosen] > best:
                best, found = int(scores[chosen]), (*head, int(others[chosen]), *tail)
    return found


def _turned(clock: Clock, course: Course, first: int, last: int) -> Course:
    """One sweep: short runs turned round, or one look shifted along them."""
    for place in range(max(first, 0), min(last, len(course))):
        for run in _runs(course.rows[place : place + LONGEST_RUN]):
            after = place + len(run)
            if not hopeful(clock, course, place, run):
                continue
            if replaced(clock, course, place, after, run) > course.score:
                rows = course.rows[:place] + run + course.rows[after:]
                course = course_of(clock, rows, course)
                break
    return course


def _runs(rows: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """The beginnings of some rows in other orders."""
    for size in range(2, len(rows) + 1):
        run = rows[:size]
        yield run[::-1]
        if size > 2:
            yield (*run[1:], run[0])
            yield (run[-1], *run[:-1])
