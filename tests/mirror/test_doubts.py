"""Slips that a reduction finds out by itself, and good mirrors that it leaves alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.errors import UsageError
from planner.mirror.criteria import tolerances_mm
from planner.mirror.doubts import Doubt, doubts, edge_departure, odd_reading
from planner.mirror.reduction import reduce
from planner.mirror.tester import MirrorTest, conic_travel_mm

ZONES = ((0.0, 35.0), (35.0, 52.0), (52.0, 66.0), (66.0, 78.0), (78.0, 88.0), (88.0, 97.0))
BLANK = MirrorTest("blank", 200.0, 2400.0, True, ZONES, ((0.0,) * 6,))
KNIFE_MM = 0.001


def readings_of(conic: float, true: MirrorTest, told: MirrorTest, sign: float = 1.0) -> MirrorTest:
    """Four runs of a conic tested in one way and told in another."""
    random = np.random.default_rng(4)
    middles = np.array([(a + b) / 2.0 for a, b in ZONES])
    noise = random.normal(0.0, KNIFE_MM, (4, 6)) * true.radius_mm / middles
    readings = sign * (conic_travel_mm(true, conic) + noise)
    return replace(told, runs=tuple(map(tuple, readings.tolist())))


@pytest.mark.parametrize("conic", [-1.0, -0.93, -1.15, -0.8, -0.1])
@pytest.mark.parametrize("fixed", [True, False])
def test_an_honest_test_raises_no_doubt(conic: float, fixed: bool) -> None:
    test = replace(BLANK, fixed_source=fixed)
    assert doubts(reduce(readings_of(conic, test, test))) == ()


@pytest.mark.parametrize("conic", [-0.85, -0.9, -1.0, -1.1, -1.15])
def test_the_wrong_lamp_is_found_out(conic: float) -> None:
    moving = replace(BLANK, fixed_source=False)
    for true, told in ((BLANK, moving), (moving, BLANK)):
        assert doubts(reduce(readings_of(conic, true, told)))[0] is Doubt.SOURCE


@pytest.mark.parametrize("conic", [-0.85, -1.0, -1.15])
def test_readings_the_wrong_way_are_found_out_with_the_wrong_lamp_too(conic: float) -> None:
    moving = replace(BLANK, fixed_source=False)
    for told in (BLANK, moving):
        assert doubts(reduce(readings_of(conic, BLANK, told, sign=-1.0)))[0] is Doubt.SIGN


def test_a_focal_length_for_the_radius_is_found_out() -> None:
    moving = replace(BLANK, fixed_source=False)
    for true, doubt in ((BLANK, Doubt.SOURCE), (moving, Doubt.RADIUS)):
        half = replace(true, radius_mm=1200.0)
        assert doubts(reduce(readings_of(-1.0, true, half)))[0] is doubt


def test_one_slip_of_the_pen_is_named() -> None:
    test = readings_of(-1.0, BLANK, BLANK)
    runs = [list(run) for run in test.runs]
    runs[2][1] += 1.0
    slipped = replace(test, runs=tuple(map(tuple, runs)))
    odd = odd_reading(slipped)
    assert odd is not None and (odd.run, odd.window) == (3, 2)
    assert odd.off_mm == pytest.approx(1.0, abs=0.1)
    assert doubts(reduce(slipped))[0] is Doubt.SLIP
    assert odd_reading(test) is None


@pytest.mark.parametrize(("runs", "knife_mm"), [(3, 0.002), (3, 0.005), (4, 0.006), (3, 0.008)])
def test_honest_scatter_is_no_slip(runs: int, knife_mm: float) -> None:
    """Once in a hundred tests it may be called one."""
    random = np.random.default_rng(11)
    middles = np.array([(a + b) / 2.0 for a, b in ZONES])
    called = 0
    for _ in range(200):
        noise = random.normal(0.0, knife_mm, (runs, 6)) * 2400.0 / middles
        readings = conic_travel_mm(BLANK, -1.0) + noise + random.normal(0.0, 0.3, (runs, 1))
        called += odd_reading(replace(BLANK, runs=tuple(map(tuple, readings.tolist())))) is not None
    assert called <= 6


def test_a_slip_of_half_a_millimetre_is_found() -> None:
    """In four runs of 2 um, the fifth window; one run in ten is too few to be sure of it."""
    random = np.random.default_rng(12)
    middles = np.array([(a + b) / 2.0 for a, b in ZONES])
    found = 0
    for _ in range(50):
        readings = conic_travel_mm(BLANK, -1.0) + random.normal(0.0, 0.002, (4, 6)) * 2400 / middles
        readings[1, 4] += 0.5
        odd = odd_reading(replace(BLANK, runs=tuple(map(tuple, readings.tolist()))))
        found += odd is not None and (odd.run, odd.window) == (2, 5)
    assert found >= 45


def test_a_shaking_hand_is_told() -> None:
    random = np.random.default_rng(2)
    middles = np.array([(a + b) / 2.0 for a, b in ZONES])
    runs = conic_travel_mm(BLANK, -1.0) + random.normal(0.0, 0.02, (2, 6)) * 2400.0 / middles
    assert Doubt.SHAKY in doubts(reduce(replace(BLANK, runs=tuple(map(tuple, runs.tolist())))))


def test_readings_all_alike_are_a_sphere_or_not_filled_in() -> None:
    assert Doubt.SAME in doubts(reduce(BLANK))


def test_windows_that_end_far_within_or_in_the_edge_are_told() -> None:
    short = replace(BLANK, optical_diameter_mm=260.0)
    assert Doubt.SHORT in doubts(reduce(readings_of(-1.0, short, short)))
    inside = replace(BLANK, edge_width_mm=8.0, edge_waves=0.5)
    assert Doubt.INTO_EDGE in doubts(reduce(readings_of(-1.0, inside, inside)))
    beside = replace(BLANK, edge_width_mm=3.0, edge_waves=0.5)
    assert doubts(reduce(readings_of(-1.0, beside, beside))) == ()


def test_windows_in_another_unit_are_refused() -> None:
    with pytest.raises(UsageError, match=r"end at 3.8\d* mm, but the rim is at 100 mm; check unit"):
        replace(BLANK, zones=tuple((a / 25.4, b / 25.4) for a, b in ZONES))


def test_a_turned_edge_in_the_last_window_is_doubted() -> None:
    test = readings_of(-1.0, BLANK, BLANK)
    runs = tuple((*run[:-1], run[-1] + 0.8) for run in test.runs)
    assert doubts(reduce(replace(test, runs=runs))) == (Doubt.EDGE,)


@pytest.mark.parametrize("fixed", [True, False])
def test_a_departing_edge_is_told_in_airy_radii_of_its_own_reading(fixed: bool) -> None:
    """0.8 mm beyond a paraboloid whose other windows are read without a fault."""
    test = replace(BLANK, fixed_source=fixed)
    clean = conic_travel_mm(test, -1.0)
    clean[-1] += 0.8
    found = reduce(replace(test, runs=(tuple(clean.tolist()),) * 2))
    departure = edge_departure(found)
    assert departure.airy_radii == pytest.approx(-0.8 / tolerances_mm(test)[-1], rel=0.1)
    assert departure.sigmas < -3.0


def test_three_windows_foretell_no_edge() -> None:
    few = replace(BLANK, zones=((0.0, 50.0), (50.0, 80.0), (80.0, 97.0)), runs=((0.0,) * 3,))
    departure = edge_departure(reduce(few))
    assert (departure.sigmas, departure.airy_radii) == (0.0, 0.0)
