"""A planet close up in the view planned for it: disc, phase, ring and moons to scale."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, radians, sin
from typing import TYPE_CHECKING

import numpy as np

from planner.charts.clip import ellipse_points
from planner.charts.drawing import Drawing
from planner.charts.labels import Label, placed_labels
from planner.charts.rim import scale_bar
from planner.charts.scene import Area, Dot, Ellipse, Pen, Scene, Tone
from planner.constants import J2000_JD
from planner.ephemeris.aspect import LIGHT_DAYS_PER_AU, planet_aspect, ring_axes_arcsec
from planner.ephemeris.bodies import PLANETS
from planner.ephemeris.moments import grid_at

if TYPE_CHECKING:
    from planner.charts.projection import Projection
    from planner.charts.sky import Sky
    from planner.charts.subject import Subject
    from planner.ephemeris.aspect import Aspect

    Moon = tuple[str, float, float]  # name, radii along the equator to the west, to the north

FLATTENING = {"Jupiter": 0.0649, "Saturn": 0.098}  # IAU working group 2015 (from memory)
# Own judgement: half widths drawn, in radii of the disc; Jupiter's outermost moon is 26 away.
HALF_WIDTH = {"Jupiter": 27.5, "Saturn": 4.6}
USUAL_HALF_WIDTH = 1.7
INNER_RING = 0.667  # inner edge of ring B over the outer one of A; Meeus 1998, ch. 45
MOON_PT, STEPS = 1.3, 40
TOO_FAINT = ("Mimas", "Enceladus")  # in the glare of planet and ring


@dataclass(frozen=True, slots=True)
class _Close:
    """From radii of the disc along its equator (west) and axis (north) to points of the view."""

    west: tuple[float, float]
    north: tuple[float, float]

    def at(self, x: float, y: float) -> tuple[float, float]:
        return (
            x * self.west[0] + y * self.north[0],
            x * self.west[1] + y * self.north[1],
        )


def disc_scene(subject: Subject, sky: Sky, flat: Projection, title: str) -> Scene:
    """A planet at the sky's minute, turned as the view turns; ``flat`` is the view's field.

    Dark where the disc is not lit. Of Saturn's ring the outer and inner edge; of its moons and
    Jupiter's those inside the circle and clear of the disc.
    Limits: markings are not drawn, nor the globe's shadow on the ring.
    """
    planet = next(body for body in PLANETS if body.name == subject.name)
    found = planet_aspect(grid_at(sky.site, sky.moment, [0.0]), planet)
    assert subject.axes_arcmin is not None
    half = HALF_WIDTH.get(subject.name, USUAL_HALF_WIDTH)
    unit = flat.radius_pt / half
    close = _close(flat, float(found.axis_angle[0]), unit)
    drawing = Drawing(flat.radius_pt)
    ratio = 1.0 - FLATTENING.get(subject.name, 0.0)
    shade = _dark_side(flat, found, unit)
    turn = flat.direction_deg(float(found.axis_angle[0]) - 90.0)
    if subject.name == "Saturn":
        _ring(drawing, found, subject.axes_arcmin[0] * 60.0, close)
    globe = Ellipse(0.0, 0.0, (unit, ratio * unit), turn, Pen.SOLID)
    drawing.ellipse(globe)
    for name, x, y in _moons(subject.name, found):
        px, py = close.at(x, y)
        if hypot(x, y) > 1.05 and hypot(px, py) < flat.radius_pt - 2.0:
            drawing.dots.append(Dot(px, py, MOON_PT))
            drawing.labels.append(Label(px, py, name[:2], 2, 7.0, clear_pt=0.8))
    body = Dot(0.0, 0.0, 2.0 * unit)
    words, leaders = placed_labels(
        drawing.labels, drawing.radius, [*drawing.dots, body], drawing.lines
    )
    scale = _scaled(flat, unit / (subject.axes_arcmin[0] * 30.0))
    bar, bar_words = scale_bar(scale)
    dark = (Area(shade, Tone.SHADE),) if len(shade) > 2 else ()
    return Scene(
        radius_pt=flat.radius_pt, rim=Pen.SOFT_RIM,
        areas=(Area(tuple(ellipse_points(globe)), Tone.LIT), *dark),
        lines=(*drawing.lines, *leaders, *bar), ellipses=tuple(drawing.ellipses),
        dots=tuple(drawing.dots), words=(*words, bar_words), title=title,
    )  # fmt: skip


def _close(flat: Projection, axis_deg: float, unit: float) -> _Close:
    """West is a quarter turn before north in position angle."""
    west, north = (radians(flat.direction_deg(axis_deg + by)) for by in (-90.0, 0.0))
    return _Close((unit * cos(west), unit * sin(west)), (unit * cos(north), unit * sin(north)))


def _scaled(flat: Projection, points_per_arcsec: float) -> Projection:
    from dataclasses import replace

    return replace(flat, matrix=flat.matrix / flat.points_per_deg * points_per_arcsec * 3600.0)


def _dark_side(flat: Projection, found: Aspect, unit: float) -> tuple[tuple[float, float], ...]:
    """The unlit part of the disc: half the limb, and the terminator as half an ellipse.

    The terminator stands ``cos(phase angle)`` radii from the middle. Source: Meeus 1998, ch. 41.
    """
    lit = radians(flat.direction_deg(float(found.bright_limb_angle[0])))
    edge = -cos(radians(float(found.phase_angle[0])))
    if edge < -0.97:
        return ()
    around = np.linspace(0.5 * np.pi, 1.5 * np.pi, STEPS)
    limb = [(cos(a), sin(a)) for a in around]
    line = [(-edge * cos(a), sin(a)) for a in around[::-1]]
    c, s = cos(lit), sin(lit)
    return tuple((unit * (x * c - y * s), unit * (x * s + y * c)) for x, y in [*limb, *line])


def _ring(drawing: Drawing, found: Aspect, disc_arcsec: float, close: _Close) -> None:
    """The outer edge of ring A and the inner one of B; the globe hides what is behind it."""
    major, minor = (2.0 * float(axis[0]) / disc_arcsec for axis in ring_axes_arcsec(found))
    near = -1.0 if found.sub_site_lat[0] > 0.0 else 1.0
    globe = 1.0 - FLATTENING["Saturn"]
    for share in (1.0, INNER_RING):
        run: list[tuple[float, float]] = []
        for t in np.linspace(0.0, 2.0 * np.pi, 6 * STEPS + 1):
            x, y = share * major / 2.0 * cos(t), share * minor / 2.0 * sin(t)
            if near * y < 0.0 and hypot(x, y / globe) < 1.0:
                drawing.line(run, Pen.SOLID)
                run = []
            else:
                run.append(close.at(x, y))
        drawing.line(run, Pen.SOLID)


def _moons(name: str, found: Aspect) -> list[Moon]:
    """The moons of Jupiter and Saturn beside their planet, in its radii."""
    if name == "Jupiter":
        from planner.ephemeris.jupiter_events import moon_places
        from planner.ephemeris.jupiter_paths import MOON_NAMES, jupiter_paths

        days = found.tt_jd - J2000_JD + float(found.distance_au[0]) * LIGHT_DAYS_PER_AU
        x, y, _ = moon_places(jupiter_paths(days[0], days[0]), days)
        return [(n, float(x[0, k]), float(y[0, k])) for k, n in enumerate(MOON_NAMES)]
    if name == "Saturn":
        from planner.ephemeris.saturn_moons import SATURN_MOONS, saturn_moons

        x, y, _ = saturn_moons(found)
        rows = enumerate(SATURN_MOONS)
        return [(n, float(x[k, 0]), float(y[k, 0])) for k, n in rows if n not in TOO_FAINT]
    return []
