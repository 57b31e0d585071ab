"""Cooling of a mirror, against hand work and the heat equation solved numerically."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from planner.tube.cooling import FAN_W_M2K, HEAT, Blank, MirrorGlass, cooling_time_min, lag_k

BLANK = Blank(200.0, 30.0)


def test_mass_agrees_with_hand_work() -> None:
    """Borosilicate of 200 mm, 30 mm at the rim, f 1200: sag 2.083 mm, 2.029 kg."""
    assert BLANK.mass_kg(1200.0) == pytest.approx(2.02875, abs=1e-4)


def test_mass_agrees_with_a_body_of_revolution() -> None:
    """Volume under the paraboloid, summed in rings."""
    r = (np.arange(4000) + 0.5) * 0.1 / 4000
    height = 0.030 - ((0.1**2 - r**2) / (4.0 * 1.2))
    volume = float(np.sum(2.0 * np.pi * r * height) * 0.1 / 4000)
    assert BLANK.mass_kg(1200.0) == pytest.approx(2230.0 * volume, rel=1e-6)


def test_time_constant_agrees_with_hand_work() -> None:
    """59.87 min with both faces in the air, 123.8 with one."""
    assert BLANK.time_constant_min(8.0) == pytest.approx(59.87, abs=0.1)
    one = Blank(200.0, 30.0, open_back=False)
    assert one.time_constant_min(8.0) == pytest.approx(123.8, abs=0.1)


@pytest.mark.parametrize(
    ("thickness", "transfer", "open_back"),
    [(30.0, 8.0, True), (30.0, 20.0, True), (25.0, 8.0, False), (40.0, 20.0, False)],
)
def test_time_constant_agrees_with_the_heat_equation(
    thickness: float, transfer: float, open_back: bool
) -> None:
    """A slab in layers, integrated by scipy: how the mean falls late on, within 2 %."""
    heat, layers = HEAT[MirrorGlass.BOROSILICATE], 60
    dx = thickness / 1000.0 / layers
    stored = heat.density * heat.capacity * dx

    def change(_: float, kelvin: np.ndarray) -> np.ndarray:
        flow = heat.conductivity / dx * np.diff(kelvin)
        gain = np.zeros(layers)
        gain[:-1] += flow
        gain[1:] -= flow
        film = 1.0 / (1.0 / transfer + dx / 2.0 / heat.conductivity)
        gain[-1] -= film * kelvin[-1]
        gain[0] -= film * kelvin[0] if open_back else 0.0
        return gain / stored

    blank = Blank(200.0, thickness, open_back=open_back)
    tau = 60.0 * blank.time_constant_min(transfer)
    run = solve_ivp(change, (0.0, 2.0 * tau), np.ones(layers), "BDF", [tau, 2.0 * tau], rtol=1e-6)
    mean = run.y.mean(axis=0)
    assert tau / np.log(mean[0] / mean[1]) == pytest.approx(tau, rel=0.02)


def test_lag_and_cooling_time_agree_with_hand_work() -> None:
    """2 K an hour with 59.87 min: 1.996 K behind; from 10 K to 1 K in 137.9 min."""
    assert lag_k(59.87, 2.0) == pytest.approx(1.996, abs=0.01)
    assert cooling_time_min(59.87, 10.0, 1.0) == pytest.approx(137.9, abs=0.2)
    assert cooling_time_min(59.87, 0.5, 1.0) == 0.0


def test_kinds_of_glass_weigh_and_hold_heat_as_makers_sheets_say() -> None:
    """Handbook values from memory: densities in g/cm3, diffusivities in mm2/s, to 5 %."""
    known = {
        MirrorGlass.BOROSILICATE: (2.23, 0.62),
        MirrorGlass.PLATE: (2.5, 0.48),
        MirrorGlass.SILICA: (2.2, 0.85),
        MirrorGlass.CERAMIC: (2.53, 0.72),
    }
    for glass, (density, diffusivity) in known.items():
        heat = HEAT[glass]
        assert heat.density == pytest.approx(1000.0 * density, rel=0.01)
        found = heat.conductivity / heat.density / heat.capacity
        assert found == pytest.approx(1e-6 * diffusivity, rel=0.05)


def test_a_fan_cools_faster_and_warmer_starts_take_longer() -> None:
    still, fan = BLANK.time_constant_min(), BLANK.time_constant_min(FAN_W_M2K)
    assert 1.8 * fan < still < 2.6 * fan
    times = [cooling_time_min(60.0, start, 1.0) for start in (0.5, 1.0, 2.718281828, 7.389056099)]
    assert times == pytest.approx([0.0, 0.0, 60.0, 120.0], abs=1e-6)
    assert cooling_time_min(60.0, 10.0, 2.0) < cooling_time_min(60.0, 10.0, 1.0)
