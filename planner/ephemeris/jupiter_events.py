"""What happens to Jupiter's moons: transits, shadows, eclipses and occultations, with their times.

Middles: half the moon's light gone, its centre or its shadow's on the edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import AU_KM
from planner.ephemeris.aspect import LIGHT_DAYS_PER_AU
from planner.ephemeris.jupiter_paths import (
    FLATTENING,
    JUPITER_KM,
    MOON_RADII_KM,
    jupiter_paths,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.jupiter_paths import JupiterPaths

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]
    Bools = NDArray[np.bool_]

GRID_DAYS = 10.0 / 1440.0
HALVINGS = 16  # of a bracket of ten minutes: a hundredth of a second
GRAZE = -0.03  # a highest value so near 0 may hide two passages between grid points
GRAZE_POINTS = 81
_LIGHT_DAYS = LIGHT_DAYS_PER_AU * JUPITER_KM / AU_KM  # over one radius of Jupiter
_EARTH, _SUN, _VELOCITY = 0, 1, 2


class Happening(IntEnum):
    """What a moon of Jupiter does."""

    TRANSIT = 0  # it crosses the lit disc
    SHADOW = 1  # its shadow does
    OCCULTATION = 2  # it goes behind the disc
    ECLIPSE = 3  # it goes into Jupiter's shadow


@dataclass(frozen=True, slots=True, eq=False)
class JupiterEvents:
    """N passages in order of time: arrays (N,).

    ``day`` is terrestrial time in days since 2451545, as seen on Earth; ``moon`` 0 to 3 from Io to
    Callisto; ``happening`` a number of ``Happening``; ``begins`` tells a beginning from an end;
    ``hidden`` marks what nobody sees: an eclipse behind the disc, an occultation in the shadow.
    ``fade_days`` is how long the moon or its shadow takes to cross the edge; longer on a slant.
    """

    day: Floats
    moon: Ints
    happening: Ints
    begins: Bools
    hidden: Bools
    fade_days: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """Moons in a projection from one place: how far inside the disc, and which side of it.

    ``inside`` is above 0 within the disc, ``depth`` along the line of sight, towards us above 0.
    """

    inside: Floats
    depth: Floats
    hit: Floats


def moon_places(paths: JupiterPaths, days: Floats) -> tuple[Floats, Floats, Floats]:
    """Where the four moons stand beside Jupiter: x, y and depth, each (T, 4), in its radii.

    x counts along the equator towards celestial west (the way the sky drifts), y towards its
    north pole, depth towards us. Light time and perspective are in.
    """
    which = np.arange(4)
    when = np.broadcast_to(days[:, None], (len(days), 4))
    moon, rate = paths.moons.at(when, np.broadcast_to(which, when.shape))
    earth, _, velocity = (paths.others.at(days, np.full(len(days), k))[0] for k in range(3))
    towards = _unit(earth)[:, None]
    moon = moon + (rate + velocity[:, None]) * (_dot(moon, towards) * _LIGHT_DAYS)[..., None]
    depth = _dot(moon, towards)
    west = _unit(np.cross(paths.pole, _unit(earth)))[:, None]
    north = np.cross(towards, west)
    scale = 1.0 / (1.0 - depth / np.linalg.norm(earth, axis=-1)[:, None])
    return _dot(moon, west) * scale, _dot(moon, north) * scale, depth


def jupiter_events(first_day: float, last_day: float) -> JupiterEvents:
    """Every passage between two days (terrestrial time, days since 2451545).

    A value above 0 while the thing lasts is laid on a grid of ten minutes and its changes of
    sign halved down. Jupiter is the ellipsoid it is; a transit begins and ends at the lit edge
    and a shadow where we see it, which matters by 2 minutes away from opposition.
    Limits: against 60 times printed by the Paris almanac office for January 2016 within 0.8
    minutes from Io to Ganymede, 1.1 for Callisto.
    """
    paths = jupiter_paths(first_day, last_day)
    steps = int((last_day - first_day) / GRID_DAYS) + 2
    days = np.asarray(first_day + GRID_DAYS * np.arange(steps), dtype=float)
    found = []
    for moon in range(4):
        which = np.full(len(days), moon, dtype=np.intp)
        values = _values(paths, days, which)
        found += [_passages(paths, days, values[kind], moon, kind) for kind in Happening]
    day, rising, moons, kinds = (np.concatenate(column) for column in zip(*found, strict=True))
    keep = np.flatnonzero((day >= first_day) & (day <= last_day))
    keep = keep[np.argsort(day[keep], kind="stable")]
    return _described(paths, day[keep], moons[keep], kinds[keep], rising[keep])


def happening_at(paths: JupiterPaths, day: float) -> Bools:
    """Which of the four moons does what at a day, by ``Happening`` (4, 4)."""
    return np.asarray(_values(paths, np.full(4, day), np.arange(4)) > 0.0)


def happening_through(paths: JupiterPaths, days: Floats) -> Bools:
    """The same at many days: by ``Happening``, moon and day (4, 4, T)."""
    which = np.repeat(np.arange(4), len(days))
    return np.asarray(_values(paths, np.tile(days, 4), which).reshape(4, 4, len(days)) > 0.0)


def _described(
    paths: JupiterPaths, day: Floats, moon: Ints, kind: Ints, begins: Bools
) -> JupiterEvents:
    every = _values(paths, day, moon)
    hidden = (kind == Happening.ECLIPSE) & (every[Happening.OCCULTATION] > 0.0)
    hidden |= (kind == Happening.OCCULTATION) & (every[Happening.ECLIPSE] > 0.0)
    speed = np.linalg.norm(paths.moons.at(day, moon)[1], axis=-1)
    fade = 2.0 * np.array(MOON_RADII_KM)[moon] / JUPITER_KM / speed
    return JupiterEvents(day, moon, kind, begins, hidden, fade)


def _passages(
    paths: JupiterPaths, days: Floats, values: Floats, moon: int, kind: Happening
) -> tuple[Floats, Bools, Ints, Ints]:
    """Times of the changes of sign of one value, and which go up."""
    starts = [np.flatnonzero((values[1:] > 0.0) != (values[:-1] > 0.0))]
    low, high = [days[starts[0]]], [days[starts[0] + 1]]
    rising = [values[starts[0] + 1] > 0.0]
    inner = values[1:-1]
    peaks = (inner <= 0.0) & (inner > GRAZE) & (inner >= values[2:]) & (inner >= values[:-2])
    for peak in np.flatnonzero(peaks) + 1:
        fine = np.linspace(days[peak - 1], days[peak + 1], GRAZE_POINTS)
        which = np.full(len(fine), moon, dtype=np.intp)
        above = _values(paths, fine, which)[kind] > 0.0
        steps = np.flatnonzero(above[1:] != above[:-1])
        low.append(fine[steps])
        high.append(fine[steps + 1])
        rising.append(above[steps + 1])
    before, after, up = np.concatenate(low), np.concatenate(high), np.concatenate(rising)
    which = np.full(len(before), moon, dtype=np.intp)
    for _ in range(HALVINGS):
        middle = (before + after) / 2.0
        ahead = (_values(paths, middle, which)[kind] > 0.0) == up
        before, after = np.where(ahead, before, middle), np.where(ahead, middle, after)
    return (before + after) / 2.0, up, which, np.full(len(before), int(kind), dtype=np.intp)


def _values(paths: JupiterPaths, days: Floats, which: Ints) -> Floats:
    """For moons at days (N,) each: above 0 while it happens, by ``Happening`` (4, N)."""
    moon, rate = paths.moons.at(days, which)
    earth, sun, velocity = (paths.others.at(days, np.full(len(days), k))[0] for k in range(3))
    to_earth = _unit(earth)
    reach = np.linalg.norm(sun, axis=-1, keepdims=True)
    sun = _unit(sun / reach + velocity * _LIGHT_DAYS) * reach  # aberration
    to_sun = _unit(sun)
    away = _dot(moon, to_earth)
    seen = moon + (rate + velocity) * (away * _LIGHT_DAYS)[..., None]
    lit = moon + rate * (away * _LIGHT_DAYS)[..., None]
    casting = moon - rate * (_dot(moon, to_sun) * _LIGHT_DAYS)[..., None]
    stretch = _Stretch(paths.pole)
    from_earth = _sight(stretch.of(earth), stretch.of(seen))
    from_sun = _sight(stretch.of(sun), stretch.of(lit))
    shadow = _sight(stretch.of(sun), stretch.of(casting))
    earthward, sunward = _unit(stretch.of(to_earth)), _unit(stretch.of(to_sun))
    return np.stack([
        _where_facing(from_earth, sunward),
        _where_facing(shadow, earthward),
        np.where(from_earth.depth < 0.0, from_earth.inside, -1.0),
        np.where(from_sun.depth < 0.0, from_sun.inside, -1.0),
    ])  # fmt: skip


def _where_facing(sight: Sight, direction: Floats) -> Floats:
    """How far inside the disc and on the half of the globe that faces a direction."""
    facing = np.minimum(sight.inside, _dot(sight.hit, direction))
    return np.where(sight.depth > 0.0, np.where(sight.inside > 0.0, facing, sight.inside), -1.0)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Makes the flattened globe a sphere of radius 1, by drawing space out along its axis."""

    pole: Floats

    def of(self, vectors: Floats) -> Floats:
        return vectors + np.multiply.outer(
            vectors @ self.pole * (1.0 / (1.0 - FLATTENING) - 1.0), self.pole
        )


def _sight(eye: Floats, moon: Floats) -> Sight:
    """The lines from an eye (N, 3) through moons (N, 3) past the unit sphere."""
    along = _unit(moon - eye)
    back = -_dot(eye, along)
    foot = eye + back[..., None] * along
    past = np.linalg.norm(foot, axis=-1)
    half = np.sqrt(np.maximum(1.0 - past**2, 0.0))
    return Sight(
        inside=np.where(past < 1.0, half, 1.0 - past),
        depth=_dot(moon, _unit(eye)),
        hit=foot - half[..., None] * along,
    )


def _dot(a: Floats, b: Floats) -> Floats:
    return np.asarray(np.sum(a * b, axis=-1))


def _unit(vectors: Floats) -> Floats:
    return np.asarray(vectors / np.linalg.norm(vectors, axis=-1, keepdims=True))
