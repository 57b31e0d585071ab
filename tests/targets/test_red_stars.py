"""Red stars: the typed table, and that each is found by its names."""

from __future__ import annotations

import numpy as np
import pytest

from planner.angles import separation_deg
from planner.importers.library import load_all_names
from planner.targets.catalog import load_designations, load_red_stars, load_stars
from planner.targets.names import Domain, find
from planner.targets.red_stars import NO_RED_STAR, red_star_row
from planner.targets.stars import stars_near

RED_STARS = load_red_stars()
# Places (hours, minutes; degrees, arcmin; J2000) as handbooks print them: from memory.
PLACES = {
    "R Lep": (4, 59.6, -14, 48.4), "mu Cep": (21, 43.5, 58, 46.8), "T Lyr": (18, 32.3, 36, 59.9),
    "Y CVn": (12, 45.1, 45, 26.4), "TX Psc": (23, 46.4, 3, 29.2), "U Hya": (10, 37.6, -13, 23.1),
    "SS Vir": (12, 25.2, 0, 46.2), "X TrA": (15, 14.3, -70, 4.8), "chi Cyg": (19, 50.6, 32, 54.8),
}  # fmt: skip
PLACE_ARCMIN = 1.0  # 0.1 min of time is 1.5' at the equator, half of it lost in rounding
# What is typed, and the label that must come: common practice, no source.
FOUND = {
    "r lep": "R Lep (Hind's Crimson Star)",
    "Hind's Crimson Star": "R Lep (Hind's Crimson Star)",
    "garnet star": "mu Cep (Garnet Star)",
    "the garnet star": "mu Cep (Garnet Star)",
    "la superba": "Y CVn (La Superba)",
    "Y Canum Venaticorum": "Y CVn (La Superba)",
    "19 psc": "TX Psc",
    "v460 cyg": "V460 Cyg",
    "t lyrae": "T Lyr",
    "119 Tau": "CE Tau (Ruby Star)",
    "mira": "omi Cet (Mira)",
}


@pytest.mark.parametrize("name", PLACES)
def test_places_agree_with_handbooks(name: str) -> None:
    hours, minutes, degrees, arcmin = PLACES[name]
    row = red_star_row(RED_STARS, 0, name)
    ra_deg = 15.0 * (hours + minutes / 60.0)
    dec_deg = degrees + np.copysign(arcmin, degrees) / 60.0
    apart = separation_deg(RED_STARS.ra_deg[row], RED_STARS.dec_deg[row], ra_deg, dec_deg)
    assert 60.0 * apart < PLACE_ARCMIN


def test_a_star_of_the_star_list_stands_at_each_place() -> None:
    """Gaia and Hipparcos know nothing of the ranges typed here; V Cyg was too faint."""
    stars, lacking = load_stars(), set()
    for row, name in enumerate(RED_STARS.name.tolist()):
        near = stars_near(stars, RED_STARS.ra_deg[row], RED_STARS.dec_deg[row], 0.01)
        limits = RED_STARS.v_bright_mag[row] - 1.0, RED_STARS.v_faint_mag[row] + 1.0
        if not np.any((near.v_mag > limits[0]) & (near.v_mag < limits[1])):
            lacking.add(name)
    assert lacking == {"V Cyg"}


def test_numbers_lie_in_range() -> None:
    assert len(RED_STARS) >= 40
    assert np.all(RED_STARS.v_bright_mag < RED_STARS.v_faint_mag)
    assert np.all((RED_STARS.colour_bv > 1.2) | np.isnan(RED_STARS.colour_bv))
    assert np.all((RED_STARS.period_days > 50.0) | np.isnan(RED_STARS.period_days))
    assert set(RED_STARS.spectrum) == {"carbon", "M"}
    assert np.all(np.diff(RED_STARS.ra_deg) > 0.0)
    assert len(set(RED_STARS.name)) == len(RED_STARS)
    assert all("from memory" in text for text in RED_STARS.source)


@pytest.mark.parametrize("text", FOUND)
def test_red_stars_are_found_by_their_names(text: str) -> None:
    assert find(load_all_names(None), text)[0].label == FOUND[text]


def test_every_red_star_is_found_and_leads_back_to_its_row() -> None:
    index, hip = load_all_names(None), load_designations().hip
    for row, name in enumerate(RED_STARS.name.tolist()):
        match = find(index, name)[0]
        if match.domain is Domain.STAR:
            assert red_star_row(RED_STARS, hip[match.row], match.label) == row


def test_other_stars_are_no_red_stars() -> None:
    assert red_star_row(RED_STARS, 91262, "alp Lyr (Vega)") == NO_RED_STAR
    assert red_star_row(RED_STARS, 0, "R Leporis") == NO_RED_STAR
