"""From zone readings to the wave: its most likely profile, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import WAVELENGTH_NM
from planner.mirror.band import Steps, drawn_waves, foretold_last, mean_wave
from planner.mirror.tester import (
    Averaged,
    MirrorTest,
    averaged,
    conic_travel_mm,
    sag_mm,
    theory_mm,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

WAVE_MM = WAVELENGTH_NM * 1e-6
RADII = 121
BAND_SHARES = (0.05, 0.95)  # of all waves of the band, by Strehl ratio: what verdicts are made for
LEAST_TOLD_RMS_WAVES = 0.01  # below it the lower end says nothing; own judgement
_FOCI = np.linspace(-1.5, 1.5, 61)  # waves at the rim about the least-squares focus


@dataclass(frozen=True, slots=True)
class Interval:
    """A value and its 90 % interval."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Reduction:
    """What the test says of the glass, a turned edge (told apart) left out.

    ``rho`` (RADII,) is the radius over that of the optical diameter; ``wave``, ``low`` and
    ``high`` the wave there with its 90 % band, focused; ``poor`` and ``good`` are waves of the
    band whose Strehl ratio 95 and 5 % exceed. ``steps`` is the wave's rise across
    each window in waves, no focus removed.
    """

    test: MirrorTest
    averaged: Averaged
    rho: Floats
    wave: Floats
    low: Floats
    high: Floats
    poor: Floats
    good: Floats
    steps: Floats
    rms_waves: Interval
    peak_to_valley_waves: Interval
    strehl: Interval
    conic: Interval

    @property
    def is_upper_limit(self) -> bool:
        """Whether the RMS may be told only as "at most"."""
        return self.rms_waves.low < LEAST_TOLD_RMS_WAVES


def wave_steps(test: MirrorTest, departure_mm: Floats) -> Floats:
    """Rise of the wave across each window, waves: ``-(r2^2 - r1^2) e/(R^2 lambda)``, fixed half.

    ``departure_mm`` (zones,) is reading minus theory. Exact however the glass runs inside.
    """
    share = 0.5 if test.fixed_source else 1.0
    area = test.outer_mm**2 - test.inner_mm**2
    return np.asarray(-share * area * departure_mm / (test.radius_mm**2 * WAVE_MM))


def reduce(test: MirrorTest, seed: int = 1) -> Reduction:
    """The most likely wave and its band from the readings of a test.

    Steps across windows are linear data on the wave; the prior (band) leaves the focus free and
    asks of the rest no more than to be smooth, of sizes that the readings themselves make likely.
    The nearest conic is taken out by exact rays first.
    Never shows astigmatism, roughness, or rings narrower than a window.
    """
    mean = averaged(test)
    raw = wave_steps(test, mean.readings_mm - theory_mm(test))
    rho = np.linspace(0.0, 1.0, RADII)
    weight = _area_weight(rho)
    first = mean_wave(_steps(test, mean, raw), rho)
    near = float(_conics(test, rho, weight, first[None])[0])
    left = _steps(
        test, mean, wave_steps(test, mean.readings_mm - conic_travel_mm(test, near)), near
    )
    near_wave = _conic_wave(test, near, rho)
    wave = _refocused(rho, weight, (mean_wave(left, rho) + near_wave)[None])[0]
    draws = near_wave + drawn_waves(left, rho, np.random.default_rng(seed))
    draws = _refocused(rho, weight, draws)
    rms, conics = _rms(weight, draws), _conics(test, rho, weight, draws)
    strehls = _strehls(rho, weight, draws)
    low, high = np.percentile(draws, (5.0, 95.0), axis=0)
    ranked = draws[np.argsort(strehls, kind="stable")]
    poor, good = (ranked[int(share * (len(ranked) - 1))] for share in BAND_SHARES)
    return Reduction(
        test=test, averaged=mean, rho=rho, wave=wave, low=low, high=high, poor=poor,
        good=good, steps=raw,
        rms_waves=_interval(float(_rms(weight, wave[None])[0]), rms),
        peak_to_valley_waves=_interval(float(np.ptp(wave)), np.ptp(draws, axis=1)),
        strehl=_interval(float(_strehls(rho, weight, wave[None])[0]), strehls),
        conic=_interval(float(_conics(test, rho, weight, wave[None])[0]), conics),
    )  # fmt: skip


def predicted_last_step(found: Reduction) -> tuple[float, float]:
    """The rise of the wave across the last window that the others predict, and its error, waves."""
    steps = _steps(found.test, found.averaged, found.steps)
    rise, error = foretold_last(steps)
    return rise + float(found.steps[-1] - steps.rise[-1]), error


def _conic_wave(test: MirrorTest, conic: float, rho: Floats) -> Floats:
    """Wave (RADII,) of a conic against the paraboloid, twice the glass between them."""
    h = rho * test.optical_diameter_mm / 2.0
    glass = sag_mm(test.radius_mm, conic, h) - sag_mm(test.radius_mm, -1.0, h)
    return np.asarray(2.0 * glass / WAVE_MM)


def _area_weight(rho: Floats) -> Floats:
    """Weights (RADII,) that make a mean over the area: trapezia on an even grid."""
    weight = rho.copy()
    weight[-1] /= 2.0
    return np.asarray(weight / weight.sum())


def _interval(value: float, draws: Floats) -> Interval:
    low, high = np.percentile(draws, (5.0, 95.0))
    return Interval(value, min(float(low), value), max(float(high), value))


def _step_errors(test: MirrorTest, knife_error_mm: float, runs: int) -> Floats:
    width = test.outer_mm - test.inner_mm
    return np.asarray(knife_error_mm * width / (test.radius_mm * WAVE_MM * np.sqrt(runs)))


def _focus_free(test: MirrorTest, steps: Floats) -> Floats:
    """The steps without the part that a constant added to all readings makes."""
    constant = wave_steps(test, np.ones_like(steps))
    weight = (test.outer_mm - test.inner_mm) ** -2.0
    return np.asarray(
        steps - constant * ((weight * steps) @ constant) / ((weight * constant) @ constant)
    )


def _steps(test: MirrorTest, mean: Averaged, rises: Floats, near: float = -1.0) -> Steps:
    """Rises (zones,) as the band takes them; ``near`` is the conic constant taken out of them."""
    rim = test.optical_diameter_mm / 2.0
    return Steps(
        inner=test.inner_mm / rim, outer=test.outer_mm / rim,
        rise=_focus_free(test, rises), error=_step_errors(test, mean.knife_error_mm, mean.runs),
        freedom=mean.freedom,
        conic_waves=(1.0 + near) * rim**4 / (4.0 * WAVE_MM * test.radius_mm**3),
    )  # fmt: skip


def _refocused(rho: Floats, weight: Floats, waves: Floats) -> Floats:
    """Waves (N, RADII) without piston and rho^2, least squares over the area."""
    centred = rho**2 - weight @ rho**2
    focus = (waves * weight) @ centred / ((weight * centred) @ centred)
    waves = waves - focus[:, None] * rho**2
    return np.asarray(waves - (waves @ weight)[:, None])


def _rms(weight: Floats, waves: Floats) -> Floats:
    return np.asarray(np.sqrt(waves**2 @ weight))


def _strehls(rho: Floats, weight: Floats, waves: Floats) -> Floats:
    """Strehl ratio (N,) at each wave's own brightest focus, clear aperture."""
    centred = rho**2 - weight @ rho**2
    best = np.zeros(len(waves))
    field = np.exp(2j * np.pi * waves) * weight
    for focus in _FOCI:
        best = np.maximum(best, np.abs(field @ np.exp(-2j * np.pi * focus * centred)) ** 2)
    return best


def _conics(test: MirrorTest, rho: Floats, weight: Floats, waves: Floats) -> Floats:
    """Conic constant (N,) from an area-weighted fit of 1, rho^2, rho^4."""
    powers = np.stack([np.ones_like(rho), rho**2, rho**4], axis=1)
    root = np.sqrt(weight)
    fit = np.linalg.lstsq(powers * root[:, None], (waves * root).T, rcond=None)[0]
    rim = test.optical_diameter_mm / 2.0
    return np.asarray(-1.0 + 4.0 * fit[2] * WAVE_MM * test.radius_mm**3 / rim**4)
