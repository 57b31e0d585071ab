"""The order in which chosen targets are printed."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from sample_nights import plan

from planner.ephemeris.moments import seconds_between
from planner.night.plan import PlannedTarget
from planner.sheets.listing import Order, listing


def test_by_worth_is_the_plan_itself() -> None:
    """Ranks from one."""
    assert listing(plan(), Order.WORTH) == tuple(enumerate(plan().targets, start=1))


def test_by_time_the_night_runs_one_way_over_a_clock_change() -> None:
    """Germany sets its clocks back on 25 October 2026 at 3 h: clock times come twice."""
    whole = plan("Lindenhof", "2026-10-24", limit=None)
    times = [target.best_time for _, target in listing(whole, Order.TIME)]
    steps = [
        seconds_between(before, after)
        for before, after in zip(times, times[1:], strict=False)
        if before is not None and after is not None
    ]
    assert len(steps) > 1000
    assert min(steps) >= 0.0
    clocks = [moment.strftime("%m-%d %H:%M") for moment in times if moment is not None]
    assert clocks != sorted(clocks)


_START = datetime(2026, 5, 14, 20, 0, tzinfo=UTC)
_minutes = st.integers(0, 6)


def _target(name: str, best: int, lasts: int) -> PlannedTarget:
    first = plan().targets[0]
    moment = _START + timedelta(minutes=5 * best)
    end = moment + timedelta(minutes=5 * lasts)
    return replace(first, id=name, best_time=moment, window_end=end)


@settings(deadline=None, max_examples=60)
@given(st.lists(st.tuples(_minutes, _minutes), min_size=1, max_size=12))
def test_by_time_what_is_lost_first_comes_first(nights: list[tuple[int, int]]) -> None:
    """Best time, then the end of the window, then worth; nothing lost, every rank kept."""
    targets = tuple(_target(str(i), *night) for i, night in enumerate(nights))
    found = listing(replace(plan(), targets=targets), Order.TIME)
    keys = [(target.best_time, target.window_end, rank) for rank, target in found]
    assert keys == sorted(keys)  # type: ignore[type-var]
    assert sorted(rank for rank, _ in found) == list(range(1, len(targets) + 1))
    assert all(targets[rank - 1] is target for rank, target in found)


def test_what_is_not_usable_comes_last() -> None:
    """In the order of worth."""
    whole = plan(constellation="Cet", include_all=True, limit=None)
    found = listing(whole, Order.TIME)
    unusable = [rank for rank, target in found if target.best_time is None]
    assert len(unusable) > 5
    assert [rank for rank, _ in found[-len(unusable) :]] == unusable == sorted(unusable)
