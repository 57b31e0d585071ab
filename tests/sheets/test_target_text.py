"""The page of one target: its course through the night as a table with a curve of marks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from sample_nights import request

from planner.night.single_target import plan_single
from planner.sheets.target_text import target_text

MARK_TOLERANCE = 1.0  # half a mark, and the rounding of the margin printed
NGC_6205 = frozenset({"NGC 6205"})


def rows_of(text: str) -> list[str]:
    """The lines of the course."""
    return [line for line in text.splitlines() if line[2:3] == ":"]


def test_marks_are_longest_where_the_margin_is_largest() -> None:
    """The curve of marks is the margin drawn."""
    plan, courses = plan_single(request(only=NGC_6205))
    rows = rows_of(target_text(plan, courses, {}, course=True))
    margins = [float(row.split()[4]) for row in rows if "#" in row]
    marks = [row.count("#") for row in rows if "#" in row]
    assert len(marks) > 8
    assert max(marks) == 24
    drawn = 24.0 * np.array(margins) / max(margins)
    assert np.abs(np.array(marks) - drawn).max() <= MARK_TOLERANCE


def test_a_little_margin_is_a_short_curve() -> None:
    """The whole width is at least one magnitude or arcsecond; what is below the limit is blank."""
    plan, (course,) = plan_single(request(only=NGC_6205))
    little = replace(
        course, margin=np.where(course.usable, 0.1, -0.1), usable=np.ones_like(course.usable)
    )
    rows = rows_of(target_text(plan, (little,), {}, course=True))
    marks = {row.split()[4]: row.count("#") for row in rows}
    assert marks == {"+0.1": 2, "-0.1": 0}
    assert "." not in "".join(row.split("-0.1")[1] for row in rows if "-0.1" in row)
    assert "blank = no margin" in target_text(plan, (little,), {}, course=True)


def test_moments_that_cannot_be_used_are_dotted() -> None:
    """Too low for the least altitude: dots instead of marks."""
    plan, courses = plan_single(request(only=NGC_6205, least_altitude_deg=60.0))
    rows = rows_of(target_text(plan, courses, {}, course=True))
    for row in rows:
        altitude = float(row.split()[1].rstrip("°"))
        if altitude < 59.0:
            assert "#" not in row


def test_a_target_below_the_horizon_all_night_has_no_table() -> None:
    """Only the reason."""
    found = request(only=frozenset({"NGC 104"}))  # 47 Tuc, 72 S
    plan, courses = plan_single(found)
    text = target_text(plan, courses, {}, course=True)
    assert rows_of(text) == []
    assert "below the horizon" in text


def test_the_margin_at_the_best_time_is_that_of_the_list() -> None:
    """Table and verdict come from one calculation."""
    plan, courses = plan_single(request(only=NGC_6205))
    (target,), (course,) = plan.targets, courses
    assert target.best_time is not None and target.margin is not None
    best = course.instants.index(target.best_time)
    assert course.margin[best] == np.float64(target.margin)
    assert course.altitude_deg[best] == target.altitude_deg
    assert course.usable[best]


def test_text_of_an_unshown_target_says_so() -> None:
    """Under a bright sky with little aperture."""
    faint = request(only=frozenset({"NGC 6207"}), zenith_sky_mag=17.0)
    plan, courses = plan_single(replace(faint))
    assert "not shown tonight" in target_text(plan, courses, {}, course=True)


@pytest.mark.parametrize("source", ["Gaia DR3", "from memory"])
def test_the_measure_of_a_pair_has_one_from(source: str) -> None:
    """Whether or not the catalogue's own words begin with it."""
    plan, courses = plan_single(request(only=frozenset({"hip72105-AB"})))
    (target,) = plan.targets
    assert target.double is not None
    typed = replace(target, detail=replace(target.double, measure_source=source))
    text = target_text(replace(plan, targets=(typed,)), courses, {})
    assert f" from {source.removeprefix('from ')}\n" in text and "from from" not in text
