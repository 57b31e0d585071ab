"""The telescope's own ratios."""

from __future__ import annotations

import pytest

from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope

MASKED = Telescope(
    "t", Design.NEWTONIAN, Mount.HAND_MOVED, 160.0, 154.0, 1040.0, 35.0, Glass(0.05), 0.79, 31.75
)


def test_ratios_use_the_clear_aperture() -> None:
    """The mask counts, not the glass (geometry)."""
    assert MASKED.focal_ratio == pytest.approx(1040.0 / 154.0, rel=1e-12)
    assert MASKED.obstruction_ratio == pytest.approx(35.0 / 154.0, rel=1e-12)


def test_throughput_counts_mirrors_and_shadow() -> None:
    """0.79 x (clear area - shadow area) / clear area (geometry)."""
    share = 0.79 * (154.0**2 - 35.0**2) / 154.0**2
    assert MASKED.throughput == pytest.approx(share, rel=1e-12)
