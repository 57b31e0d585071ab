"""Nebulae by their bright part, and what goes to the finder or the bare eye."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from deepsky_samples import objects, setup

from planner.optics.eyepiece import Eyepiece, Filter, Finder
from planner.optics.view import all_views
from planner.verdict.deepsky.glow import RAYLEIGH_SURFACE_MAG, glow_of, has_bright_part
from planner.verdict.deepsky.margins import deepsky_margins, deepsky_tables
from planner.verdict.deepsky.small_views import BARE_EYE, small_views

if TYPE_CHECKING:
    from planner.verdict.deepsky.margins import DeepSkyMargins, DeepSkyTables

DARK_MAG = 21.3
TABLE_MAG = 0.03
EYEPIECES = [Eyepiece(f"{length:g} mm", length, 52.0) for length in (32.0, 25.0, 17.0, 10.0, 6.0)]
BOTH = Filter("both lines", "nebula", 24.0, 0.92)
OXYGEN = Filter("O III", "O III", 12.0, 0.9)
HYDROGEN = Filter("H beta", "H beta", 9.0, 0.85)
# From plain to hard with a filter for both lines, in a small telescope: common practice, no source.
ORDER = (
    ("NGC 1976",),  # M 42
    ("NGC 6523", "NGC 6618", "NGC 6853"),  # M 8, M 17, M 27
    ("NGC 6992", "NGC 6960", "NGC 6514"),  # the Veil, M 20
    ("NGC 7000",),
    ("NGC 6888",),
    ("NGC 1499", "IC 434", "IC 1396"),  # California, behind the Horsehead, Elephant's Trunk
)


@cache
def tables(aperture_mm: float, small: bool = False, *filters: Filter) -> DeepSkyTables:
    """A Newtonian of f/6 with five eyepieces."""
    base = setup(DARK_MAG)
    telescope = replace(
        base.telescope,
        aperture_mm=aperture_mm,
        clear_aperture_mm=aperture_mm,
        obstruction_mm=0.22 * aperture_mm,
        focal_length_mm=6.0 * aperture_mm,
    )
    finders = (Finder("8x50 finder", 8.0, 6.0, "inverted", 50.0),)
    return deepsky_tables(
        replace(base, telescope=telescope),
        all_views(telescope, EYEPIECES),
        filters,
        small_views(base.observer, finders) if small else (),
    )


def judged(
    names: tuple[str, ...], aperture_mm: float = 150.0, *filters: Filter, small: bool = False
) -> DeepSkyMargins:
    """Under a dark sky, overhead."""
    found = objects(*names)
    air, sky = np.full((len(found), 1), 0.2), np.full((len(found), 1), DARK_MAG)
    return deepsky_margins(tables(aperture_mm, small, *filters), found, air, sky)


@pytest.mark.parametrize("aperture_mm", [100.0, 150.0, 200.0, 300.0])
@pytest.mark.parametrize(("easier", "harder"), list(zip(ORDER, ORDER[1:], strict=False)))
def test_nebulae_come_out_as_observers_know_them(
    easier: tuple[str, ...], harder: tuple[str, ...], aperture_mm: float
) -> None:
    """Every one of a group before all of the next."""
    first, second = (judged(names, aperture_mm, BOTH).margin_mag for names in (easier, harder))
    assert first.min() > second.max()


def test_showpieces_are_plain_and_the_famous_hard_ones_are_not() -> None:
    """In 150 mm under a dark sky: common practice, no source."""
    plain = judged(("NGC 1976", "NGC 6523", "NGC 6618", "NGC 6853"), 150.0, BOTH)
    hard = judged(("NGC 1499", "IC 434", "IC 1396"), 150.0, BOTH)
    assert plain.margin_mag.min() > 2.0
    assert hard.margin_mag.max() < 0.7


def test_more_aperture_shows_every_nebula_better() -> None:
    """The small ones by much, the large ones by little."""
    names = tuple(name for group in ORDER for name in group) + ("NGC 6720", "NGC 3587")
    margins = np.hstack([judged(names, mm, BOTH).margin_mag for mm in (100.0, 150.0, 200.0, 300.0)])
    assert (np.diff(margins, axis=1) >= -TABLE_MAG).all()
    ring = names.index("NGC 6720")
    assert margins[ring, -1] - margins[ring, 0] > 1.0


def test_without_a_filter_the_veil_is_hard_and_with_one_plain() -> None:
    """Common practice, no source: a filter makes the Veil."""
    bare, filtered = judged(("NGC 6992",)), judged(("NGC 6992",), 150.0, BOTH)
    assert bare.margin_mag[0, 0] < 1.0
    assert filtered.margin_mag[0, 0] >= bare.margin_mag[0, 0] + 0.8


def test_hydrogen_nebulae_want_the_hydrogen_filter() -> None:
    """California and Horsehead by H beta, the Veil by O III: common practice, no source."""
    names = ("NGC 1499", "IC 434", "NGC 6992")
    found = judged(names, 150.0, OXYGEN, HYDROGEN)
    assert found.filter_index[:, 0].tolist() == [1, 1, 0]


def test_a_rayleigh_is_the_light_of_its_definition() -> None:
    """1e6/4pi photons to the cm^2, s, sr at 500 nm; 1700 lm/W, V' 0.98; CIE 1951, definitions."""
    watt = 1e6 / (4.0 * np.pi) * 1e4 * 6.62607e-34 * 2.99792e8 / 500e-9
    scotopic = 1700.0 * 0.98 * watt
    surface = -2.5 * np.log10(scotopic / 2.0 / 1.08e5)
    assert pytest.approx(surface, abs=0.1) == RAYLEIGH_SURFACE_MAG


def test_a_bright_part_is_what_counts() -> None:
    """M 42 by the part round the Trapezium; a galaxy has none."""
    both = objects("NGC 1976", "NGC 3031")
    glow = glow_of(both)
    assert has_bright_part(both).tolist() == [True, False]
    assert glow.sizes.major_arcmin[0] < 10.0
    assert np.isnan(glow.line_mag[1]) and np.isfinite(glow.line_mag[0])


@pytest.mark.parametrize(
    ("name", "view"),
    [("Melotte 20", "8x50 finder"), ("NGC 2632", "8x50 finder"), ("Caldwell 41", BARE_EYE),
     ("ESO 56-115", BARE_EYE), ("Melotte 111", "8x50 finder")],
)  # fmt: skip
def test_what_no_eyepiece_holds_goes_to_the_finder_or_the_bare_eye(name: str, view: str) -> None:
    """Alpha Persei, Beehive, Hyades, LMC, Coma: common practice, no source."""
    found = judged((name,), 200.0, small=True)
    used = tables(200.0, True)
    finders = small_views(setup().observer, (Finder("8x50 finder", 8.0, 6.0, "inverted", 50.0),))
    names = [small.view.name for small in finders]
    assert names[found.view[0, 0] - len(used.powers)] == view
    assert found.margin_mag[0, 0] > 0.0 and not found.overflows[0]


@pytest.mark.parametrize("aperture_mm", [150.0, 300.0])
@pytest.mark.parametrize("name", ["NGC 224", "NGC 1912", "NGC 7000", "NGC 1976", "NGC 5139",
                                  "NGC 3532", "Caldwell 14"])  # fmt: skip
def test_what_an_eyepiece_shows_well_stays_in_the_telescope(name: str, aperture_mm: float) -> None:
    """M 31, M 38, North America, M 42, Omega Centauri, NGC 3532; the Double Cluster by its halves.

    The widest field of 300 mm is 0.92 degrees. Common practice, no source.
    """
    found = judged((name,), aperture_mm, small=True)
    assert found.view[0, 0] < len(tables(aperture_mm).powers)


def test_the_pleiades_stay_where_a_field_of_their_size_is_and_leave_a_narrow_one() -> None:
    """1.8 degrees in a field of 1.85 with 150 mm, of 0.92 with 300 mm."""
    wide, narrow = (judged(("Melotte 22",), mm, small=True).view[0, 0] for mm in (150.0, 300.0))
    assert wide < len(tables(150.0).powers)
    assert narrow == len(tables(300.0).powers)


def test_a_pair_too_large_for_the_field_needs_a_finder_that_is_known() -> None:
    """A finder without a stated objective and a sight without power are no views."""
    sight, unknown = Finder("ring", 1.0, 4.0, "upright"), Finder("6x", 6.0, 6.0, "inverted")
    assert [s.view.name for s in small_views(setup().observer, (sight, unknown))] == [BARE_EYE]
