"""The turned edge beside the windows: what it does to the whole glass, the star and the reading."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from planner.mirror.reduction import Reduction, reduce
from planner.mirror.star_test import star_light
from planner.mirror.tester import MirrorTest, theory_mm
from planner.mirror.whole import strehl_with_edge, whole_figure
from planner.optics.figure import best_focus_waves, refocused_rms_waves, wavefront_error

ZONES = ((0.0, 40.0), (40.0, 60.0), (60.0, 75.0), (75.0, 86.0), (86.0, 96.0))


@cache
def turned(width_mm: float, waves: float) -> Reduction:
    """A paraboloid of 200 mm read without a fault, its edge told beside the readings."""
    test = MirrorTest("blank", 200.0, 2400.0, True, ZONES, ((0.0,) * 5,) * 2, width_mm, waves)
    readings = tuple(theory_mm(test).tolist())
    return reduce(replace(test, runs=(readings, readings)))


@pytest.mark.parametrize(("waves", "rms"), [(0.5, 0.0576), (1.0, 0.1152)])
def test_an_edge_of_four_percent_has_the_rms_of_a_sum_over_rings(waves: float, rms: float) -> None:
    """RMS at the least-squares focus: rings summed apart from the project, 0.0576 and 0.1152."""
    figure = whole_figure(turned(4.0, waves), turned(4.0, waves).wave)
    assert refocused_rms_waves(figure, 0.0) == pytest.approx(rms, abs=3e-4)


@pytest.mark.parametrize("waves", [0.5, 1.0])
def test_strehl_ratio_with_the_edge_agrees_with_scipys_integral(waves: float) -> None:
    """Peak over the perfect peak, the focus that makes it brightest found by scipy too."""

    def dimmed(focus: float) -> float:
        def phase(t: float) -> float:
            into = max(np.sqrt(t) - 0.96, 0.0) / 0.04
            return float(2.0 * np.pi * (-waves * into**2 - focus * t))

        parts = [
            quad(lambda t, f=f: f(phase(t)), 0.0, 1.0, points=[0.96**2], limit=200)[0]
            for f in (np.cos, np.sin)
        ]
        return float(-(parts[0] ** 2 + parts[1] ** 2))

    best = -float(minimize_scalar(dimmed, bounds=(-0.5, 0.5), method="bounded").fun)
    assert strehl_with_edge(turned(4.0, waves)) == pytest.approx(best, abs=2e-3)


def test_the_strehl_ratio_without_an_edge_stands_alone() -> None:
    assert strehl_with_edge(turned(0.0, 0.0)) is None


def test_a_turned_edge_throws_light_out_inside_focus_and_hardens_the_rings_outside() -> None:
    """Makers' star test (common practice, no source): fuzzy inside, hard rings outside."""
    found, defocus = turned(4.0, 0.6), 6.0
    figure = whole_figure(found, found.wave)
    fine = np.linspace(0.0, 1.0, 2001)
    error = wavefront_error(figure, fine)
    focus = best_focus_waves(figure, 0.2)
    radius = np.linspace(0.0, 12.0 * defocus, 1600)
    inside, outside = (
        star_light(fine, error, focus + sign * defocus, radius, 0.2) for sign in (1.0, -1.0)
    )
    beyond, rings = radius > 4.4 * defocus, (radius > 1.5 * defocus) & (radius < 3.5 * defocus)

    def spilt(light: np.ndarray) -> float:
        return float((light * radius)[beyond].sum() / (light * radius).sum())

    def hardness(light: np.ndarray) -> float:
        return float(light[rings].std() / light[rings].mean())

    assert spilt(inside) > 2.0 * spilt(outside)
    assert hardness(outside) > 1.5 * hardness(inside)


def test_an_edge_inside_the_last_window_would_be_told_too_wide() -> None:
    """Why the last window ends where the edge begins: 2 mm turned by half a wave is 0.043 RMS.

    Read with the window around it, it passes for a slope of the whole window: about 0.10.
    """
    zones = (*ZONES[:-1], (86.0, 100.0))
    test = MirrorTest("blank", 200.0, 2400.0, True, zones, ((0.0,) * 5,) * 2)
    r = np.linspace(86.0, 100.0, 4001)
    slope = -0.5 * 2.0 * np.clip(r - 98.0, 0.0, None) / 2.0**2  # waves a mm
    rise = float(np.sum(slope) * (r[1] - r[0]))
    off = -rise * test.radius_mm**2 * 550e-6 / (0.5 * (100.0**2 - 86.0**2))
    readings = theory_mm(test)
    readings[-1] += off
    run = tuple(readings.tolist())
    told = reduce(replace(test, runs=(run, run))).rms_waves.value
    true = refocused_rms_waves(whole_figure(turned(2.0, 0.5), turned(2.0, 0.5).wave), 0.0)
    assert true == pytest.approx(0.0427, abs=1e-3)
    assert told > 1.5 * true
