"""Do the 90 % intervals hold? Simulated smooth mirrors, four runs, a knife error of 1.5 um.

Prints the share of mirrors whose true RMS and Strehl lie within the interval told, and on which
side the others miss it. --faults makes the mirrors better or worse, --runs, --knife and --zones
change the test.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

from planner.mirror.reduction import WAVE_MM, reduce
from planner.mirror.tester import MirrorTest, theory_mm

RADIUS_MM, RIM_MM = 2400.0, 100.0


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


def readings(
    random: np.random.Generator, rho: np.ndarray, wave: np.ndarray, given: argparse.Namespace
) -> MirrorTest:
    """Noisy runs over windows of equal area, fixed source."""
    edges = RIM_MM * np.sqrt(np.linspace(0.0, 1.0, given.zones + 1))
    zones = tuple(zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True))
    test = MirrorTest("simulated", 2 * RIM_MM, RADIUS_MM, True, zones, ((0.0,) * given.zones,))
    rise = np.diff(np.interp(edges / RIM_MM, rho, wave))
    departure = -2.0 * rise * RADIUS_MM**2 * WAVE_MM / np.diff(edges**2)
    middle = (edges[1:] + edges[:-1]) / 2.0
    noise = random.normal(0.0, given.knife / 1000, (given.runs, given.zones)) * RADIUS_MM / middle
    noise += random.normal(0.0, 0.3, (given.runs, 1))
    runs = tuple(tuple(run) for run in (theory_mm(test) + departure + noise).tolist())
    return MirrorTest("simulated", 2 * RIM_MM, RADIUS_MM, True, zones, runs)


def main() -> None:
    """Simulate, reduce, count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--runs", type=int, default=4)
    parser.add_argument("--knife", type=float, default=1.5, help="error of a setting, um")
    parser.add_argument("--zones", type=int, default=5)
    parser.add_argument("--faults", type=float, default=1.0, help="times the usual faults")
    given = parser.parse_args()
    random, rho = np.random.default_rng(given.seed), np.linspace(0.0, 1.0, 2001)
    below, above, spent = np.zeros(2), np.zeros(2), 0.0
    for _ in range(given.count):
        wave = given.faults * mirror(random, rho)
        test = readings(random, rho, wave, given)
        start = time.perf_counter()
        found = reduce(test)
        spent += time.perf_counter() - start
        true = truth(rho, wave)
        told = (found.rms_waves, found.strehl)
        below += [t < i.low for i, t in zip(told, true, strict=True)]
        above += [t > i.high for i, t in zip(told, true, strict=True)]
    print(f"{given.count} mirrors, {given.zones} zones, {given.runs} runs of {given.knife:g} um")
    for name, under, over in zip(("RMS", "Strehl"), below, above, strict=True):
        held = 1.0 - (under + over) / given.count
        print(
            f"{name} within its 90 % interval: {held:.1%}; "
            f"below it {under / given.count:.1%}, above it {over / given.count:.1%}"
        )
    print(f"one reduction: {spent / given.count:.3f} s")


if __name__ == "__main__":
    main()
