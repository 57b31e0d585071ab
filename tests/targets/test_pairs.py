"""Pairs on a date: orbits, proper motion, magnitudes and colours."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from target_samples import write_catalogs

from planner.targets.catalog import load_orbits, load_pairs
from planner.targets.pairs import (
    NO_ORBIT,
    Pairs,
    at_epoch,
    by_chance,
    colour_word,
    combined_magnitude,
    match_orbits,
    places_at,
    short_source,
    take,
)

if TYPE_CHECKING:
    from planner.targets.orbit import Orbits

STRAIGHT_LINE_DEG = 1e-7  # 0.4 mas: the curvature of 6" of motion in right ascension
magnitudes = st.floats(-1.5, 15.0)


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory) -> tuple[Pairs, Orbits]:
    folder = write_catalogs(tmp_path_factory.mktemp("pairs"))
    return load_pairs(folder), load_orbits(folder)


def test_combined_magnitude_reproduces_the_definition() -> None:
    # two equal stars give twice the light: 2.5 log10(2) = 0.753 mag brighter
    assert combined_magnitude(5.0, 5.0) == pytest.approx(4.247, abs=0.0005)
    # Castor A 1.93 and B 2.97 together: 1.58, Bright Star Catalogue (from memory)
    assert combined_magnitude(1.93, 2.97) == pytest.approx(1.58, abs=0.01)


@settings(deadline=None, max_examples=60)
@given(magnitudes, magnitudes)
def test_combined_magnitude_is_symmetric_and_brighter_than_either(one: float, two: float) -> None:
    both = combined_magnitude(one, two)
    assert both == combined_magnitude(two, one)
    assert min(one, two) - 0.7526 <= both <= min(one, two)


def test_combined_magnitude_of_an_unknown_companion_is_the_primary() -> None:
    assert np.isnan(combined_magnitude(np.nan, np.nan))
    assert combined_magnitude(5.0, np.nan) == 5.0


@pytest.mark.parametrize(
    ("star", "bv", "word"),
    [
        # B-V: Bright Star Catalogue (from memory); the words: common practice, no source
        ("Rigel", -0.03, "blue-white"),
        ("Vega", 0.00, "white"),
        ("Procyon", 0.42, "yellow-white"),
        ("Sun", 0.65, "yellow"),
        ("Arcturus", 1.23, "orange"),
        ("Aldebaran", 1.54, "orange"),
        ("eta Per", 1.68, "orange"),
        ("Antares", 1.83, "red"),
        ("unknown", np.nan, ""),
    ],
)
def test_colour_word_is_that_of_the_star(star: str, bv: float, word: str) -> None:
    assert colour_word(bv) == word, star


def test_at_epoch_follows_the_orbit(tables: tuple[Pairs, Orbits]) -> None:
    # gam Vir at 2030.0 from the orbit Sca2007c: 3.93", 347.7 deg (Sixth Orbit Catalog elements)
    pairs = at_epoch(*tables, 2030.0)
    row = list(pairs.name).index("gam Vir")
    assert pairs.separation_arcsec[row] == pytest.approx(3.927, abs=0.005)
    assert pairs.position_angle_deg[row] == pytest.approx(347.7, abs=0.1)
    assert pairs.measure_source[row] == "orbit Sca2007c (Sixth Orbit Catalog)"
    assert pairs.measure_epoch_yr[row] == 2030.0
    assert pairs.source[row] == "Gaia DR3"


def test_at_epoch_keeps_the_measure_where_there_is_no_orbit(tables: tuple[Pairs, Orbits]) -> None:
    before, after = tables[0], at_epoch(*tables, 2030.0)
    row = list(before.name).index("16 Cyg")
    for column in ("separation_arcsec", "position_angle_deg", "measure_epoch_yr"):
        assert getattr(after, column)[row] == getattr(before, column)[row]
    assert after.measure_source[row] == "Gaia DR3"


def test_at_epoch_carries_a_pair_without_orbit_by_its_motion(tables: tuple[Pairs, Orbits]) -> None:
    # alpha Cap: alp1 moves by 40 mas a year to the west of alp2, Hipparcos 1997 (from memory);
    # with 381" at 292 deg of 2016, ten years add 0.4" to the west: 0.37" along the line
    pairs, orbits = tables
    row = list(pairs.name).index("alp Cap")
    east = pairs.motion_ra_mas_yr.copy()
    east[row] = -40.0
    north = np.where(np.isnan(east), np.nan, 0.0)
    after = at_epoch(replace(pairs, motion_ra_mas_yr=east, motion_dec_mas_yr=north), orbits, 2026.0)
    assert after.separation_arcsec[row] - 381.0 == pytest.approx(0.371, abs=0.001)
    assert after.position_angle_deg[row] < 292.0
    assert after.measure_epoch_yr[row] == 2026.0
    assert after.measure_source[row].endswith(" and proper motion")


def test_an_orbit_counts_before_a_motion(tables: tuple[Pairs, Orbits]) -> None:
    pairs, orbits = tables
    fast = np.full(len(pairs), 10.0)
    after = at_epoch(replace(pairs, motion_ra_mas_yr=fast, motion_dec_mas_yr=fast), orbits, 2030.0)
    row = list(pairs.name).index("gam Vir")
    assert after.separation_arcsec[row] == at_epoch(pairs, orbits, 2030.0).separation_arcsec[row]
    assert after.measure_source[row].startswith("orbit ")


def test_at_epoch_moves_position_angles_to_j2000(tables: tuple[Pairs, Orbits]) -> None:
    pairs, orbits = tables
    old = replace(orbits, node_equinox_yr=np.full(len(orbits), 1900.0))
    row = list(pairs.name).index("eps2 Lyr")
    shift = (
        at_epoch(pairs, old, 2026.0).position_angle_deg[row]
        - at_epoch(pairs, orbits, 2026.0).position_angle_deg[row]
    )
    assert shift == pytest.approx(
        0.56 * np.sin(np.radians(281.1)) / np.cos(np.radians(39.6)), abs=0.01
    )


def test_match_orbits_leaves_wide_companions_alone(tables: tuple[Pairs, Orbits]) -> None:
    pairs, orbits = tables
    row = match_orbits(pairs, orbits)  # the table holds a star 53" from gam Vir as well
    found = {pairs.pair_id[i]: orbits.name[row[i]] for i in np.flatnonzero(row != NO_ORBIT)}
    assert found == {"hip61941-AB": "gam Vir", "hip91926-CD": "eps2 Lyr"}


def test_match_orbits_finds_a_pair_by_its_hipparcos_number(tables: tuple[Pairs, Orbits]) -> None:
    pairs, orbits = tables
    nameless = replace(
        pairs,
        wds=np.full(len(pairs), "", dtype=object),
        components=np.full(len(pairs), "", dtype=object),
    )
    row = match_orbits(nameless, orbits)
    assert [pairs.pair_id[i] for i in np.flatnonzero(row != NO_ORBIT)] == ["hip61941-AB"]


def test_places_at_agrees_with_astropy(tables: tuple[Pairs, Orbits]) -> None:
    import astropy.units as u
    from astropy.coordinates import SkyCoord
    from astropy.time import Time

    pairs = tables[0]
    row = list(pairs.name).index("16 Cyg")
    star = SkyCoord(
        pairs.ra_deg[row] * u.deg,
        pairs.dec_deg[row] * u.deg,
        distance=21.1 * u.pc,
        radial_velocity=0.0 * u.km / u.s,
        pm_ra_cosdec=pairs.pm_ra_mas_yr[row] * u.mas / u.yr,
        pm_dec=pairs.pm_dec_mas_yr[row] * u.mas / u.yr,
        obstime=Time(2016.0, format="jyear", scale="tdb"),
    )
    moved = star.apply_space_motion(new_obstime=Time(2046.0, format="jyear", scale="tdb"))
    ra, dec = places_at(pairs, 2046.0)
    assert ra[row] == pytest.approx(moved.ra.deg, abs=STRAIGHT_LINE_DEG)
    assert dec[row] == pytest.approx(moved.dec.deg, abs=STRAIGHT_LINE_DEG)


@pytest.mark.parametrize(
    ("source", "short"),
    [
        ("measure from Gaia DR3 positions; names from memory", "Gaia DR3"),
        ("Hipparcos and Gaia DR3 positions 2016.0", "Hipparcos and Gaia DR3"),
        ("Bright Star Catalogue 5 (Hoffleit and Warren 1991): V", "Bright Star Catalogue 5"),
        ("Someone 1999; node assumed", "Someone 1999"),
    ],
)
def test_short_source_fits_a_line(source: str, short: str) -> None:
    assert short_source(source) == short


def test_take_keeps_the_order_asked_for_and_protects_it(tables: tuple[Pairs, Orbits]) -> None:
    pairs = tables[0]
    some = take(pairs, [4, 0])
    assert list(some.pair_id) == ["hip100064-A1", "hip72105-AB"]
    assert len(take(pairs, [])) == 0
    assert len(take(pairs, pairs.v1 < 4.0)) == 4
    for field in fields(some):
        assert not getattr(some, field.name).flags.writeable


def test_at_epoch_protects_its_arrays(tables: tuple[Pairs, Orbits]) -> None:
    after = at_epoch(*tables, 2026.5)
    for field in fields(after):
        assert not getattr(after, field.name).flags.writeable, field.name


def test_a_pair_that_is_known_to_be_none_is_a_chance_pair(tables: tuple[Pairs, Orbits]) -> None:
    """By what is known of its bond, or by an expected share of chance pairs from 0.3 on."""
    table = replace(
        take(tables[0], np.zeros(5, dtype=int)),
        physical=np.array(["no", "yes", "", "", ""], dtype=object),
        chance=np.array([0.0, 0.0, 0.29, 0.31, np.nan]),
    )
    assert by_chance(table).tolist() == [True, False, False, True, False]
