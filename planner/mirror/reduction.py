"""From zone readings to the wave: its most likely profile, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import WAVELENGTH_NM
from planner.mirror.band import Steps, drawn_waves
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
FOCUS_WAVES, CONIC_WAVES = 10.0, 3.0  # prior of rho^2 and rho^4: as good as free
ROUGH_WAVES = (0.015, 0.03, 0.06, 0.10, 0.15)  # sizes of the rest, alike beforehand; by hand
ROUGH_LENGTH = 0.20  # its length in rho; by hand
RADII = 121
BAND_SHARES = (0.1, 0.9)  # of all waves of the band, by Strehl ratio: what verdicts are made for
LEAST_TOLD_RMS_WAVES = 0.01  # below it the lower end says nothing; own judgement
_FOCI = np.linspace(-0.6, 0.6, 61)


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
    band whose Strehl ratio nine in ten and one in ten exceed. ``steps`` is the wave's rise across
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
    peak_to_valley_waves: float
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

    Steps across windows are linear data on the wave; the prior leaves focus and conic free and
    asks of the rest no more than to be smooth, of a size that the readings themselves make likely.
    The nearest conic is taken out by exact rays first. The band is drawn with the sizes of the
    prior and the knife's error unknown too (band), or smooth mirrors would be told too rough.
    Never shows astigmatism, roughness, or rings narrower than a window.
    """
    mean = averaged(test)
    raw = wave_steps(test, mean.readings_mm - theory_mm(test))
    rho = np.linspace(0.0, 1.0, RADII)
    weight = _area_weight(rho)
    first = _mean_wave(test, _focus_free(test, raw), mean.knife_error_mm, mean.runs)
    near = float(_conics(test, rho, weight, first[None])[0])
    left = wave_steps(test, mean.readings_mm - conic_travel_mm(test, near))
    near_wave = _conic_wave(test, near, rho)
    wave = _mean_wave(test, _focus_free(test, left), mean.knife_error_mm, mean.runs)
    wave = _refocused(rho, weight, (wave + near_wave)[None])[0]
    draws = near_wave + _draws(test, left, near, mean, np.random.default_rng(seed))
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
        peak_to_valley_waves=float(np.ptp(wave)),
        strehl=_interval(float(_strehls(rho, weight, wave[None])[0]), strehls),
        conic=_interval(float(_conics(test, rho, weight, wave[None])[0]), conics),
    )  # fmt: skip


def predicted_last_step(found: Reduction) -> tuple[float, float]:
    """The rise of the wave across the last window that the others predict, and its error, waves.

    For the size of the rest that makes the others likeliest.
    """
    test, mean, steps = found.test, found.averaged, found.steps
    errors = np.diag(_step_errors(test, mean.knife_error_mm, mean.runs) ** 2)
    best = (-np.inf, 0.0, 1.0)
    for size in ROUGH_WAVES:
        data = _step_prior(test, size) + errors
        known, across = data[:-1, :-1], data[:-1, -1]
        gain = np.linalg.solve(known, across)
        _, volume = np.linalg.slogdet(known)
        likely = -0.5 * float(steps[:-1] @ np.linalg.solve(known, steps[:-1]) + volume)
        if likely > best[0]:
            best = (likely, float(gain @ steps[:-1]), float(data[-1, -1] - gain @ across))
    return best[1], max(best[2], 1e-12) ** 0.5


def _step_prior(test: MirrorTest, size: float) -> Floats:
    """Covariance (zones, zones) of the wave's rises across the windows."""
    rim = test.optical_diameter_mm / 2.0
    inner, outer = test.inner_mm / rim, test.outer_mm / rim
    data = _prior(outer, outer, size) - _prior(outer, inner, size) - _prior(inner, outer, size)
    return np.asarray(data + _prior(inner, inner, size))


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


def _prior(one: Floats, other: Floats, size: float) -> Floats:
    r, s = one[:, None], other[None, :]
    near, across = ((r - s) / ROUGH_LENGTH) ** 2, ((r + s) / ROUGH_LENGTH) ** 2
    rough = size**2 / 2.0 * (np.exp(-near / 2.0) + np.exp(-across / 2.0))
    return np.asarray(FOCUS_WAVES**2 * (r * s) ** 2 + CONIC_WAVES**2 * (r * s) ** 4 + rough)


@dataclass(frozen=True, slots=True, eq=False)
class _Posterior:
    """For one size of the rest: mean (RADII,) and its log likelihood."""

    wave: Floats
    likelihood: float


def _posterior(
    test: MirrorTest, steps: Floats, knife_error_mm: float, runs: int, size: float
) -> _Posterior:
    rim = test.optical_diameter_mm / 2.0
    inner, outer = test.inner_mm / rim, test.outer_mm / rim
    rho = np.linspace(0.0, 1.0, RADII)
    cross = _prior(rho, outer, size) - _prior(rho, inner, size)
    data = _step_prior(test, size) + np.diag(_step_errors(test, knife_error_mm, runs) ** 2)
    gain: Floats = np.asarray(np.linalg.solve(data, cross.T).T)
    _, volume = np.linalg.slogdet(data)
    likelihood = -0.5 * float(steps @ np.linalg.solve(data, steps) + volume)
    return _Posterior(gain @ steps, likelihood)


def _posteriors(
    test: MirrorTest, steps: Floats, knife_error_mm: float, runs: int
) -> tuple[list[_Posterior], Floats]:
    """The posterior for each size of the rest, and how likely each size is: sum 1."""
    found = [_posterior(test, steps, knife_error_mm, runs, size) for size in ROUGH_WAVES]
    told = np.array([one.likelihood for one in found])
    weight = np.exp(told - told.max())
    return found, weight / weight.sum()


def _mean_wave(test: MirrorTest, steps: Floats, knife_error_mm: float, runs: int) -> Floats:
    """The most likely wave (RADII,), over all sizes of the rest."""
    found, weight = _posteriors(test, steps, knife_error_mm, runs)
    return np.asarray(weight @ np.array([one.wave for one in found]))


def _draws(
    test: MirrorTest, left: Floats, near: float, mean: Averaged, random: np.random.Generator
) -> Floats:
    """Waves (draws, RADII) from the posterior, the near conic taken out."""
    rim = test.optical_diameter_mm / 2.0
    steps = Steps(
        inner=test.inner_mm / rim, outer=test.outer_mm / rim,
        rise=_focus_free(test, left), error=_step_errors(test, mean.knife_error_mm, mean.runs),
        freedom=mean.freedom,
        conic_waves=(1.0 + near) * rim**4 / (4.0 * WAVE_MM * test.radius_mm**3),
    )  # fmt: skip
    return drawn_waves(steps, np.linspace(0.0, 1.0, RADII), random)


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
