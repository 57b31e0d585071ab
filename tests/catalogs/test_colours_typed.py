"""Colours of pairs: the order in which they are believed, on invented stars."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from catalogs.compiler import colours

HAND = Path(__file__).resolve().parents[2] / "catalogs" / "colours_typed.csv"


def _pairs(**changed: object) -> pd.DataFrame:
    row = {"pair_id": "hip1-AB", "star1": 0, "star2": 1, "v1": 4.0, "v2": 5.0}
    return pd.DataFrame([row | {"separation_arcsec": 3.0} | changed])


STARS = pd.DataFrame({"bv": [np.nan, 0.0]})
# Hipparcos: 0.79 for the light of stars of B-V 1.4 and 0.0 that are 1 mag apart, worked by hand
ENTRIES = pd.DataFrame({"bv": [0.793], "bv_error": [0.01], "hp": [3.7]})


def _colours(pairs: pd.DataFrame, typed: pd.DataFrame | None = None) -> tuple[float, float]:
    assert colours.with_colours(pairs, STARS, ENTRIES, typed) == []
    return pairs["colour1_bv"][0], pairs["colour2_bv"][0]


def test_a_companions_light_is_taken_out_of_the_colour_of_both() -> None:
    assert _colours(_pairs()) == pytest.approx((1.4, 0.0), abs=0.01)


def test_mixed_light_with_an_unknown_companion_tells_nothing() -> None:
    assert np.isnan(_colours(_pairs(star2=-1))).all()


def test_a_faint_companion_leaves_the_colour_as_it_is() -> None:
    found = _colours(_pairs(star2=-1, v2=4.0 + colours.OWN_COLOUR_MAG))
    assert found[0] == pytest.approx(0.793)


def test_the_hand_table_comes_first() -> None:
    typed = pd.DataFrame({"colour1_bv": [1.1], "colour2_bv": [np.nan]}, index=["hip1-AB"])
    assert _colours(_pairs(), typed) == pytest.approx((1.1, 0.0))


def test_a_typed_colour_without_its_pair_is_told() -> None:
    typed = pd.DataFrame({"colour1_bv": [1.1], "colour2_bv": [0.5]}, index=["hip2-AB"])
    told = colours.with_colours(_pairs(), STARS, ENTRIES, typed)
    assert told == ["hip2-AB: no such pair"]


def test_a_wide_pair_takes_the_colour_from_the_close_one_and_not_the_reverse() -> None:
    wide = _pairs(pair_id="hip1-AC", separation_arcsec=40.0, star2=-1)
    pairs = pd.concat([wide, _pairs()], ignore_index=True)
    entries = pd.concat([ENTRIES, ENTRIES], ignore_index=True)
    assert colours.with_colours(pairs, STARS, entries, None) == []
    assert pairs["colour1_bv"].tolist() == pytest.approx([1.4, 1.4], abs=0.01)
    typed = pd.DataFrame({"colour1_bv": [0.7], "colour2_bv": [np.nan]}, index=["hip1-AC"])
    pairs = pd.concat([wide, _pairs(star2=-1)], ignore_index=True)
    assert colours.with_colours(pairs, STARS, entries, typed) == []
    assert np.isnan(pairs["colour1_bv"][1])


def test_the_hand_table_lies_in_range_and_names_its_source() -> None:
    table = colours.read_colours(HAND)
    for column in colours.COLOURS:
        assert table[column].dropna().between(-0.35, 1.9).all()  # from O stars to M giants
    assert table[list(colours.COLOURS)].notna().any(axis=1).all()
    assert table["source"].str.len().gt(len("from memory")).all()


def test_reading_rejects_a_pair_given_twice(tmp_path: Path) -> None:
    path = tmp_path / "colours.csv"
    head, first, *_ = HAND.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join([head, first, first]), encoding="utf-8")
    with pytest.raises(ValueError, match="given twice"):
        colours.read_colours(path)
