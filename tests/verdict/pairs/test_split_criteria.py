"""The classes and their order."""

from __future__ import annotations

from planner.verdict.pairs.criteria import CRITERIA, SplitClass


def test_every_class_but_the_lowest_has_a_criterion() -> None:
    assert list(CRITERIA) == [c for c in SplitClass if c is not SplitClass.NOT_SPLIT]


def test_each_class_asks_at_least_what_the_one_below_asks() -> None:
    rows = [
        (c.dip, c.unequal_dip, c.contrast, c.margin_mag, c.apparent_arcmin)
        for c in CRITERIA.values()
    ]
    for lower, higher in zip(rows, rows[1:], strict=False):
        assert all(h >= low for low, h in zip(lower, higher, strict=True))
