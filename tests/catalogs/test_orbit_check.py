"""Orbits that miss the measure are told."""

from dataclasses import replace

import numpy as np
import pytest

from catalogs.compiler.orbit_check import Compared, compared, orbit_report
from planner.targets.catalog import load_orbits, load_pairs
from planner.targets.columns import frozen, rows_of


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
