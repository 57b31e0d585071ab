"""The bands of a grating: where zones come to focus, whatever the zero of the readings."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from planner.mirror.grating import ronchi_dark, zone_focus_mm
from planner.mirror.reduction import Reduction, reduce
from planner.mirror.tester import MirrorTest, conic_travel_mm

ZONES = ((0.0, 35.0), (35.0, 52.0), (52.0, 66.0), (66.0, 78.0), (78.0, 88.0), (88.0, 98.0))
BLANK = MirrorTest("blank", 200.0, 2400.0, True, ZONES, ((0.0,) * 6,))
PLACES = np.linspace(5.0, 98.0, 40)


@cache
def conic(constant: float, fixed: bool, zero: float = 0.0) -> Reduction:
    """A conic read without a fault."""
    test = replace(BLANK, fixed_source=fixed)
    run = tuple((conic_travel_mm(test, constant) + zero).tolist())
    return reduce(replace(test, runs=(run, run)))


@pytest.mark.parametrize("fixed", [True, False])
@pytest.mark.parametrize("constant", [-1.3, -1.0, -0.6, 0.0])
def test_zones_of_a_conic_come_to_focus_where_geometry_has_them(
    constant: float, fixed: bool
) -> None:
    """A lamp at R: about ``-K h^2/R`` beyond the middle's focus, whatever lamp the test had."""
    found = zone_focus_mm(conic(constant, fixed), PLACES)
    assert found == pytest.approx(-constant * PLACES**2 / 2400.0, abs=0.03)


def test_the_zero_of_the_readings_is_not_in_it() -> None:
    plain, moved = (zone_focus_mm(conic(-0.9, True, zero), PLACES) for zero in (0.0, 3.0))
    assert moved == pytest.approx(plain, abs=1e-6)


def test_a_sphere_has_straight_bands_at_even_steps() -> None:
    """All its light comes back to one point: bands of ``R/(2 n d)``, common practice."""
    x, y = np.meshgrid(np.linspace(-90.0, 90.0, 1801), np.linspace(-40.0, 40.0, 5))
    focus = zone_focus_mm(conic(0.0, True), np.hypot(x, y))
    dark = ronchi_dark(x, focus, 2400.0, 8.0, 4.0)
    edges = x[2][1:][np.diff(dark[2].astype(int)) != 0]
    assert np.diff(edges) == pytest.approx(2400.0 / (2.0 * 4.0 * 8.0), abs=0.4)


def test_a_paraboloids_middle_band_is_as_wide_as_by_hand() -> None:
    """8 mm inside, 4 lines a mm, R 2400: to 0.0625 x 2400/8 = 18.75 mm less the bend there."""
    x = np.linspace(0.0, 40.0, 4001)
    dark = ronchi_dark(x, zone_focus_mm(conic(-1.0, True), x), 2400.0, 8.0, 4.0)
    edge = float(x[np.argmax(dark)])
    assert edge * (8.0 + edge**2 / 2400.0) / 2400.0 == pytest.approx(0.0625, rel=2e-3)
    assert 18.0 < edge < 18.75


def test_a_turned_edge_comes_to_focus_farther_out() -> None:
    whole = conic(-1.0, True)
    turned = replace(whole, test=replace(whole.test, edge_width_mm=4.0, edge_waves=0.5))
    beyond = zone_focus_mm(turned, PLACES) - zone_focus_mm(whole, PLACES)
    assert beyond[PLACES < 96.0] == pytest.approx(0.0, abs=1e-9)
    assert (beyond[PLACES > 96.5] > 1.0).all()
