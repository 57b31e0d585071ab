"""Which stars of a cluster count, and the view that shows it as one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from deepsky_samples import DARK_MAG, margins, objects, setup, tables, views
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.profile import Views
from planner.verdict.deepsky.margins import deepsky_margins, deepsky_tables
from planner.verdict.deepsky.open_clusters import (
    FRAME_SHARE,
    LARGE_ENOUGH_DEG,
    WIDE_FIELD_FOR_MAG,
    cluster_views,
    member_mag,
    member_uncertainty_mag,
)
from planner.verdict.deepsky.star_table import SKY_GRID_MAG, StarTable

POWERS = np.array([30.0, 60.0, 120.0, 240.0])
FIELDS = Views(exit_pupil_mm=150.0 / POWERS, true_field_deg=50.0 / POWERS)
LIMITS = np.array([12.0, 12.7, 13.4, 13.6])  # of the four views, under every sky
STARS = StarTable(
    limits_mag=np.tile(LIMITS[:, None], SKY_GRID_MAG.size),
    spread_mag=np.tile([[0.4]], (4, SKY_GRID_MAG.size)),
)


def power(size_arcmin: float, members_mag: float) -> float:
    """The power chosen for one cluster."""
    asked = (np.array([[members_mag]]), np.array([[21.0]]))
    index = cluster_views(STARS, FIELDS, POWERS, np.array([size_arcmin]), asked)
    return float(POWERS[index[0, 0]])


def test_bright_members_are_framed_at_the_lowest_power_that_opens_the_cluster() -> None:
    """25' looks 12.5 degrees wide at 30x and fills a quarter of its field; 13' wants 60x."""
    assert power(25.0, 8.0) == 30.0
    assert power(13.0, 8.0) == 60.0
    assert power(4.0, 8.0) == 240.0


def test_sky_is_left_around_a_cluster() -> None:
    """It fills half of the field at most: 15' of 30'. Common practice, no source."""
    powers = np.array([30.0, 100.0])
    fields = Views(exit_pupil_mm=150.0 / powers, true_field_deg=50.0 / powers)
    stars = StarTable(STARS.limits_mag[:2], STARS.spread_mag[:2])
    asked = (np.array([[8.0]]), np.array([[21.0]]))
    chosen = [
        powers[cluster_views(stars, fields, powers, np.array([size]), asked)[0, 0]]
        for size in (14.5, 15.5)
    ]
    assert chosen == [100.0, 30.0]


def test_faint_members_ask_for_the_view_that_shows_them() -> None:
    """Within 0.3 of the best limit, 13.6: from 120x on; no view frames 40' there."""
    assert power(10.0, 13.0) == 120.0
    assert power(40.0, 13.0) == 120.0


@settings(deadline=None, max_examples=60)
@given(st.floats(1.0, 200.0), st.floats(4.0, 14.0))
def test_the_view_shows_the_members_as_well_as_any_or_with_plenty_in_hand(
    size: float, members: float
) -> None:
    """And frames the cluster wherever one that does so much does."""
    chosen = int(np.flatnonzero(power(size, members) == POWERS)[0])
    enough = (LIMITS.max() - WIDE_FIELD_FOR_MAG <= LIMITS) | (members + 1.5 <= LIMITS)
    framed = size <= FRAME_SHARE * 60.0 * FIELDS.true_field_deg
    assert enough[chosen]
    if (enough & framed).any():
        assert framed[chosen]
    wide = enough & framed & (size * POWERS >= 60.0 * LARGE_ENOUGH_DEG)
    if wide.any():
        assert POWERS[chosen] == POWERS[wide].min()


def test_members_are_those_counted_else_by_the_rule() -> None:
    """Alcyone, Atlas and Electra: the third of the Pleiades is of mag 3.7 (from memory). NGC 7789
    has no star brighter than the catalog's end, 10.6, though 3 below its 6.7 would be 9.7."""
    found = objects("Melotte 22", "NGC 7789")
    assert member_mag(found) == pytest.approx([3.7, 10.6], abs=0.15)
    assert member_uncertainty_mag(found).tolist() == [0.0, 1.0]
    unsized = replace(found, member_v_mag=np.full(2, np.nan), major_arcmin=np.full(2, np.nan))
    assert member_mag(unsized) == pytest.approx(found.v_mag + 3.0)


@pytest.mark.parametrize("left_out", range(10))
def test_a_further_eyepiece_never_costs_a_cluster_margin(left_out: int) -> None:
    """Whichever is left out of the kit, the one that frames the cluster too."""
    found = objects("Melotte 22", "NGC 2682", "NGC 6705")
    fewer = [view for number, view in enumerate(views()) if number != left_out]
    shape = (len(found), 1)
    sky, air = np.full(shape, DARK_MAG), np.zeros(shape)
    without = deepsky_margins(deepsky_tables(setup(), fewer), found, air, sky).margin_mag[:, 0]
    assert (margins(found) >= without - 1e-9).all()


def test_clusters_without_a_magnitude_have_no_margin() -> None:
    """NaN, and no view."""
    found = objects("NGC 2682", v_mag=[np.nan], member_v_mag=[np.nan])
    shape = (1, 2)
    judged = deepsky_margins(tables(), found, np.zeros(shape), np.full(shape, DARK_MAG))
    assert np.isnan(judged.margin_mag).all()
    assert (judged.view == -1).all()
