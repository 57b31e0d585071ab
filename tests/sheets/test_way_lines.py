"""The way in the words of the target pages: stars as in print, compass points as they are."""

from __future__ import annotations

import pytest

from planner.sheets.way_words import printed_way


@pytest.mark.parametrize(
    ("told", "printed"),
    [
        ("Point straight at it, 45° up in the WNW", "Point straight at it, 45° up in the WNW"),
        ("From the Ori (mag 5.0)", "From θ Ori (mag 5.0)"),
        ("0.5° towards 4 o'clock, to bet1 Cyg", "0.5° towards 4 o'clock, to β¹ Cyg"),
        ("go 20° up in the SSE and sweep", "go 20° up in the SSE and sweep"),
    ],
)
def test_only_stars_get_greek_letters(told: str, printed: str) -> None:
    """Also where a direction looks like a letter and a constellation."""
    assert printed_way(told) == printed
