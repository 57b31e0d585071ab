"""Jupiter's four moons over a stretch of time, ready to be asked at any moment of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import AU_KM, J2000_JD
from planner.ephemeris.aspect import LIGHT_DAYS_PER_AU
from planner.ephemeris.axes import rotation
from planner.ephemeris.kernel import kernel, timescale

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

MOON_NAMES = ("Io", "Europa", "Ganymede", "Callisto")
MOON_RADII_KM = (1821.6, 1560.8, 2631.2, 2410.3)  # IAU working group 2015 (from memory)
JUPITER_KM = 71492.0  # equatorial radius; IAU working group 2015
FLATTENING = 1.0 - 66854.0 / 71492.0
STEP_DAYS = 0.1  # cubics between are good to 18 km, a second of Io's way
_SUN, _EARTH, _JUPITER = 10, 399, 5


@dataclass(frozen=True, slots=True, eq=False)
class Curves:
    """Curves sampled at even steps of days with their rates, joined by cubics.

    ``values`` and ``rates`` (T, M, 3): M curves of three components, rates a day.
    """

    first: float
    step: float
    values: Floats
    rates: Floats

    def at(self, days: Floats, which: Ints) -> tuple[Floats, Floats]:
        """Values and rates of the curves ``which`` at days, both (...,); the answer (..., 3)."""
        place = (days - self.first) / self.step
        low = np.clip(place.astype(np.intp), 0, len(self.values) - 2)
        u = (place - low)[..., None]
        a, b = self.values[low, which], self.values[low + 1, which]
        va, vb = self.rates[low, which] * self.step, self.rates[low + 1, which] * self.step
        lean, bend = 3.0 * (b - a) - 2.0 * va - vb, 2.0 * (a - b) + va + vb
        value = a + u * (va + u * (lean + u * bend))
        return value, (va + u * (2.0 * lean + u * 3.0 * bend)) / self.step


@dataclass(frozen=True, slots=True, eq=False)
class JupiterPaths:
    """Moons about Jupiter, and Jupiter about Earth and Sun, in units of Jupiter's radius.

    Days are Julian dates of terrestrial time less 2451545, as seen from the Earth. ``moons``
    (T, 4, 3) are positions relative to Jupiter when the light left it; ``others`` (T, 3, 3) the
    Earth's centre and the Sun from Jupiter then, and Jupiter's velocity about the Sun. ``pole`` is
    its north pole.
    """

    moons: Curves
    others: Curves
    pole: Floats


def jupiter_paths(first_day: float, last_day: float) -> JupiterPaths:
    """The paths from one day to another, days of terrestrial time since 2451545.

    Source: Lainey's theory L1.2 (Lainey, Duriez & Vienne 2004, A&A 420, 1171) in
    astronomy-engine; DE421 for Jupiter, Earth and Sun. Limits: agrees with E5 within 6 to 30 s.
    """
    import astronomy  # here: most commands want no moons of Jupiter

    days = first_day - STEP_DAYS + STEP_DAYS * np.arange((last_day - first_day) / STEP_DAYS + 4.0)
    earth, sun, light = _geometry(days)
    left = days - light
    states = [astronomy.JupiterMoons(astronomy.Time.FromTerrestrialTime(t)) for t in left.tolist()]
    numbers = np.array([
        [(m.x, m.y, m.z, m.vx, m.vy, m.vz) for m in (s.io, s.europa, s.ganymede, s.callisto)]
        for s in states
    ])  # fmt: skip
    numbers *= AU_KM / JUPITER_KM
    moving = np.gradient(sun, days, axis=0)
    others = np.stack([earth, sun, -moving], axis=1)
    middle = np.array([J2000_JD + (first_day + last_day) / 2.0])
    pole, _ = rotation("Jupiter", middle)
    slopes = np.gradient(others, days, axis=0)
    return JupiterPaths(
        moons=Curves(float(days[0]), STEP_DAYS, numbers[..., :3], numbers[..., 3:]),
        others=Curves(float(days[0]), STEP_DAYS, others, slopes),
        pole=pole[:, 0],
    )


def _geometry(days: Floats) -> tuple[Floats, Floats, Floats]:
    """Earth and Sun from Jupiter, in its radii (T, 3), and the light's way to Earth in days."""
    times = timescale().tt_jd(days + J2000_JD)
    earth = kernel()[_EARTH].at(times)
    jupiter = np.asarray(earth.observe(kernel()[_JUPITER]).xyz.au)
    light = np.linalg.norm(jupiter, axis=0) * LIGHT_DAYS_PER_AU
    left = timescale().tt_jd(days - light + J2000_JD)
    sun = np.asarray((kernel()[_SUN] - kernel()[_JUPITER]).at(left).xyz.au)
    return -jupiter.T * (AU_KM / JUPITER_KM), sun.T * (AU_KM / JUPITER_KM), light
