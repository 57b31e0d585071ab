"""Stars are looked for where they were in the year of the place that is asked for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import Distance, SkyCoord
from astropy.time import Time

from planner.importers.tracks import apart_arcsec, near_tracks, spots_of, tracks_of
from planner.targets.catalog import load_pairs
from planner.targets.columns import frozen, rows_of
from planner.targets.pairs import Pairs

# astropy says so of every star without a distance
pytestmark = pytest.mark.filterwarnings("ignore:ERFA function")
ERROR_ARCSEC = 5.0
STRAIGHT_ARCSEC = 1.0  # ten minutes of arc taken as straight: 0.9 arcsec


@pytest.fixture(scope="module")
def fast() -> Pairs:
    """61 Cygni, eta Cassiopeiae and 70 Ophiuchi: 5.3, 1.2 and 1.0 arcseconds a year."""
    pairs = load_pairs()
    named = [np.flatnonzero(pairs.hip == hip)[0] for hip in (104214, 3821, 88601)]
    return rows_of(pairs, named)


def moved(pairs: Pairs, year: float) -> Pairs:
    """The places at another year, by astropy; motion forgotten."""
    places = SkyCoord(
        pairs.ra_deg * units.deg,
        pairs.dec_deg * units.deg,
        distance=Distance(parallax=np.full(len(pairs), 1.0) * units.mas),
        pm_ra_cosdec=pairs.pm_ra_mas_yr * units.mas / units.yr,
        pm_dec=pairs.pm_dec_mas_yr * units.mas / units.yr,
        obstime=Time(2016.0, format="jyear"),
    ).apply_space_motion(new_obstime=Time(year, format="jyear"))
    unknown = frozen(np.full(len(pairs), np.nan))
    return replace(
        pairs,
        ra_deg=frozen(places.ra.deg),
        dec_deg=frozen(places.dec.deg),
        position_epoch_yr=frozen(np.full(len(pairs), year)),
        pm_ra_mas_yr=unknown,
        pm_dec_mas_yr=unknown,
    )


@pytest.mark.parametrize("year", [1900.0, 1991.25, 2000.0, 2025.0])
def test_places_of_a_stated_year_agree_with_astropy(fast: Pairs, year: float) -> None:
    every = np.arange(len(fast))
    spots = spots_of(moved(fast, year), np.full(3, ERROR_ARCSEC), np.full(3, True))
    assert apart_arcsec(spots, tracks_of(fast), every, every).max() < STRAIGHT_ARCSEC
    mine, theirs, _ = near_tracks(spots, tracks_of(fast))
    assert sorted(zip(mine.tolist(), theirs.tolist(), strict=True)) == [(0, 0), (1, 1), (2, 2)]


@pytest.mark.parametrize(("year", "found"), [(1992.0, 3), (2024.0, 3), (1950.0, 0)])
def test_a_place_of_no_stated_year_may_be_of_any_since_1991(
    fast: Pairs, year: float, found: int
) -> None:
    places = replace(moved(fast, year), position_epoch_yr=frozen(np.full(3, 2000.0)))
    error = np.full(3, ERROR_ARCSEC)
    undated = spots_of(places, error, np.full(3, False))
    dated = spots_of(places, error, np.full(3, True))
    assert len(near_tracks(undated, tracks_of(fast))[0]) == found
    assert len(near_tracks(dated, tracks_of(fast))[0]) == 0


def test_the_motion_of_the_spot_counts_where_the_track_has_none(fast: Pairs) -> None:
    unknown = frozen(np.full(3, np.nan))
    still = replace(fast, pm_ra_mas_yr=unknown, pm_dec_mas_yr=unknown)
    old = replace(
        moved(fast, 2000.0), pm_ra_mas_yr=fast.pm_ra_mas_yr, pm_dec_mas_yr=fast.pm_dec_mas_yr
    )
    spots = spots_of(old, np.full(3, ERROR_ARCSEC), np.full(3, True))
    assert len(near_tracks(spots, tracks_of(still))[0]) == 3
    spots = spots_of(moved(fast, 2000.0), np.full(3, ERROR_ARCSEC), np.full(3, True))
    assert len(near_tracks(spots, tracks_of(still))[0]) == 0


def test_nothing_is_near_nothing(fast: Pairs) -> None:
    none = rows_of(fast, [])
    spots = spots_of(none, np.empty(0), np.empty(0, dtype=bool))
    assert len(near_tracks(spots, tracks_of(fast))[0]) == 0
