"""The shipped star names."""

from pathlib import Path

import pandas as pd
import pytest

from catalogs.compiler import designations

CATALOGS = Path(__file__).resolve().parents[2] / "catalogs"
NAMES = pd.read_csv(
    CATALOGS / "designations.csv.gz", keep_default_na=False, dtype={"flamsteed": str}
)
BY_HIP = NAMES.set_index("hip")

# Bayer letter, Flamsteed number, HD number, constellation, name: Bright Star Catalogue, 5th
# edition (Hoffleit and Warren 1991), and the list of names of the IAU; from memory.
KNOWN = {
    91262: ("alp", "3", 172167, "Lyr", "Vega"),
    72105: ("eps", "36", 129988, "Boo", "Izar"),
    9640: ("gam1", "57", 12533, "And", "Almach"),
    113357: ("", "51", 217014, "Peg", "Helvetios"),
    49669: ("alp", "32", 87901, "Leo", "Regulus"),
}


@pytest.mark.parametrize("hip", KNOWN)
def test_designations_agree_with_bright_star_catalogue(hip: int) -> None:
    row = BY_HIP.loc[hip]
    found = (row["bayer"], row["flamsteed"], row["hd"], row["constellation"], row["proper_name"])
    assert found == KNOWN[hip]


def test_letters_are_plain_and_numbers_unique() -> None:
    assert NAMES["hip"].is_unique
    assert NAMES["bayer"].str.fullmatch(r"([a-z]{2,3}|[A-Za-z])?\d?").all()
    assert NAMES["flamsteed"].str.fullmatch(r"\d*").all()
    assert NAMES["constellation"].replace("", pd.NA).nunique() == 88


@pytest.mark.parametrize(
    ("letter", "text"),
    [("γ1", "gam1"), ("ξ", "xi"), ("ω", "ome"), ("ο2", "omi2"), ("A", "A"), ("undefined3", "ups3")],
)
def test_bayer_text_is_ascii(letter: str, text: str) -> None:
    assert designations.bayer_text(letter) == text


def test_bayer_text_rejects_other_text() -> None:
    with pytest.raises(ValueError, match="not a Bayer letter"):
        designations.bayer_text("alpha")


def test_slip_of_the_source_gets_the_constellation_of_the_place() -> None:
    names = {"91262": {"name": "Vega", "bayer": "α", "flam": "3", "hd": "HD 172167", "c": "274"}}
    table = designations.designation_table(names, {91262: (279.23, 38.78)})
    assert table.loc[0, "constellation"] == "Lyr"
    assert designations.short_names(table) == {91262: ("alp Lyr", "Vega")}
