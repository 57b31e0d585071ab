"""The table of constellations against astropy's list."""

from __future__ import annotations

import pytest

from planner.targets.constellations import CONSTELLATIONS

# astropy misspells three names: Chamaleon, Ophiucus, Pisces Austrinus
SPELT_OTHERWISE = {"Cha", "Oph", "PsA"}


def test_constellations_agree_with_astropy() -> None:
    from importlib.resources import files

    lines = (files("astropy.coordinates") / "data" / "constellation_names.dat").read_text("utf-8")
    rows = [line.split(" ", 1) for line in lines.splitlines() if not line.startswith("#")]
    theirs = {short: name.strip() for short, name in rows}
    ours = {c.abbreviation: c.name for c in CONSTELLATIONS}
    assert ours.keys() == theirs.keys()
    assert len(CONSTELLATIONS) == 88
    differing = {short for short in ours if ours[short] != theirs[short]}
    assert differing == SPELT_OTHERWISE


@pytest.mark.parametrize(
    ("abbreviation", "genitive"),
    [("Boo", "Boötis"), ("CVn", "Canum Venaticorum"), ("UMa", "Ursae Majoris"), ("Psc", "Piscium")],
)
def test_genitives_are_those_of_star_names(abbreviation: str, genitive: str) -> None:
    # common practice: epsilon Boötis, alpha Canum Venaticorum, zeta Ursae Majoris
    found = {c.abbreviation: c.genitive for c in CONSTELLATIONS}
    assert found[abbreviation] == genitive


def test_abbreviations_begin_as_their_names_do() -> None:
    assert all(c.abbreviation[0] == c.name[0] == c.genitive[0] for c in CONSTELLATIONS)
