"""Builds the chart of one place as one looks at it: everything in its circle."""

from __future__ import annotations

import re
from collections import defaultdict
from math import hypot
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import compass_point, separation_deg, unit_vectors
from planner.charts.clip import clipped_area
from planner.charts.drawing import Drawing, chart_point, towards
from planner.charts.labels import Label, placed_labels
from planner.charts.projection import project
from planner.charts.rim import compass_marks, drift_arrow, scale_bar, up_and_down
from planner.charts.scene import Area, Dot, Ellipse, Face, Pen, Scene, Tone, Words
from planner.charts.signs import WIDE_SHARE, pair_bar, sign, target_bars
from planner.charts.star_dots import dot_diameter_pt, field_stars, star_name
from planner.charts.way import draw_way, ringed_stops
from planner.ephemeris.site import horizon_altitude_deg
from planner.targets.catalog import load_deepsky
from planner.targets.figures import load_figures
from planner.targets.kind import DEEP_SKY_KINDS, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.charts.projection import Projection
    from planner.charts.sky import Sky
    from planner.charts.star_dots import FieldStars
    from planner.charts.subject import Subject
    from planner.charts.window import Window
    from planner.hops.hop import Hop

TARGET, PROPER, LETTER, OBJECT, CONSTELLATION = 0, 2, 3, 4, 8  # 1: the stars of a way
OBJECT_MAG = {"eye": 4.8, "finder": 8.0, "telescope": 11.5}  # others than the target; own judgement
MOST_OBJECTS = 10
SAME_PT = 2.0  # a dot so near a named one is the same star


def build_chart(subject: Subject, window: Window, sky: Sky, hop: Hop | None = None) -> Scene:
    """The chart of a subject through a window at the sky's minute, with the way to it if given.

    Only what lies in the circle and above the local horizon is drawn.
    """
    projection = project(
        (subject.ra_deg, subject.dec_deg), sky.zenith, window.turn, window.field_deg,
        window.radius_pt,
    )  # fmt: skip
    drawing = Drawing(window.radius_pt)
    stars = field_stars(subject, window, projection, sky)
    drawing.dots += stars.dots()
    _ground(drawing, projection, sky)
    if window.look == "eye":
        _figures(drawing, projection, sky, window)
    _bodies(drawing, projection, subject, sky)
    _objects(drawing, projection, (subject, window, sky), stars.limit_mag)
    _star_labels(drawing, projection, (stars, window.look), hop)
    if hop is not None and window.look != "telescope":
        draw_way(drawing, projection, hop, legs=window.look == "finder")
    if window.ring_deg is not None and window.ring_deg < window.field_deg:
        ring = 0.5 * window.ring_deg * projection.points_per_deg
        drawing.ellipse(Ellipse(0.0, 0.0, (ring, ring), 0.0, Pen.FIELD))
    _target(drawing, projection, subject, window)
    return _finished(drawing, projection, (subject, window, sky), stars.limit_mag)


def _ground(drawing: Drawing, projection: Projection, sky: Sky) -> None:
    """What lies below the local horizon, as one surface towards the ground."""
    _, (middle,) = sky.horizontal_deg(projection.centre[None, :])
    azimuth = middle + np.linspace(-90.0, 90.0, 181)
    altitude = horizon_altitude_deg(sky.site, azimuth)
    edge = projection.points(sky.direction(altitude, azimuth))
    low = projection.points(sky.direction(np.full(7, -75.0), middle + np.linspace(90.0, -90.0, 7)))
    reach = 6.0 * drawing.radius
    if not (np.hypot(edge[:, 0], edge[:, 1]) < drawing.radius).any():
        return
    outline = np.vstack([edge, low])
    outline = outline * np.minimum(1.0, reach / np.maximum(np.hypot(*outline.T), 1e-9))[:, None]
    area = clipped_area([(float(x), float(y)) for x, y in outline], drawing.radius)
    if len(area) >= 3:
        drawing.areas.append(Area(area, Tone.GROUND))
        drawing.line([(float(x), float(y)) for x, y in edge], Pen.HORIZON)


def _figures(drawing: Drawing, projection: Projection, sky: Sky, window: Window) -> None:
    """Lines of the figures with both ends up, and each constellation's name among its ends."""
    figures = load_figures()
    ends = unit_vectors(figures.ra_deg, figures.dec_deg)
    near = (ends @ projection.centre).min(axis=1) > 0.0
    up = sky.above_ground(ends.reshape(-1, 3)).reshape(-1, 2).all(axis=1)
    shown: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for row in np.flatnonzero(near & up):
        a, b = (chart_point(point) for point in projection.points(ends[row]))
        drawing.line([towards(a, b, 3.5), towards(b, a, 3.5)], Pen.FIGURE)
        inside = [p for p in (a, b) if hypot(*p) < window.radius_pt]
        shown[figures.constellation[row]] += inside
    for name, points in sorted(shown.items()):
        if len(points) >= 2:
            x, y = (sum(values) / len(points) for values in zip(*points, strict=True))
            drawing.labels.append(Label(x, y, name, CONSTELLATION, 8.0, Face.OBLIQUE, clear_pt=0.0))


def _bodies(drawing: Drawing, projection: Projection, subject: Subject, sky: Sky) -> None:
    """The Moon and planets that stand in the circle; the Moon to scale, a planet as a ring."""
    bodies = sky.bodies
    places = unit_vectors(bodies.ra_deg, bodies.dec_deg)
    up = sky.above_ground(places) & (places @ projection.centre > 0.0)
    for row in np.flatnonzero(up & (bodies.name != subject.name)):
        x, y = map(float, projection.points(places[row : row + 1])[0])
        half = float(bodies.diameter_arcsec[row]) / 7200.0 * projection.points_per_deg
        half = max(half, 3.0)
        if hypot(x, y) + half > drawing.radius:
            continue
        drawing.ellipse(Ellipse(x, y, (half, half), 0.0, Pen.SOLID))
        drawing.dots.append(Dot(x, y, 1.2))
        drawing.labels.append(Label(x, y, str(bodies.name[row]), PROPER, clear_pt=half + 0.5))


def _objects(
    drawing: Drawing, projection: Projection, setting: tuple[Subject, Window, Sky], limit: float
) -> None:
    """The brightest deep-sky objects beside the target."""
    subject, window, sky = setting
    table = load_deepsky()
    bright = table.v_mag <= min(OBJECT_MAG[window.look], limit + 0.5)
    rows = np.flatnonzero(bright & np.isin(table.kind, DEEP_SKY_KINDS))
    apart = separation_deg(table.ra_deg[rows], table.dec_deg[rows], subject.ra_deg, subject.dec_deg)
    rows = rows[(apart < window.field_deg / 2.0) & (table.id[rows] != subject.object_id)]
    rows = rows[sky.above_ground(unit_vectors(table.ra_deg[rows], table.dec_deg[rows]))]
    for row in rows[np.argsort(table.v_mag[rows], kind="stable")][:MOST_OBJECTS]:
        x, y = map(float, projection.place(table.ra_deg[row], table.dec_deg[row])[0])
        major, minor = float(table.major_arcmin[row]), float(table.minor_arcmin[row])
        axes = None if np.isnan(major) else (major, major if np.isnan(minor) else minor)
        angle = float(table.position_angle_deg[row])
        outline, strokes = sign(
            table.kind[row], (x, y), axes, None if np.isnan(angle) else angle, projection
        )
        if hypot(x, y) > drawing.radius - 3.0:
            continue
        drawing.ellipse(outline)
        for stroke in strokes:
            drawing.line(list(stroke.points), stroke.pen)
        if hypot(x, y) > 6.0:
            clear = min(outline.half_axes_pt[0], 12.0)
            drawing.labels.append(Label(x, y, _object_name(row), OBJECT, 7.5, clear_pt=clear))


def _object_name(row: int) -> str:
    """The Messier number where there is one, else the catalog's."""
    table = load_deepsky()
    names = (str(table.id[row]), *str(table.names[row]).split("|"))
    return next((name for name in names if re.match(r"M ?\d", name)), names[0])


def _star_labels(
    drawing: Drawing, projection: Projection, what: tuple[FieldStars, str], hop: Hop | None
) -> None:
    """Names of the stars that have any, but those of the way, which stand already."""
    stars, look = what
    stops = [] if hop is None or look == "telescope" else ringed_stops(hop, look == "finder")
    taken = [chart_point(projection.place(stop.ra_deg, stop.dec_deg)[0]) for stop in stops]
    for (x, y), v, hip in zip(stars.points, stars.v_mag, stars.hip, strict=True):
        name = star_name(int(hip), float(v), look)
        if not name or min((hypot(x - a, y - b) for a, b in [*taken, (0.0, 0.0)])) < SAME_PT:
            continue
        size = float(dot_diameter_pt(np.array(v), stars.limit_mag))
        priority = PROPER if len(name) > 3 else LETTER
        drawing.labels.append(
            Label(float(x), float(y), name, priority, 8.0, clear_pt=size / 2.0 + 0.4)
        )


def _target(drawing: Drawing, projection: Projection, subject: Subject, window: Window) -> None:
    """What stands in the middle: its sign, its bars and its name."""
    clear = 3.0
    bars = target_bars(clear)
    if subject.kind in DEEP_SKY_KINDS and subject.kind is not None:
        outline, strokes = sign(
            subject.kind, (0.0, 0.0), subject.axes_arcmin, subject.position_angle_deg, projection
        )
        wide = outline.half_axes_pt[0] > WIDE_SHARE * window.radius_pt
        if not wide:
            clear = max(outline.half_axes_pt)
        drawing.ellipse(outline)
        drawing.lines += [] if wide else strokes
        bars = target_bars(0.0 if wide else min(clear, 0.5 * window.radius_pt))
    elif subject.kind in (Kind.MOON, Kind.PLANET):
        half = (subject.axes_arcmin or (0.0, 0.0))[0] / 120.0 * projection.points_per_deg
        clear = max(3.0, half)
        drawing.ellipse(Ellipse(0.0, 0.0, (clear, clear), 0.0, Pen.SOLID))
        bars = target_bars(clear)
    elif subject.kind is Kind.DOUBLE and subject.position_angle_deg is not None:
        bars = pair_bar(subject.position_angle_deg, projection)
        clear = 5.0
    for bar in bars:
        drawing.line(list(bar.points), bar.pen)
    reach = min(max(clear, 3.0) + 2.0, 0.45 * window.radius_pt)
    drawing.labels.append(Label(0.0, 0.0, subject.name, TARGET, 9.0, Face.BOLD, reach, True))


def _finished(
    drawing: Drawing, projection: Projection, setting: tuple[Subject, Window, Sky], limit: float
) -> Scene:
    """Labels placed, marks at the rim, title and notes."""
    subject, window, sky = setting
    rings = [
        Dot(e.x, e.y, 2.0 * max(e.half_axes_pt)) for e in drawing.ellipses
        if max(e.half_axes_pt) <= 5.5
    ]  # fmt: skip
    words, leaders = placed_labels(
        drawing.labels, drawing.radius, [*drawing.dots, *rings], drawing.lines
    )
    marks, letters = compass_marks(projection)
    shaft, head = drift_arrow(projection)
    bar, bar_words = scale_bar(projection)
    areas: Sequence[Area] = ()
    beside: Sequence[Words] = ()
    if window.look == "eye":
        (height,), (azimuth,) = sky.horizontal_deg(projection.centre[None, :])
        where = compass_point(float(azimuth))
        areas, beside = up_and_down(drawing.radius, f"horizon in the {where}, {height:.0f}° down")
    return Scene(
        radius_pt=drawing.radius,
        rim=window.rim,
        areas=(*drawing.areas, *areas, head),
        lines=(*drawing.lines, *leaders, *marks, shaft, *bar),
        ellipses=tuple(drawing.ellipses),
        dots=tuple(drawing.dots),
        words=(*words, *letters, bar_words, *beside),
        title=window.title,
        notes=chart_notes(window, limit),
        room_pt=24.0,
    )


def chart_notes(window: Window, drawn_mag: float) -> tuple[str, str]:
    """How the view is turned, and how wide it is and how faint its stars are."""
    wide = width_words(window.field_deg)
    shown = window.ring_deg is not None and window.ring_deg < window.field_deg
    ring = f"ring: {window.ring_name} {width_words(window.ring_deg or 0.0)}; " if shown else ""
    stars = f"stars to {drawn_mag:.1f}"
    if window.look == "telescope" and window.wished_mag > drawn_mag + 0.3:
        stars += f"; to {window.wished_mag:.0f} show"
    return turn_words(window), f"{ring}{wide} wide; {stars}"


def width_words(field_deg: float) -> str:
    """The width of a field: ``6°``, ``1.5°``, ``23′``."""
    if field_deg >= 1.0:
        return f"{field_deg:.1f}".removesuffix(".0") + "°"
    return f"{field_deg * 60:.0f}′"


def turn_words(window: Window) -> str:
    """The sense of the view and its turn."""
    turn = window.turn
    angle = round(turn.zenith_cw_deg) % 360
    if not turn.known:
        return "not mirrored, turned by 180° or so: not known"
    if turn.mirrored:
        return "left and right swapped" + (f", turned {angle}° clockwise" if angle else "")
    if angle == 0:
        return "upright, as the eye sees it"
    return "turned by 180°, not mirrored" if angle == 180 else (
        f"turned {angle}° clockwise, not mirrored"
    )  # fmt: skip
