"""Check values of the tester: exact rays, hand arithmetic, and faults of the maker's own making.

"By hand": worked on paper from the formula named; "rays": tests/mirror/ray_tracer.py.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.mirror.criteria import least_greatest_ratio
from planner.mirror.reduction import WAVE_MM, reduce
from planner.mirror.tester import MirrorTest, conic_travel_mm
from tests.mirror.ray_tracer import knife_travel_mm, window_readings_mm

ZONES = ((0.0, 50.0), (50.0, 70.0), (70.0, 87.0), (87.0, 100.0))
EQUAL_EDGES = 100.0 * np.sqrt(np.linspace(0.0, 1.0, 6))
EQUAL = tuple(zip(EQUAL_EDGES[:-1].tolist(), EQUAL_EDGES[1:].tolist(), strict=True))


def made(
    readings: tuple[float, ...], fixed: bool = True, zones: tuple[tuple[float, float], ...] = ZONES
) -> MirrorTest:
    """Four runs alike on a mirror of 200 mm and 2400 mm."""
    return MirrorTest("check", 200.0, 2400.0, fixed, zones, (readings,) * 4)


@pytest.mark.parametrize(
    ("conic", "h", "fixed", "travel"),
    [
        (-1.0, 100.0, False, 2.083333),  # h^2/2R, by hand
        (-1.0, 100.0, True, 4.170284),  # h^2/R + h^4/2R^3, by hand
        (-1.0, 150.0, True, 9.393311),  # the same at f/4
        (-1.03, 100.0, False, 2.145805),  # -K z with the exact sag, by hand
    ],
)
def test_rays_agree_with_hand_arithmetic(
    conic: float, h: float, fixed: bool, travel: float
) -> None:
    found = knife_travel_mm(2400.0, conic, np.array([h]), 2400.0 if fixed else None)
    assert found[0] == pytest.approx(travel, abs=1e-6)


def test_rays_of_a_source_off_the_centre_scale_as_by_hand() -> None:
    """A source d beyond R scales the travel by 1 - 2 d/R, to the first order."""
    ends = np.array([30.0, 100.0])
    off, at = (np.ptp(knife_travel_mm(2400.0, -1.0, ends, s)) for s in (2410.0, 2400.0))
    assert at == pytest.approx(3.795254, abs=2e-5)
    assert off == pytest.approx(3.763889, abs=2e-5)
    assert off / at == pytest.approx(1.0 - 2.0 * 10.0 / 2400.0, abs=2e-4)


@pytest.mark.parametrize("fixed", [True, False])
def test_a_sphere_shows_no_travel(fixed: bool) -> None:
    assert conic_travel_mm(made((0.0,) * 4, fixed), 0.0) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("fixed", [True, False])
@pytest.mark.parametrize("conic", [-1.4, -1.0, -0.85, 0.0, 0.5])
def test_travel_in_windows_agrees_with_rays_followed_one_by_one(conic: float, fixed: bool) -> None:
    expected = window_readings_mm(2400.0, conic, ZONES, fixed)
    found = conic_travel_mm(made((0.0,) * 4, fixed), conic)
    assert found == pytest.approx(expected, abs=2e-6)  # of the rings' own sum


@pytest.mark.parametrize(
    ("fixed", "readings"),
    [(False, (0.22136, 0.65522, 1.10407, 1.55568)), (True, (0.44277, 1.31082, 2.20917, 3.11339))],
)
def test_a_known_ellipsoid_is_recovered(fixed: bool, readings: tuple[float, ...]) -> None:
    """K = -0.85 by exact rays: RMS 0.03677, peak to valley 0.12333, Strehl 0.94783."""
    assert window_readings_mm(2400.0, -0.85, ZONES, fixed) == pytest.approx(readings, abs=2e-5)
    found = reduce(made(readings, fixed))
    assert found.rms_waves.value == pytest.approx(0.03677, abs=2e-4)
    assert found.peak_to_valley_waves.value == pytest.approx(0.12333, abs=5e-4)  # 121 radii
    assert found.strehl.value == pytest.approx(0.94783, abs=5e-4)


def test_a_sphere_has_the_wave_of_hand_arithmetic() -> None:
    """a^4/(4 R^3 lambda) at rho^4 is 3.288089 waves, its RMS that over sqrt(180): 0.24508."""
    waves = 100.0**4 / (4.0 * 2400.0**3 * WAVE_MM)
    assert waves == pytest.approx(3.288089, abs=1e-6)
    assert reduce(made((0.0,) * 4)).rms_waves.value == pytest.approx(0.24508, abs=5e-4)


def test_a_quarter_wave_sphere_fails_the_transverse_test() -> None:
    """A six-inch sphere of just a quarter wave at best focus: wave 0.25, Strehl 0.80, ratio 1.37.

    Its radius makes a^4/(4 R^3 lambda) one wave; PV 1/4 and RMS 1/sqrt(180) by hand.
    """
    radius, rim = 2483.890243, 76.2
    assert rim**4 / (4.0 * radius**3 * WAVE_MM) == pytest.approx(1.0, abs=1e-8)
    zones = tuple((a * rim / 100.0, b * rim / 100.0) for a, b in EQUAL)
    test = MirrorTest("sphere", 2 * rim, radius, False, zones, ((0.0,) * 5,) * 4)
    found = reduce(test)
    assert found.peak_to_valley_waves.value == pytest.approx(0.25, abs=2e-3)
    assert found.rms_waves.value == pytest.approx(1.0 / np.sqrt(180.0), abs=3e-4)
    assert found.strehl.value == pytest.approx(0.80, abs=1e-3)
    assert least_greatest_ratio(test)[0] == pytest.approx(1.3662, abs=1e-3)


def test_a_radius_wrong_by_a_hundredth_is_a_false_conic_of_a_hundredth() -> None:
    """Readings scale as 1/R, so the theory of a longer mirror finds them too great by 1 %."""
    readings = window_readings_mm(2400.0, -1.0, EQUAL, True)
    found = reduce(replace(made(readings, zones=EQUAL), radius_mm=2424.0))
    assert found.conic.value == pytest.approx(-1.01, abs=5e-4)
    assert found.rms_waves.value == pytest.approx(0.0024, abs=2e-4)


@pytest.mark.parametrize(("fixed", "conic"), [(True, -2.0), (False, -0.5)])
def test_the_wrong_kind_of_source_doubles_or_halves_the_conic(fixed: bool, conic: float) -> None:
    """A fixed source shows twice the travel of a moving one, and -K is the travel's share."""
    readings = window_readings_mm(2400.0, -1.0, EQUAL, fixed)
    wrong = reduce(made(readings, not fixed, EQUAL))
    assert wrong.conic.value == pytest.approx(conic, abs=0.01)


def test_the_middle_of_a_window_would_spoil_a_perfect_mirror() -> None:
    """Theory at the windows' middles finds K = -0.968 and a false RMS of 0.0099.

    By an independent simulation: the difference of the two theories is put into the readings.
    """
    middles = (EQUAL_EDGES[1:] + EQUAL_EDGES[:-1]) / 2.0
    right = np.array(window_readings_mm(2400.0, -1.0, EQUAL, True))
    by_middle = knife_travel_mm(2400.0, -1.0, middles, 2400.0)
    spoiled = tuple((2.0 * right - by_middle).tolist())
    found = reduce(made(spoiled, zones=EQUAL))
    assert found.conic.value == pytest.approx(-0.968, abs=0.003)
    assert found.rms_waves.value == pytest.approx(0.0099, abs=5e-4)
