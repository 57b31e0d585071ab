"""The table of showpieces fits the catalogs and the sky."""

from __future__ import annotations

from collections import Counter
from functools import cache

import astronomy
import numpy as np
from showpieces import EVENINGS, LATITUDES_DEG, showpieces

from planner.targets.catalog import load_deepsky, load_pairs
from planner.targets.standing import best_list_counts

LEAST_ALTITUDE_DEG = 22.0  # the table asks for 25; half-hour steps and refraction are left out
DUSK_SUN_DEG = -10.0
APERTURES_MM = {100, 150, 300}


@cache
def _coordinates() -> dict[str, tuple[float, float]]:
    """Right ascension and declination of every target, degrees."""
    pairs, deepsky = load_pairs(), load_deepsky()
    places = dict(zip(pairs.pair_id, zip(pairs.ra_deg, pairs.dec_deg, strict=True), strict=True))
    return places | dict(
        zip(deepsky.id, zip(deepsky.ra_deg, deepsky.dec_deg, strict=True), strict=True)
    )


@cache
def _sidereal_deg(evening: str, latitude: str) -> np.ndarray:
    """Local sidereal time each half hour from dusk, or the last two hours, to 00:30; degrees."""
    observer = astronomy.Observer(LATITUDES_DEG[latitude], 0.0, 0.0)
    midnight = astronomy.Time(f"{EVENINGS[evening]}T00:00:00Z").AddDays(1.0)
    dark, late = [], []
    for half_hours in range(-15, 2):
        moment = midnight.AddDays(half_hours / 48.0)
        sun = astronomy.Equator(astronomy.Body.Sun, moment, observer, True, True)
        height = astronomy.Horizon(
            moment, observer, sun.ra, sun.dec, astronomy.Refraction.Airless
        ).altitude
        angle = 15.0 * astronomy.SiderealTime(moment)
        dark += [angle] if height < DUSK_SUN_DEG else []
        late += [angle] if half_hours >= -3 else []
    return np.array(dark or late)


def _best_altitude_deg(identifier: str, evening: str, latitude: str) -> float:
    """Spherical triangle of pole, zenith and star; the largest of the evening."""
    ra_deg, dec_deg = np.radians(_coordinates()[identifier])
    north = np.radians(LATITUDES_DEG[latitude])
    angle = np.radians(_sidereal_deg(evening, latitude)) - ra_deg
    sine = np.sin(north) * np.sin(dec_deg) + np.cos(north) * np.cos(dec_deg) * np.cos(angle)
    return float(np.degrees(np.arcsin(sine)).max())


def test_every_showpiece_is_a_target_and_none_is_there_twice():
    ids = [identifier for row in showpieces() for identifier in row.ids]
    assert [identifier for identifier in ids if identifier not in _coordinates()] == []
    assert [identifier for identifier, count in Counter(ids).items() if count > 1] == []


def test_every_showpiece_has_an_aperture_a_rank_and_an_evening():
    for row in showpieces():
        assert row.least_aperture_mm in APERTURES_MM
        assert row.rank in {1, 2, 3, 4}
        assert row.places
        assert {latitude for _, latitude in row.places} <= LATITUDES_DEG.keys()


def test_every_evening_has_as_many_showpieces_as_a_night_holds():
    counts = Counter(place for row in showpieces() for place in row.places)
    assert counts.keys() == {(e, lat) for e in EVENINGS for lat in LATITUDES_DEG}
    assert min(counts.values()) >= 45
    assert max(counts.values()) <= 60  # the southern autumn is rich


def test_every_showpiece_stands_well_above_the_horizon_in_its_evenings():
    """Sun and sidereal time are those of the library astronomy-engine."""
    low = [
        (row.name, *place)
        for row in showpieces()
        for place in row.places
        if _best_altitude_deg(row.ids[0], *place) < LEAST_ALTITUDE_DEG
    ]
    assert low == []


def test_every_showpiece_stands_in_a_published_list():
    """The list must be able to put it first: what stands in no list has no standing."""
    rows = showpieces()
    unlisted = [row.name for row in rows if best_list_counts(row.ids).max() == 0]
    assert unlisted == []


def test_nothing_that_needs_a_dark_sky_is_asked_of_a_night_without_dark():
    """At 56 deg N on 28 June the Sun is never more than 90 - 56 - 23.3 = 10.7 deg down."""
    asked = [row for row in showpieces() if ("jun_28", "56N") in row.places]
    assert [row.name for row in asked if not row.stands_moonlight] == []
