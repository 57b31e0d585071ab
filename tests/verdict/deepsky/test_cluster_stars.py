"""What of a cluster's stars shows: counts over the field, and a globular's brightest giants."""

from __future__ import annotations

import numpy as np
import pytest

from planner.targets.stars import StarField
from planner.verdict.deepsky.cluster_stars import count_cluster_stars, globular_stars

# V of the horizontal branch: Harris 1996, AJ 112, 1487 (2010 edition), from memory; V of the
# brightest giants: colour-magnitude diagrams of the same clusters, from memory.
GIANTS = {
    "NGC 5272": (15.64, 12.7),  # M 3
    "NGC 5904": (15.07, 12.2),  # M 5
    "NGC 6205": (14.90, 11.9),  # M 13
    "NGC 6341": (15.10, 12.1),  # M 92
    "NGC 7078": (15.83, 12.8),  # M 15
    "NGC 6121": (13.45, 10.8),  # M 4
}


@pytest.mark.parametrize("name", GIANTS)
def test_brightest_giants_agree_with_diagrams(name: str) -> None:
    """Within the 0.3 mag that the rule claims for itself."""
    branch, brightest = GIANTS[name]
    found = globular_stars(6.0, branch, 13.0)
    assert found.by_branch
    assert found.brightest_mag == pytest.approx(brightest, abs=0.3)
    assert found.over_mag == pytest.approx(13.0 - found.brightest_mag)


@pytest.mark.parametrize("name", GIANTS)
def test_without_a_branch_the_whole_tells_the_giants_roughly(name: str) -> None:
    """Total V of the six, Harris 1996 from memory; the rule claims a magnitude."""
    whole = {"NGC 5272": 6.2, "NGC 5904": 5.7, "NGC 6205": 5.8, "NGC 6341": 6.4,
             "NGC 7078": 6.2, "NGC 6121": 5.6}  # fmt: skip
    found = globular_stars(whole[name], np.nan, 13.0)
    assert not found.by_branch
    assert found.brightest_mag == pytest.approx(GIANTS[name][1], abs=1.0)


def _field(members: int, radius_deg: float) -> StarField:
    """A grid of field stars, 100 a square degree, around RA 90 on the equator, and a cluster.

    The members stand on a spiral that fills the circle of the cluster evenly.
    """
    steps = np.arange(-2.95, 3.0, 0.1)
    east, north = (side.ravel() for side in np.meshgrid(steps, steps))
    order = np.arange(members)
    reach, angle = radius_deg * np.sqrt((order + 0.5) / members), 2.39996 * order
    east = np.concatenate([east, reach * np.cos(angle)])
    north = np.concatenate([north, reach * np.sin(angle)])
    rank = np.argsort(north)
    same = np.full(len(rank), 8.0)
    return StarField(90.0 + east[rank], north[rank], same, same, np.zeros(len(rank), dtype=int))


@pytest.mark.parametrize("diameter_arcmin", [30.0, 60.0, 110.0])
def test_members_are_counted_over_the_field(diameter_arcmin: float) -> None:
    """All of them and no field star; the grid makes the ring's count good to a few stars."""
    stars = _field(150, diameter_arcmin / 120.0)
    found = count_cluster_stars(stars, 90.0, 0.0, diameter_arcmin, 9.0)
    assert found.above_field == pytest.approx(150, abs=8)
    assert found.stars >= 150
    field = np.pi * (diameter_arcmin / 120.0) ** 2 * 100.0
    assert found.stars - 150 == pytest.approx(field, abs=8)


def test_a_cluster_given_too_large_spoils_nothing_beyond_its_ring() -> None:
    """Stars outside 2.5 radii count for nothing."""
    lone = _field(150, 0.25)
    crowd = _field(150, 0.25)
    far = (np.hypot(crowd.ra_deg - 90.0, crowd.dec_deg) > 0.65) & (crowd.ra_deg > 90.0)
    kept = StarField(
        *(column[~far] for column in (crowd.ra_deg, crowd.dec_deg, crowd.v_mag, crowd.bv)),
        hip=crowd.hip[~far],
    )
    for stars in (lone, kept):
        assert count_cluster_stars(stars, 90.0, 0.0, 30.0, 9.0).above_field == pytest.approx(
            150, abs=8
        )


def test_the_catalogs_end_is_said() -> None:
    """Below the faintest star there are at least so many."""
    stars = _field(40, 0.25)
    assert count_cluster_stars(stars, 90.0, 0.0, 30.0, 8.0).complete
    deeper = count_cluster_stars(stars, 90.0, 0.0, 30.0, 12.0)
    assert not deeper.complete and deeper.limit_mag == 8.0
    assert count_cluster_stars(stars, 90.0, 0.0, 30.0, 7.9).stars == 0
