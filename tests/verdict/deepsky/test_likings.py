"""The eyepiece for what is seen as a glow is the one an observer would take."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from deepsky_samples import objects, setup

from planner.optics.eyepiece import Eyepiece
from planner.optics.view import all_views
from planner.targets.catalog import load_deepsky
from planner.targets.columns import rows_of
from planner.targets.kind import Kind
from planner.verdict.deepsky.likings import LIKINGS, Wish, liking
from planner.verdict.deepsky.margins import DeepSkyTables, deepsky_margins, deepsky_tables

EYEPIECES = [Eyepiece(f"{f:g}", f, 60.0) for f in (32.0, 24.0, 18.0, 14.0, 10.0, 7.0, 5.0, 3.5)]
DARK_MAG = 21.3


@cache
def tables(aperture_mm: float, seeing_arcsec: float = 2.0) -> DeepSkyTables:
    """A Newtonian of f/6 with eight eyepieces, from 5.3 to 0.6 mm of exit pupil."""
    base = setup(DARK_MAG)
    telescope = replace(
        base.telescope,
        aperture_mm=aperture_mm,
        clear_aperture_mm=aperture_mm,
        obstruction_mm=0.22 * aperture_mm,
        focal_length_mm=6.0 * aperture_mm,
    )
    used = replace(base, telescope=telescope, seeing_arcsec=seeing_arcsec)
    return deepsky_tables(used, all_views(telescope, EYEPIECES))


def powers(aperture_mm: float, *names: str, seeing_arcsec: float = 2.0) -> list[float]:
    """The power named for each object, overhead under a dark sky."""
    used, found = tables(aperture_mm, seeing_arcsec), objects(*names)
    shape = (len(found), 1)
    judged = deepsky_margins(used, found, np.full(shape, 0.2), np.full(shape, DARK_MAG))
    return [float(used.powers[view]) for view in judged.view[:, 0]]


@pytest.mark.parametrize(
    ("aperture_mm", "least", "most"), [(150.0, 90.0, 150.0), (200.0, 120.0, 200.0)]
)
def test_globulars_get_the_power_that_resolves_them(
    aperture_mm: float, least: float, most: float
) -> None:
    """M 13, M 15, M 3, M 22, M 5: common practice, no source; M 13 at 120 to 200 in 8 inches."""
    found = powers(aperture_mm, "NGC 6205", "NGC 7078", "NGC 5272", "NGC 6656", "NGC 5904")
    assert min(found) >= least and max(found) <= most


def test_no_globular_goes_past_what_the_air_bears() -> None:
    """A star spread to 5' in steady moments: 225x in 2", 112x in 4"."""
    for seeing, bound in ((2.0, 225.0), (4.0, 112.5)):
        assert powers(300.0, "NGC 7078", seeing_arcsec=seeing)[0] <= bound


@pytest.mark.parametrize("aperture_mm", [150.0, 200.0, 300.0])
def test_galaxies_never_get_a_tiny_exit_pupil(aperture_mm: float) -> None:
    """Every galaxy to 13th magnitude: 1.2 mm at the least, common practice, no source."""
    catalog = load_deepsky()
    rows = np.flatnonzero((catalog.kind == Kind.GALAXY) & (catalog.v_mag < 13.0))
    found, used = rows_of(catalog, rows), tables(aperture_mm)
    shape = (rows.size, 1)
    judged = deepsky_margins(used, found, np.full(shape, 0.2), np.full(shape, DARK_MAG))
    pupils = aperture_mm / used.powers[judged.view[:, 0]]
    assert rows.size > 500
    assert pupils.min() >= 1.15
    small = np.asarray(found.major_arcmin < 10.0)
    assert np.mean((pupils >= 1.5) & (pupils <= 3.0) & small) > 0.8 * small.mean()


def test_planetaries_get_power_when_small_and_little_when_large() -> None:
    """NGC 6210, M 57, M 97, Helix in 200 mm: common practice, no source."""
    tiny, ring, owl, helix = powers(200.0, "NGC 6210", "NGC 6720", "NGC 3587", "NGC 7293")
    assert tiny > ring > owl >= helix
    assert 150.0 <= tiny <= 250.0 and 70.0 <= ring <= 160.0 and helix <= 80.0


def test_large_nebulae_get_a_wide_exit_pupil() -> None:
    """4 mm or more for North America, Veil, Lagoon: common practice, no source."""
    assert max(powers(200.0, "NGC 7000", "NGC 6992", "NGC 6523")) <= 50.0


def test_the_observers_own_least_exit_pupil_is_kept() -> None:
    """And the widest is never below the narrowest."""
    coarse = liking(setup(least_exit_pupil_mm=2.8), Wish.GALAXY)
    assert (coarse.narrowest_mm, coarse.widest_mm) == (2.8, 2.8)
    fine = liking(replace(setup(least_exit_pupil_mm=0.5), seeing_arcsec=0.7), Wish.PLANETARY)
    assert replace(fine, most_power=np.inf) == LIKINGS[Wish.PLANETARY]
    assert fine.most_power == pytest.approx(154.0 / 0.5)
