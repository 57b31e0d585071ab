"""The drawn Moon: terminator, marks and turn against geometry worked out another way."""

from __future__ import annotations

import datetime as dt
import io
from functools import cache

import matplotlib.image
import numpy as np
import pytest
from sample_nights import KIT

from planner.charts.grey_png import ink_png, light_png
from planner.charts.moon_disc import ROOM, disc_shades, moon_view
from planner.charts.moon_picture import ink_raster, marked_names, moon_picture, moon_scene
from planner.ephemeris.moments import grid_at
from planner.ephemeris.moon_face import moon_face
from planner.optics.turn import UPRIGHT, Turn
from planner.targets.lunar_features import load_lunar_features
from planner.verdict.bodies.features import Feature, Holds, Sureness

SITE = KIT.site("Lindenhof").site
NORTH_UP = ((-1.0, 0.0), (0.0, 1.0))  # sky east to the left
QUARTER = dt.datetime(2027, 2, 14, 19, tzinfo=dt.UTC)
GIBBOUS = dt.datetime(2027, 2, 18, 21, tzinfo=dt.UTC)


@cache
def view(when):
    return moon_view(moon_face(grid_at(SITE, when, [0.0])), NORTH_UP)


@cache
def drawn(when, side=240):
    return disc_shades(view(when), side)


def shade(when, lon, lat):
    """Mean light about a place, 3 by 3 pixels."""
    shades, _ = drawn(when)
    (right,), (up,) = view(when).places([lon], [lat])
    column, row = ((1.0 + s * v / ROOM) * len(shades) / 2.0 for s, v in ((1, right), (-1, up)))
    return shades[int(row) - 1 : int(row) + 2, int(column) - 1 : int(column) + 2].mean()


@pytest.mark.parametrize("when", [QUARTER, GIBBOUS])
def test_light_ends_where_the_sun_sets_on_the_moon(when):
    """The Sun's height at each feature is tested against Meeus and a lunar kernel elsewhere."""
    table = load_lunar_features()
    seas = np.flatnonzero(np.isin(table.kind, ("mare", "sinus", "lacus", "crater")))
    face = view(when).face
    height = face.sun_altitude_deg(table.lon_east_deg, table.lat_deg)[:, 0]
    away = face.from_centre_deg(table.lon_east_deg, table.lat_deg)[:, 0]
    looked = 0
    for row in seas[away[seas] < 70.0]:
        found = shade(when, table.lon_east_deg[row], table.lat_deg[row])
        if height[row] < -5.0:  # mountains of 4 km catch light 4 degrees before the plain
            assert found == 0.0, table.name[row]
            looked += 1
        if height[row] > 25.0:
            assert found > 0.2, table.name[row]
            looked += 1
    assert looked > 100


def test_lit_share_of_the_disc_is_that_of_the_phase():
    """``(1 + cos i) / 2`` of the disc lies in light, i the phase angle: Meeus 1998, ch. 48."""
    for when in (QUARTER, GIBBOUS):
        shades, on = drawn(when)
        face = view(when).face
        i = np.radians(face.from_centre_deg(face.sun_lon_deg, face.sun_lat_deg)[0, 0])
        # Shadows in craters take some of it: up to 0.04 of the disc at the quarter.
        assert (shades[on] > 0.0).mean() == pytest.approx((1.0 + np.cos(i)) / 2.0, abs=0.04)


def test_crisium_is_towards_the_skys_west_and_tycho_south():
    """As every map of the near side has it, north up."""
    (crisium, tycho), (up, down) = view(QUARTER).places([59.1, -11.2], [16.2, -43.3])
    assert crisium > 0.7 and up > 0.0
    assert down < -0.5 and abs(tycho) < 0.35


def test_seas_are_darker_than_the_highland_under_a_high_sun():
    assert shade(GIBBOUS, 59.1, 17.0) < shade(GIBBOUS, 15.0, -35.0)
    assert shade(GIBBOUS, 18.0, 27.0) < shade(GIBBOUS, -11.2, -43.3)


def test_turning_the_view_turns_picture_and_marks():
    names = ("Plato", "Tycho", "nobody's crater")
    upright = moon_picture(SITE, QUARTER, UPRIGHT, names, 120)
    inverted = moon_picture(SITE, QUARTER, Turn(180.0), names, 120)
    mirrored = moon_picture(SITE, QUARTER, Turn(0.0, mirrored=True), names, 120)
    # The meridian bows at the limb: a pixel of 120 may change hands.
    assert np.abs(inverted.shades[::-1, ::-1] - upright.shades).mean() < 0.01
    assert np.abs(mirrored.shades[:, ::-1] - upright.shades).mean() < 0.01
    assert [mark.name for mark in upright.marks] == ["Plato", "Tycho"]
    for one, other in zip(upright.marks, inverted.marks, strict=True):
        assert (one.right, one.up) == pytest.approx((-other.right, -other.up), abs=1e-9)
    cross = upright.sky_north[0] * upright.sky_east[1] - upright.sky_north[1] * upright.sky_east[0]
    assert cross == pytest.approx(1.0)  # east is counter-clockwise from north, as in the sky


def test_pictures_for_paper_and_phone_are_whole():
    picture = moon_picture(SITE, QUARTER, UPRIGHT, ("Plato",), 120)
    scene = moon_scene(picture, 60.0, "the Moon")
    assert scene.rasters[0] == ink_raster(picture, 60.0) and len(scene.words) == 1
    red = matplotlib.image.imread(io.BytesIO(light_png(ink_raster(picture, 1.0), 255)))
    grey = matplotlib.image.imread(io.BytesIO(ink_png(ink_raster(picture, 1.0))))
    assert red.shape[:2] == grey.shape[:2] == (120, 120)
    assert red[..., 0].max() == 1.0 and not red[..., 1:3].any()  # red and nothing else
    lit = picture.shades > 0.9
    assert red[lit, 3].min() > 0.85 and grey[lit, 3].max() < 0.15  # light is red here, bare there
    gibbous = ink_raster(moon_picture(SITE, GIBBOUS, UPRIGHT), 1.0)
    assert len(light_png(gibbous, 255)) < 200_000


def test_the_hardest_that_show_are_marked_first_and_seas_never():
    features = tuple(
        Feature(name, sureness, margin, 2.0, Holds.SEEING)
        for name, sureness, margin in (
            ("Plato", Sureness.PLAIN, 7.3), ("Ptolemaeus", Sureness.PLAIN, 7.3),
            ("Mare Imbrium", Sureness.PLAIN, 4.0), ("Rupes Recta", Sureness.PLAIN, 8.0),
            ("Rima Birt", Sureness.POSSIBLE, 0.9), ("Rima Hadley", Sureness.NOT_TONIGHT, 0.3),
            ("main belts", Sureness.PLAIN, 4.0),
        )
    )  # fmt: skip
    assert marked_names(features) == ("Rima Birt", "Rupes Recta", "Ptolemaeus", "Plato")
    assert marked_names(features, 2) == ("Rima Birt", "Rupes Recta")
