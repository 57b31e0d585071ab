"""What an orbit holds for a telescope, and the spectrum of air that lies along a pair."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from deepsky_samples import setup, views
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.targets.catalog import load_orbits
from planner.targets.columns import rows_of
from planner.targets.orbit import Orbits
from planner.verdict.pairs.judge import PairJudge, judge_pairs, split_conditions, split_instrument
from planner.verdict.pairs.lookup import StudyPairs
from planner.verdict.pairs.outlook import Outlook, OutlookPairs, outlooks
from planner.verdict.pairs.spectrum import SiteAir
from planner.verdict.pairs.tables import build_split_tables

GOOD_SEEING_ARCSEC = 1.0  # stated in the outlook's own words, docs/models.md
FIRST_YEAR = 2026.0
PAIR = OutlookPairs(
    v1=np.array([5.0]), v2=np.array([5.2]), airmass=np.array([1.1]), sky_mag=21.5,
    dispersion_along_arcsec=np.array([0.1]),
)  # fmt: skip


@cache
def judge() -> PairJudge:
    """For five views, in tonight's seeing of 2"."""
    chosen = views()[::2]
    tables = build_split_tables(
        split_instrument(setup()),
        [view.magnification for view in chosen],
        [view.exit_pupil_mm for view in chosen],
    )
    return PairJudge(setup(), chosen, tables, SiteAir())


def orbit(separation: float, period_yr: float = 1e6, inclination: float = 0.0) -> Orbits:
    """A circular orbit, invented; edge-on at 90 degrees, widest where it begins."""
    one = rows_of(load_orbits(), [0])
    values = {
        "period_yr": period_yr, "semi_major_arcsec": separation, "inclination_deg": inclination,
        "node_deg": 0.0, "periastron_yr": FIRST_YEAR, "eccentricity": 0.0,
        "periastron_longitude_deg": 0.0,
    }  # fmt: skip
    return replace(one, **{name: np.array([value]) for name, value in values.items()})


def told(found: Orbits, pair: OutlookPairs = PAIR, year: float = FIRST_YEAR) -> Outlook:
    """The outlook of one pair."""
    return outlooks(judge(), found, pair, year)[0]


@settings(deadline=None, max_examples=40)
@given(st.floats(0.5, 2.5), st.floats(0.0, 3.0))
def test_a_pair_is_open_when_it_is_just_split_in_good_seeing(
    separation: float, difference: float
) -> None:
    """The same as judged on a night of 1", whatever tonight's seeing."""
    pair = replace(PAIR, v2=PAIR.v1 + difference)
    night = replace(setup(), seeing_arcsec=GOOD_SEEING_ARCSEC)
    pairs = StudyPairs(np.array([separation]), pair.v1, pair.v2)
    columns = [pair.airmass, np.array([pair.sky_mag]), pair.dispersion_along_arcsec]
    sky = split_conditions(night, judge().views, *columns)
    found = judge_pairs(night, judge().views, judge().tables, pairs, sky)
    just = int(found.detail.split_class[0]) >= 3
    assert told(orbit(separation), pair).open_now == just


def test_good_seeing_opens_some_pairs_and_not_others() -> None:
    """The two seeings of a few tenths either side of 1" would say otherwise of some of these."""
    separations = np.linspace(0.6, 2.0, 57)
    ones = np.ones(len(separations))
    pairs = StudyPairs(separations, 5.0 * ones, 5.2 * ones)
    sky = split_conditions(setup(), judge().views, 1.1 * ones, 21.5 * ones, 0.1 * ones)
    classes = [
        judge_pairs(
            replace(setup(), seeing_arcsec=seeing), judge().views, judge().tables, pairs, sky
        ).detail.split_class
        >= 3
        for seeing in (0.85, GOOD_SEEING_ARCSEC, 1.15)
    ]
    counts = [int(found.sum()) for found in classes]
    assert counts[0] > counts[1] > counts[2] > 0
    assert [told(orbit(s)).open_now for s in separations] == classes[1].tolist()


@pytest.mark.parametrize("quarter_turn", [0.0, 20.0])
def test_the_year_it_opens_or_closes_is_the_first_that_differs(quarter_turn: float) -> None:
    """An edge-on orbit of 80 years closes from 3" to nothing in 20 years, or opens so."""
    way = orbit(3.0, 80.0, 90.0)
    start = FIRST_YEAR + quarter_turn
    found = told(way, year=start)
    separation = 3.0 * np.abs(np.cos(2.0 * np.pi * (quarter_turn + np.arange(21)) / 80.0))
    assert found.separations_arcsec == pytest.approx(separation, abs=1e-6)
    years = start + np.arange(21)
    each = [told(way, year=float(year)).open_now for year in years]
    assert each[0] == found.open_now != each[-1]
    first = float(years[each.index(not each[0])])
    expected = (None, first) if found.open_now else (first, None)
    assert (found.opens_year, found.closes_year) == expected
    assert found.open_now == (quarter_turn == 0.0)


def test_a_pair_that_stays_as_it_is_has_no_year() -> None:
    """3" apart for a million years, or 0.2"."""
    for separation in (3.0, 0.2):
        found = told(orbit(separation))
        assert found.open_now == (separation == 3.0)
        assert found.opens_year is None and found.closes_year is None


@pytest.mark.parametrize(("grade", "rough"), [(1, False), (3, False), (4, True), (5, True)])
def test_preliminary_orbits_are_rough(grade: int, rough: bool) -> None:
    """Grades 4 (preliminary) and 5 (indeterminate) of the Sixth Catalog of Orbits."""
    assert told(replace(orbit(3.0), grade=np.array([grade]))).rough is rough


@settings(deadline=None, max_examples=60)
@given(st.floats(1.0, 5.0), st.floats(-180.0, 180.0), st.floats(0.0, 360.0))
def test_the_spectrum_along_a_pair_is_its_projection(
    airmass: float, parallactic_deg: float, position_deg: float
) -> None:
    """Upright all of it, level none, in between by the cosine; half where nobody knows."""
    air = SiteAir()
    whole = float(air.length_arcsec(airmass))
    along = float(air.along_arcsec(airmass, position_deg, parallactic_deg))
    share = abs(np.cos(np.radians(position_deg - parallactic_deg)))
    assert along == pytest.approx(whole * share, abs=1e-9)
    assert air.along_arcsec(airmass, np.nan, parallactic_deg) == pytest.approx(0.5 * whole)
    assert air.half_arcsec(airmass) == pytest.approx(0.5 * whole)


def test_thin_air_spreads_less() -> None:
    """By its pressure: three quarters at about 2,400 m; none straight up."""
    low, high = (SiteAir(pressure).length_arcsec(2.0) for pressure in (1013.25, 760.0))
    assert high / low == pytest.approx(0.75, abs=0.01)
    assert SiteAir().length_arcsec(1.0) == pytest.approx(0.0, abs=1e-6)
