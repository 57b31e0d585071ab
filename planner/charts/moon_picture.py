"""The Moon as one view shows her at a minute: lit relief, turned like the image, features marked.

``moon_picture`` makes it once; ``ink_raster`` is it for paper, and as light for a page on a phone.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import longitude_latitude_deg
from planner.charts.moon_disc import ROOM, disc_shades, moon_view
from planner.charts.projection import project
from planner.charts.scene import Anchor, Face, Pen, Raster, Scene, Words
from planner.ephemeris.body_position import MOON, body_position
from planner.ephemeris.moments import grid_at
from planner.ephemeris.moon_face import moon_face
from planner.targets.lunar_features import load_lunar_features
from planner.verdict.bodies.features import Sureness
from planner.verdict.bodies.lunar_markings import LIGHT_KINDS, LightKind

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.ephemeris.site import Site
    from planner.optics.turn import Turn
    from planner.verdict.bodies.features import Feature

    Floats = NDArray[np.float64]

SIDE = 600  # pixels
MARKED = 8  # features on a small picture; own judgement
DARK_INK = (
    0.8  # of full ink on the Moon's dark side, so that a page does not get wet; own judgement
)
MARK_PT = 6.5
LEAST_APART, MOST_APART = 0.075, 0.14  # radii between two numbers: of many, and of few
ASIDE = 0.13  # radii of a number from its feature, towards the dark side


@dataclass(frozen=True, slots=True)
class Mark:
    """A numbered feature: its place and that of its number, right and up in radii of the Moon."""

    number: int
    name: str
    right: float
    up: float
    label: tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class MoonPicture:
    """``shades`` (side, side) 0..1 from the top, ``on`` the disc; ``sky_north``, ``sky_east`` and
    ``axis`` (the Moon's north pole) as (right, up); ``marks`` in their order.
    """

    shades: Floats
    on: NDArray[np.bool_]
    marks: tuple[Mark, ...]
    sky_north: tuple[float, float]
    sky_east: tuple[float, float]
    axis: tuple[float, float]


def moon_picture(
    site: Site, time: dt.datetime, turn: Turn, names: Sequence[str] = (), side: int = SIDE
) -> MoonPicture:
    """The Moon from a site at a time, turned as a view turns her, with features marked by number.

    Names that the table of features lacks, or that lie behind the limb, are left out.
    """
    grid = grid_at(site, time, [0.0])
    face, here = moon_face(grid), body_position(grid, MOON)
    ra, dec = longitude_latitude_deg((here.vector_au / here.distance_au)[:, 0])
    flat = project((float(ra), float(dec)), grid.zenith[:, 0], turn, 1.0, 1.0)
    view = moon_view(face, flat.matrix)
    shades, on = disc_shades(view, side)
    east, north = (flat.matrix / np.sqrt(abs(np.linalg.det(flat.matrix)))).T
    features = load_lunar_features()
    rows = {str(name): row for row, name in enumerate(features.name)}
    chosen = [rows[name] for name in names if name in rows]
    right, up = view.places(features.lon_east_deg[chosen], features.lat_deg[chosen])
    seen = [k for k in range(len(chosen)) if np.isfinite(right[k])]
    labels = _labels([(float(right[k]), float(up[k])) for k in seen], view.towards_dark)
    marks = tuple(
        Mark(n + 1, str(features.name[chosen[k]]), float(right[k]), float(up[k]), labels[n])
        for n, k in enumerate(seen)
    )
    axis = view.matrix[:, 1]
    return MoonPicture(
        shades, on, marks, _pair(north), _pair(east), _pair(axis / np.hypot(*axis))
    )  # fmt: skip


def marked_names(features: Sequence[Feature], most: int = MARKED) -> tuple[str, ...]:
    """The names worth a mark on a small picture: of those that show, the only just possible ones,
    then rilles, scarps, domes and mountains, then the largest craters; seas tell themselves.
    """
    table = load_lunar_features()
    rows = {str(name): row for row, name in enumerate(table.name)}

    def rank(feature: Feature) -> tuple[bool, bool, float]:
        row = rows[feature.name]
        crater = bool(table.kind[row] == "crater")
        return feature.sureness is Sureness.PLAIN, crater, -float(table.size_km[row])

    seen = [
        feature
        for feature in features
        if feature.name in rows
        and feature.sureness > Sureness.NOT_TONIGHT
        and LIGHT_KINDS[table.kind[rows[feature.name]]] is not LightKind.SHADE
    ]
    return tuple(feature.name for feature in sorted(seen, key=rank)[:most])


def ink_raster(picture: MoonPicture, radius_pt: float) -> Raster:
    """For white paper the lit ground stays white, the dark side a dark grey; and her light."""
    ink = np.where(picture.on, DARK_INK * (1.0 - picture.shades), 0.0)
    light = np.where(picture.on, picture.shades, 0.0)
    return Raster(0.0, 0.0, radius_pt * ROOM, len(ink), _bytes(ink), _bytes(light))


def moon_scene(picture: MoonPicture, radius_pt: float, title: str) -> Scene:
    """The picture for paper in a circle of that radius, its features numbered."""
    words = tuple(
        Words(radius_pt * mark.label[0], radius_pt * mark.label[1] - MARK_PT / 3.0,
              str(mark.number), MARK_PT, Anchor.MIDDLE, Face.BOLD, clears=True)
        for mark in picture.marks
    )  # fmt: skip
    return Scene(radius_pt, Pen.SOFT_RIM, rasters=(ink_raster(picture, radius_pt),), words=words,
                 title=title)  # fmt: skip


def _labels(places: list[tuple[float, float]], dark: Floats) -> list[tuple[float, float]]:
    """Places of numbers: from their feature towards the dark side, spread along the terminator."""
    along = np.array([-dark[1], dark[0]])
    flat = np.array(places).reshape(-1, 2)
    row, depth = flat @ along, flat @ dark
    order = np.argsort(row)
    spread = row[order].copy()
    apart = max(LEAST_APART, min(MOST_APART, 1.6 / max(len(places), 1)))
    for n in range(1, len(spread)):
        spread[n] = max(spread[n], spread[n - 1] + apart)
    spread += (row.mean() - spread.mean()) if len(row) else 0.0
    found = np.empty_like(flat)
    found[order] = np.outer(spread, along) + np.outer(depth[order] + ASIDE, dark)
    return [_pair(place) for place in found]


def _pair(vector: Floats) -> tuple[float, float]:
    return float(vector[0]), float(vector[1])


def _bytes(shares: Floats) -> bytes:
    """Shares 0..1 as bytes, in 51 even steps, which pack to two thirds."""
    return np.clip(5.0 * np.rint(51.0 * shares), 0.0, 255.0).astype(np.uint8).tobytes()
