"""The tables against a slow, direct path written apart from them.

The oracle retypes the equations of the model, makes each image with another transform, looks
for valley and crest along the line through both stars, and halves the interval in seeing.
It tests the tables' interpolation and code, not whether the model is right.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.figure import Figure
from planner.verdict.pairs.lookup import SplitConditions, StudyPairs, limiting_seeing
from planner.verdict.pairs.tables import SplitInstrument, build_split_tables

if TYPE_CHECKING:
    from numpy.typing import NDArray

APERTURE, OBSTRUCTION, RMS, AGE, FOLLOWED = 154.0, 0.227, 0.055, 50.0, 0.85
POWERS = (58.0, 104.0, 208.0)
UNIT = 113.4456 / APERTURE  # lambda/D in arcsec at 550 nm
PAIRS = 60
TYPICAL_ERROR = 0.005  # median of |table/direct - 1|
USUAL_ERROR = 0.03  # 95 of 100 decisions
WORST_ERROR = 0.08  # steep corners, where seeing hardly matters
LEAST_COMPARED = 0.6  # arcsec: below, a tiny change of the criterion moves the seeing a lot
CLASSES = {1: (0.03, 1.2), 2: (0.20, 2.5), 3: (0.50, 5.0)}  # dip, contrast; in class order
GLIMPSED_DIP = 0.10  # the first dip for 2 mag and more of difference, in step between


@lru_cache(maxsize=1)
def _bessel_table() -> NDArray[np.float64]:
    """J0 at 0, 0.004, ... 400 by Bessel's integral (trapezoid, exact to rounding)."""
    x = np.arange(0.0, 400.0, 0.004)
    angle = (np.arange(130) + 0.5) * np.pi / 260.0
    total = np.zeros_like(x)
    for sine in np.sin(angle):
        total += np.cos(x * sine)
    return total / 130.0


def _oneill(nu: NDArray[np.float64], e: float) -> NDArray[np.float64]:
    """Transfer function of an annulus in the three-term form of O'Neill 1956."""
    a = 2.0 / np.pi * (np.arccos(nu) - nu * np.sqrt(1.0 - nu**2))
    w = np.minimum(nu / e, 1.0)
    b = 2.0 / np.pi * e**2 * (np.arccos(w) - w * np.sqrt(1.0 - w**2))
    phi = np.arccos(np.clip((1.0 + e**2 - 4.0 * nu**2) / (2.0 * e), -1.0, 1.0))
    slope = (1.0 + e) / (1.0 - e) * np.tan(np.minimum(phi, np.pi - 1e-12) / 2.0)
    c = -2.0 * e**2 + 2.0 * e / np.pi * np.sin(phi) + (1.0 + e**2) / np.pi * phi
    c -= 2.0 * (1.0 - e**2) / np.pi * np.arctan(slope)
    c = np.where(nu <= (1.0 - e) / 2.0, -2.0 * e**2, np.where(nu >= (1.0 + e) / 2.0, 0.0, c))
    return (a + b + c) / (1.0 - e**2)


@dataclass
class Direct:
    """One pair in one view, imaged directly."""

    separation: float  # lambda/D
    ratio: float
    blur: float  # FWHM, lambda/D
    power: float

    def __post_init__(self) -> None:
        self.nu = (np.arange(1200) + 0.5) / 1200.0
        step = 0.01 if self.separation < 8.0 else 0.02
        count = round(self.separation / step)
        self.v = np.linspace(0.0, self.separation, count + 1)
        tail = np.arange(1, 120) * 0.02 + self.separation
        radius = np.concatenate([self.v, tail])
        place = 2.0 * np.pi * self.nu[:, None] * radius / 0.004
        low = place.astype(int)
        table = _bessel_table()
        waves = table[low] + (place - low) * (table[low + 1] - table[low])
        self.matrix = waves * self.nu[:, None] * 8.0 / (1.0 - OBSTRUCTION**2) / 1200.0
        self.instrument = _oneill(self.nu, OBSTRUCTION) * np.exp(
            -((2.0 * np.pi * RMS) ** 2) * (1.0 - np.exp(-((self.nu / 0.25) ** 2)))
        )
        self.instrument *= np.exp(-((np.pi * self.nu * self.blur) ** 2) / 2.772588722)
        angle = max(self.separation * UNIT * self.power / 3600.0, 0.1)
        veil = 10.0 / angle**3 + (5.0 / angle**2 + 0.05 / angle) * (1.0 + (AGE / 62.5) ** 4)
        pupil = APERTURE / self.power
        self.veil = (veil + 0.00125) * (550e-6 / pupil) ** 2 * 4.0 / np.pi
        self.veil /= 1.0 - OBSTRUCTION**2

    def reaches(self, d_over_r0: float, dip: float, contrast: float) -> bool:
        """Whether the class holds in this seeing."""
        loss = 3.44 * (d_over_r0 * self.nu) ** (5.0 / 3.0) * (1.0 - FOLLOWED * np.cbrt(self.nu))
        profile = (self.instrument * np.exp(-loss)) @ self.matrix
        filled = np.maximum.accumulate(profile[::-1])[::-1]
        n = self.v.size
        if self.ratio < contrast * (filled[n - 1] + self.veil) / profile[0]:
            return False
        line = (filled[:n] + self.ratio * profile[:n][::-1])[n // 2 :]
        return bool(np.any(np.minimum.accumulate(line) <= (1.0 - dip) * line))

    def worst(self, dip: float, contrast: float) -> float:
        """Worst line-of-sight FWHM in arcsec, 0 when even 0.1 r0 to the aperture fails."""
        low, high = 0.1, 28.0
        if not self.reaches(low, dip, contrast):
            return 0.0
        for _ in range(20):
            middle = np.sqrt(low * high)
            held = self.reaches(middle, dip, contrast)
            low, high = (middle, high) if held else (low, middle)
        return float(low * 0.976 * UNIT)


@lru_cache(maxsize=1)
def both_paths() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Worst zenith seeing (decisions,) of the tables and of the direct path."""
    rng = np.random.default_rng(20)
    separation = 10.0 ** rng.uniform(np.log10(0.8), np.log10(15.0), PAIRS)
    difference = rng.uniform(0.0, 6.0, PAIRS)
    faint = rng.uniform(6.0, 10.0, PAIRS)
    airmass = rng.uniform(1.0, 2.0, PAIRS)
    view = rng.integers(0, len(POWERS), PAIRS)
    spectrum = 0.15 * (airmass - 1.0)
    tables = build_split_tables(
        SplitInstrument(APERTURE, OBSTRUCTION, Figure(RMS), AGE, FOLLOWED),
        POWERS,
        [APERTURE / p for p in POWERS],
    )
    pairs = StudyPairs(separation, faint - difference, faint)
    sky = SplitConditions(airmass, 0.0, np.full(len(POWERS), 99.0), spectrum)
    looked_up = limiting_seeing(tables, pairs, sky)
    table_side, direct_side = [], []
    for i in range(PAIRS):
        power = POWERS[view[i]]
        brightness = faint[i] - 5.0 * np.log10(APERTURE / 152.4) - 5.0 * np.log10(APERTURE / power)
        coarse = 10.0 ** (0.09 * max(brightness - 7.0, 0.0))
        blur = np.hypot(60.0 * coarse / power, spectrum[i]) / UNIT
        pair = Direct(separation[i] / UNIT, 10.0 ** (-0.4 * difference[i]), float(blur), power)
        for index, (dip, contrast) in CLASSES.items():
            apparent = {1: 2.4, 2: 3.0, 3: 4.0}[index] * coarse
            if separation[i] * power / 60.0 < apparent:
                continue
            if index == 1:
                dip += (GLIMPSED_DIP - dip) * min(difference[i] / 2.0, 1.0)
            table_side.append(float(looked_up[i, view[i], index]))
            direct_side.append(pair.worst(dip, contrast) / airmass[i] ** 0.6)
    return np.array(table_side), np.array(direct_side)


def _compared() -> NDArray[np.float64]:
    table, direct = both_paths()
    both = (table >= LEAST_COMPARED) & (direct >= LEAST_COMPARED)
    return table[both] / direct[both] - 1.0


def test_limiting_seeing_agrees_with_direct_images_in_the_middle() -> None:
    """Half of all decisions differ by less than the interpolation's typical error."""
    error = _compared()
    assert error.size > PAIRS
    assert np.median(np.abs(error)) < TYPICAL_ERROR


def test_limiting_seeing_agrees_with_direct_images_in_95_of_100() -> None:
    """The usual band, and the worst case in a steep corner."""
    error = np.abs(_compared())
    assert np.percentile(error, 95.0) < USUAL_ERROR
    assert error.max() < WORST_ERROR


def test_limiting_seeing_says_yes_where_direct_images_do() -> None:
    """Yes or no at 0.6 arcsec of seeing: at most 2 in 100 decisions differ."""
    table, direct = both_paths()
    differ = (table >= LEAST_COMPARED) != (direct >= LEAST_COMPARED)
    assert np.mean(differ) <= 0.02
