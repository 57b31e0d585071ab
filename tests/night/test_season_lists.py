"""The list of a season is what an old observer would go out for."""

from __future__ import annotations

import pytest
from season_lists import EXPECTED_OF_FIRST, expected_on, first_of
from showpieces import EVENINGS, LATITUDES_DEG

SIX_INCHES = [
    (evening, latitude, 150.0, False) for evening in EVENINGS for latitude in LATITUDES_DEG
]
OTHERS = [
    (evening, latitude, aperture_mm, moonlit)
    for evening, latitude, aperture_mm, moonlit in (
        ("nov_10", "56N", 100.0, False), ("may_5", "30S", 100.0, True),
        ("sep_10", "45N", 100.0, False), ("feb_10", "15N", 150.0, True),
        ("jun_28", "45S", 150.0, True), ("nov_10", "56N", 300.0, True),
        ("may_5", "30S", 300.0, False), ("sep_10", "45N", 300.0, False),
    )
]  # fmt: skip


@pytest.mark.parametrize(("evening", "latitude", "aperture_mm", "moonlit"), SIX_INCHES + OTHERS)
def test_the_first_of_the_list_are_the_showpieces_of_the_season(
    evening: str, latitude: str, aperture_mm: float, moonlit: bool
) -> None:
    """Against ``showpieces.csv``: own judgement as a practitioner; common practice, no source.

    All 150 sets are counted by ``tests/bench/season_lists.py``.
    """
    found = first_of(evening, latitude, aperture_mm, moonlit)
    expected = expected_on(evening, latitude)
    assert sum(name in expected for name in found) >= EXPECTED_OF_FIRST, found
