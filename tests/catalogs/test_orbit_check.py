"""Orbits that miss the measure are told."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from catalogs.compiler import checking
from catalogs.compiler.__main__ import FOLDER
from catalogs.compiler.orbit_check import Compared, carried, compared, orbit_report
from planner.targets.catalog import load_orbits, load_pairs
from planner.targets.columns import frozen, rows_of
from planner.targets.orbit import apparent_places

PAIRS_FILE = FOLDER / "pairs.csv.gz"


def _row(grade: int, measure_arcsec: float, off_arcsec: float) -> Compared:
    return Compared("STF 1 AB", grade, (1.0, 10.0), (measure_arcsec, 12.0), off_arcsec)


@pytest.mark.parametrize(
    ("row", "doubtful"),
    [
        (_row(4, 0.8, 0.11), True),
        (_row(4, 0.8, 0.09), False),
        (_row(5, 11.4, 0.5), False),  # under a tenth of the separation
        (_row(5, 11.4, 1.2), True),
        (_row(3, 0.8, 0.5), False),  # not a rough orbit
    ],
)
def test_a_rough_orbit_far_from_the_measure_is_doubtful(row: Compared, doubtful: bool) -> None:
    assert row.doubtful is doubtful
    assert ("STF 1 AB" in orbit_report([row])) is doubtful
    assert "STF 1 AB" in orbit_report([row], whole=True)


def test_no_shipped_orbit_is_doubtful() -> None:
    rows = compared(load_pairs(), load_orbits())
    assert len(rows) > 60
    assert [row.label for row in rows if row.doubtful] == []


def test_a_spoilt_orbit_comes_first() -> None:
    pairs, orbits = load_pairs(), load_orbits()
    spoilt = int(np.flatnonzero(orbits.name == "61 Cyg")[0])
    size = orbits.semi_major_arcsec.copy()
    size[spoilt] *= 1.2
    rows = compared(pairs, replace(orbits, semi_major_arcsec=frozen(size)))
    assert rows[0].label == "STF 2758 AB 61 Cyg"
    assert rows[0].doubtful
    # A larger orbit is larger everywhere by the same share.
    assert rows[0].off_arcsec == pytest.approx(0.2 * rows[0].measure[0], abs=0.1)
    alone = compared(pairs, rows_of(orbits, [spoilt]))
    assert len(alone) == 1


# Ephemerides of the Sixth Catalog of Orbits of Visual Binary Stars (USNO, about 2023) for pairs
# that turn far within some years.
EPHEMERIDES = pd.DataFrame(
    [
        ("12417-0127", 61941, 2026.9, 350.1, 3.66),
        ("16413+3136", 81693, 2026.9, 72.8, 1.54),
        ("17350+6153", 86036, 2026.9, 158.0, 1.14),
        ("14396-6050", 71683, 2026.9, 13.5, 9.74),
        ("06451-1643", 32349, 2026.9, 55.3, 11.05),
    ],
    columns=["wds", "hip", "date", "pa", "sep"],
)
AGREES_ARCSEC, AGREES_DEG = 0.02, 0.5  # the same orbits, or one as good


def test_rows_with_a_date_are_compared_with_the_orbits_then() -> None:
    table = checking.normalised(EPHEMERIDES, {})
    pairs = pd.read_csv(PAIRS_FILE, keep_default_na=False, na_values=[""])
    then = checking.check(table, pairs, checking.Limits(), carried)
    assert (then.found, then.missed, then.exchanged) == (len(EPHEMERIDES), (), 0)
    assert np.abs(then.separation_arcsec).max() < AGREES_ARCSEC
    assert np.abs(then.position_angle_deg).max() < AGREES_DEG
    stored = checking.check(table, pairs, checking.Limits())
    assert stored.missed or np.abs(stored.position_angle_deg).max() > AGREES_DEG


def test_pairs_are_carried_at_their_places_of_j2000() -> None:
    # 61 Cygni, SIMBAD (from memory): 21 06 53.94 +38 44 57.9
    pairs = pd.read_csv(PAIRS_FILE, keep_default_na=False, na_values=[""])
    row = carried(pairs[pairs["hip"] == 104214], 2026.9).iloc[0]
    assert (row["ra_deg"], row["dec_deg"]) == pytest.approx((316.72475, 38.74942), abs=5e-4)


# Gamma CrA, HIP 93825, in Hipparcos (van Leeuwen 2007, CDS I/311): place at 1991.25 (rad) of the
# brighter star, and the common motion of both (mas a year). Gaia DR3 has the two nearly equal stars
# in 2016; what their middle then lay off the carried place is half the way from A to B in 1991.
HIPPARCOS_RAD, HIPPARCOS_MAS_YR = (5.0021892252, -0.6468671394), (96.74, -281.71)
GAIA_A, GAIA_B = (286.605442, -37.064919), (286.605316, -37.064544)
BETWEEN_YR = 24.75
MIDDLE_DEG = 10.0  # the middle of light and that of mass differ, as do the stars' own motions


def test_the_orbit_of_gamma_cra_agrees_with_hipparcos_and_the_area_law() -> None:
    ra, dec = np.degrees(HIPPARCOS_RAD)
    scale = np.array([3600.0 * np.cos(np.radians(dec)), 3600.0])
    middle = (np.add(GAIA_A, GAIA_B) / 2.0 - (ra, dec)) * scale
    east, north = 2.0 * (middle - np.array(HIPPARCOS_MAS_YR) * BETWEEN_YR / 1000.0)
    before = np.hypot(east, north), np.degrees(np.arctan2(east, north)) % 360.0
    orbits = load_orbits()
    orbit = rows_of(orbits, np.flatnonzero(orbits.name == "gam CrA"))
    lengths, angles = apparent_places(orbit, np.array([[1991.25, 2016.0, 2026.9]]))
    assert before[0] == pytest.approx(lengths[0, 0], abs=0.1)
    assert before[1] == pytest.approx(angles[0, 0], abs=MIDDLE_DEG)
    # By the law of areas alone, with the mean of the squares at both ends: the turn since 2016.
    turn = (before[1] - angles[0, 1]) % 360.0
    swept = turn * (before[0] ** 2 + lengths[0, 1] ** 2) / BETWEEN_YR
    since = 10.9 * swept / (lengths[0, 1] ** 2 + lengths[0, 2] ** 2)
    assert angles[0, 1] - since == pytest.approx(angles[0, 2], abs=MIDDLE_DEG)
    assert angles[0, 2] < 325.0 - MIDDLE_DEG  # where it stood about 2021
