"""The shipped star names."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from astropy.coordinates import FK5, SkyCoord

from catalogs.compiler import designations
from planner.targets.catalog import load_stars

CATALOGS = Path(__file__).resolve().parents[2] / "catalogs"
NAMES = pd.read_csv(
    CATALOGS / "designations.csv.gz", keep_default_na=False, dtype={"flamsteed": str}
)
PAIRS = pd.read_csv(CATALOGS / "pairs.csv.gz", keep_default_na=False, na_values=[""])
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


# Both catalogues run by right ascension, the one of 1900, the other about that of 1950: Hoffleit
# and Jaschek 1982; Aitken 1932; from memory. Degrees; two stars lie 0.02 deg out of order.
ORDERS = {"hr": "J1900", "ads": "J1950"}
OUT_OF_ORDER_DEG = 0.03


@pytest.mark.parametrize("column", ORDERS)
def test_typed_numbers_follow_right_ascension(column: str) -> None:
    places = PAIRS.drop_duplicates("hip").set_index("hip")[["ra_deg", "dec_deg"]]
    stars = load_stars()
    bright = pd.DataFrame({"ra_deg": stars.ra_deg, "dec_deg": stars.dec_deg}, index=stars.hip)
    places = pd.concat([places, bright[~bright.index.isin(places.index)]])
    rows = NAMES[NAMES[column] > 0].sort_values(column)
    assert len(rows) > 100
    assert column == "ads" or rows[column].is_unique  # Aitken's are those of multiple stars
    found = places.loc[rows["hip"]]
    then = SkyCoord(found["ra_deg"], found["dec_deg"], unit="deg").transform_to(
        FK5(equinox=ORDERS[column])
    )
    back = np.minimum(np.diff(then.ra.deg), 0.0)
    assert back.min() > -OUT_OF_ORDER_DEG, rows["hip"].iloc[[back.argmin(), back.argmin() + 1]]


# Struve's numbers run by right ascension of 1826 as far as here, then come those he found later:
# F. G. W. Struve 1827, Catalogus Novus; from memory.
LAST_IN_ORDER = 3010
ASTRAY_DEG = 2.0  # from a line through the ten nearest numbers; the most found is 1.9


def test_struves_numbers_follow_right_ascension() -> None:
    numbered = PAIRS[PAIRS["discoverer"].fillna("").str.fullmatch(r"STF \d+")]
    numbered = numbered.assign(number=numbered["discoverer"].str[4:].astype(int))
    numbered = numbered[numbered["number"] <= LAST_IN_ORDER].drop_duplicates("number")
    numbered = numbered.sort_values("number")
    place = SkyCoord(numbered["ra_deg"], numbered["dec_deg"], unit="deg")
    ra = np.unwrap(place.transform_to(FK5(equinox="J1826")).ra.deg, period=360.0)
    number = numbered["number"].to_numpy()
    assert len(number) > 450
    for k in range(len(number)):
        near = [j for j in range(max(0, k - 5), min(len(number), k + 6)) if j != k]
        line = np.polyfit(number[near], ra[near], 1)
        assert abs(np.polyval(line, number[k]) - ra[k]) < ASTRAY_DEG, f"STF {number[k]}"


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
