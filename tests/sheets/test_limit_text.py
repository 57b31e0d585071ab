"""The reasons for the faintest star on the screen: a column that adds up."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from planner.eye.observer import Observer
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.sheets.limit_text import reasons_text
from planner.sheets.page_text import PAGE_COLUMNS
from planner.verdict.scope.limit_reasons import limit_reasons
from planner.verdict.setup import Setup

TUBE = Telescope(
    "Lindenhof tube", Design.NEWTONIAN, Mount.HAND_MOVED,
    160.0, 158.0, 1027.0, 35.0, Glass(0.06), 0.8, 31.75, 205.0,
)  # fmt: skip
SETUP = Setup(TUBE, Observer("o", 60.0, 5.8, 2.0, 0.0, 0.6), 20.9, 2.0, 0.2)
LINE = re.compile(r"^ +(?P<change>[+-]\d+\.\d\d)? +(?P<total>\d+\.\d\d)  +[a-z]")


def sum_of(text: str) -> tuple[float, list[float], list[float]]:
    """The printed start, changes and running limits."""
    found = [match for line in text.splitlines() if (match := LINE.match(line))]
    start, *steps = found
    assert start["change"] is None
    return (
        float(start["total"]),
        [float(step["change"]) for step in steps],
        [float(step["total"]) for step in steps],
    )


@pytest.mark.parametrize("exit_pupil", [0.5, 0.97, 3.3, 7.0])
@pytest.mark.parametrize("sky", [16.0, 18.37, 20.9, 21.93])
def test_the_printed_column_adds_up(exit_pupil: float, sky: float) -> None:
    """From the bare eye to the limit, line by line, in the digits on the screen."""
    setup = replace(SETUP, zenith_sky_mag=sky)
    reasons = limit_reasons(setup, exit_pupil)
    text = reasons_text(setup, reasons)
    start, changes, totals = sum_of(text)
    assert start == pytest.approx(reasons.bare_eye_mag, abs=0.0051)
    assert len(changes) == 6 + (exit_pupil > 5.8)
    so_far = start
    for change, total in zip(changes, totals, strict=True):
        so_far = round(so_far + change, 2)
        assert so_far == total
    assert so_far == pytest.approx(reasons.limit_mag, abs=0.0051)
    assert max(map(len, text.splitlines())) <= PAGE_COLUMNS


def test_the_text_says_from_which_power_on_the_field_is_black() -> None:
    """158 mm and the exit pupil of the black field; the same in both words."""
    reasons = limit_reasons(SETUP, 1.0)
    text = reasons_text(SETUP, reasons)
    power = 158.0 / reasons.black_exit_pupil_mm
    assert f"From {power:.0f}x on (exit pupil {reasons.black_exit_pupil_mm:.2f} mm)" in text
    words = "a white one (0.0) is seen 0.19 fainter, a red one (1.5) must be 0.22 brighter"
    assert words in " ".join(text.split())


def test_the_text_says_where_the_eye_factor_and_the_air_come_from() -> None:
    """Measured by the owner, or from a book."""
    own = replace(SETUP, observer=Observer("o", 60.0, 5.8, 1.7, 0.2, 0.6))
    text = reasons_text(own, limit_reasons(own, 1.0))
    assert "eye factor 1.7 (from your own limit)" in text
    assert "air overhead beyond that in your own limit" in text
    assert "beyond that" not in reasons_text(SETUP, limit_reasons(SETUP, 1.0))
