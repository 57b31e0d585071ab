"""Names of lunar features as people say them."""

from __future__ import annotations

import pytest

from planner.targets.lunar_features import load_lunar_features
from planner.targets.lunar_names import lunar_names, lunar_row, near_lunar, says_lunar


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("rupes recta", "Rupes Recta"), ("the Straight Wall", "Rupes Recta"),
        ("Hadley rille", "Rima Hadley"), ("TRIESNECKER RILLES", "Rimae Triesnecker"),
        ("crater Atlas", "Atlas"), ("moon plato", "Plato"), ("marecrisium", "Mare Crisium"),
        ("alpine valley", "Vallis Alpes"), ("sea of rains", "Mare Imbrium"),
    ],
)  # fmt: skip
def test_names_lead_to_their_feature(said, meant):
    """English names: common practice, no source."""
    row = lunar_row(said)
    assert row is not None and lunar_names()[row] == meant == load_lunar_features().name[row]


def test_every_feature_answers_to_its_own_name():
    rows = [lunar_row(name) for name in lunar_names()]
    assert rows == list(range(len(rows)))


def test_what_is_no_feature_is_none():
    for text in ("M 13", "eps Boo", "Jupiter", "crater", "", "moon"):
        assert lunar_row(text) is None, text
    assert says_lunar("crater Atlas") and not says_lunar("Atlas")


def test_slips_of_the_pen_are_forgiven():
    assert near_lunar("rupes rekta") == ["Rupes Recta"]
    assert "Copernicus" in near_lunar("crater copernikus")
    assert near_lunar("zzzzzz") == []
