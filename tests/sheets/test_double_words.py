"""Classes of double stars in words."""

from __future__ import annotations

import pytest

from planner.sheets.double_words import split_words
from planner.verdict.pairs.criteria import SplitClass


@pytest.mark.parametrize(
    ("split_class", "difference", "words"),
    [
        (SplitClass.CLEAN, 0.0, "clean split"),
        (SplitClass.NOTCHED, 1.9, "notched"),
        (SplitClass.CLEAN, 2.0, "companion easy"),
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
