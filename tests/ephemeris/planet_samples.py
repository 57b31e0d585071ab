"""Vectors from the Earth's centre, in which the published examples are given."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np

from planner.ephemeris.aspect import aspect
from planner.ephemeris.bodies import PLANETS
from planner.ephemeris.kernel import kernel, times_after, timescale

NUMBERS = {planet.name: planet.naif_number for planet in PLANETS}


def utc(text):
    return times_after(datetime.fromisoformat(text).replace(tzinfo=UTC), [0.0])


def tt(text):
    y, m, d = (int(part) for part in text.split("-"))
    return timescale().tt(y, m, [float(d)])


def geocentric(name, when):
    """The aspect from the Earth's centre at a skyfield Time (T,)."""
    earth = kernel()[399].at(when)
    planet = np.asarray(earth.observe(kernel()[NUMBERS[name]]).xyz.au)
    sun = np.asarray(earth.observe(kernel()[10]).xyz.au)
    return aspect(name, planet, sun, np.asarray(when.tt))


def around_sun(name, when):
    """Velocity of a planet about the Sun, (3, T)."""
    return np.asarray((kernel()[NUMBERS[name]] - kernel()[10]).at(when).velocity.au_per_d)
