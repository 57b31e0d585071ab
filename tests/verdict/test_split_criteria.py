"""The classes, their order and their words."""

from __future__ import annotations

import pytest

from planner.verdict.split_criteria import CRITERIA, SplitClass, split_words


def test_every_class_but_the_lowest_has_a_criterion() -> None:
    assert list(CRITERIA) == [c for c in SplitClass if c is not SplitClass.NOT_SPLIT]


def test_each_class_asks_at_least_what_the_one_below_asks() -> None:
    rows = [
        (c.dip, c.unequal_dip, c.contrast, c.margin_mag, c.apparent_arcmin)
        for c in CRITERIA.values()
    ]
    for lower, higher in zip(rows, rows[1:], strict=False):
        assert all(h >= low for low, h in zip(lower, higher, strict=True))


@pytest.mark.parametrize(
    ("split_class", "difference", "words"),
    [
        (SplitClass.CLEAN, 0.0, "clean split"),
        (SplitClass.NOTCHED, 1.9, "notched"),
        (SplitClass.CLEAN, 2.0, "companion plain"),
        (SplitClass.NOTCHED, 6.5, "companion glimpsed"),
        (SplitClass.NOT_SPLIT, 0.0, "not split"),
        (SplitClass.ELONGATED, 5.0, "not split"),
    ],
)
def test_split_words_speak_of_a_companion_from_two_magnitudes(
    split_class: SplitClass, difference: float, words: str
) -> None:
    """Trade words; the change at two magnitudes is common practice, no source."""
    assert split_words(split_class, difference).startswith(words)
