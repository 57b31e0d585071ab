"""Do the 90 % intervals hold? Simulated smooth mirrors, four runs, a knife error of 1.5 um.

Prints the share of mirrors whose true RMS and Strehl lie within the interval told.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

from planner.mirror.reduction import WAVE_MM, reduce
from planner.mirror.tester import MirrorTest, theory_mm

RADIUS_MM, RIM_MM, ZONES, RUNS, KNIFE_MM = 2400.0, 100.0, 5, 4, 0.0015


def mirror(random: np.random.Generator, rho: np.ndarray) -> np.ndarray:
    """A wave of an invented mirror: conic, a hill in the middle, a soft ring; in waves."""
    conic, hill, ring = random.normal(0.0, (0.3, 0.05, 0.04))
    place, width = random.uniform(0.3, 0.9), random.uniform(0.15, 0.35)
    soft = np.exp(-0.5 * ((rho - place) / width) ** 2)
    return conic * rho**4 + hill * np.exp(-0.5 * (rho / 0.3) ** 2) + ring * soft


def truth(rho: np.ndarray, wave: np.ndarray) -> tuple[float, float]:
    """RMS and Strehl at their own best foci, on rings of equal area."""
    square = (np.arange(1000) + 0.5) / 1000
    error = np.interp(np.sqrt(square), rho, wave)
    line = np.polyfit(square, error, 1)
    left = error - np.polyval(line, square)
    foci = np.linspace(-0.6, 0.6, 241)[:, None] * (square - 0.5)
    return float(left.std()), float((np.abs(np.exp(2j * np.pi * (left - foci)).mean(1)) ** 2).max())


def readings(random: np.random.Generator, rho: np.ndarray, wave: np.ndarray) -> MirrorTest:
    """Four noisy runs over five windows of equal area, fixed source."""
    edges = RIM_MM * np.sqrt(np.linspace(0.0, 1.0, ZONES + 1))
    zones = tuple(zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True))
    test = MirrorTest("simulated", 2 * RIM_MM, RADIUS_MM, True, zones, ((0.0,) * ZONES,))
    rise = np.diff(np.interp(edges / RIM_MM, rho, wave))
    departure = -2.0 * rise * RADIUS_MM**2 * WAVE_MM / np.diff(edges**2)
    middle = (edges[1:] + edges[:-1]) / 2.0
    noise = random.normal(0.0, KNIFE_MM, (RUNS, ZONES)) * RADIUS_MM / middle
    noise += random.normal(0.0, 0.3, (RUNS, 1))
    runs = tuple(tuple(run) for run in (theory_mm(test) + departure + noise).tolist())
    return MirrorTest("simulated", 2 * RIM_MM, RADIUS_MM, True, zones, runs)


def main() -> None:
    """Simulate, reduce, count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    random, rho = np.random.default_rng(given.seed), np.linspace(0.0, 1.0, 2001)
    held, spent = np.zeros(2), 0.0
    for _ in range(given.count):
        wave = mirror(random, rho)
        test = readings(random, rho, wave)
        start = time.perf_counter()
        found = reduce(test)
        spent += time.perf_counter() - start
        told = (found.rms_waves, found.strehl)
        held += [i.low <= t <= i.high for i, t in zip(told, truth(rho, wave), strict=True)]
    print(f"{given.count} mirrors, {RUNS} runs of {KNIFE_MM * 1000:g} um")
    print(f"RMS within its 90 % interval: {held[0] / given.count:.1%}")
    print(f"Strehl within its 90 % interval: {held[1] / given.count:.1%}")
    print(f"one reduction: {spent / given.count:.3f} s")


if __name__ == "__main__":
    main()
