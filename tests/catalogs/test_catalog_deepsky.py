"""The shipped deep-sky objects: completeness, and magnitudes one may believe."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

CATALOGS = Path(__file__).resolve().parents[2] / "catalogs"
OBJECTS = pd.read_csv(CATALOGS / "deepsky.csv.gz", keep_default_na=False, na_values=[""])
BY_ID = OBJECTS.set_index("id")
KINDS = {
    "open-cluster",
    "globular-cluster",
    "galaxy",
    "planetary-nebula",
    "nebula",
    "double",
    "asterism",
}


def _all_names() -> list[str]:
    names = list(OBJECTS["id"])
    for text in OBJECTS["names"].dropna():
        names.extend(text.split("|"))
    return names


@pytest.mark.parametrize(("catalog", "count"), [("M", 110), ("Caldwell", 109)])
def test_catalog_is_complete(catalog: str, count: int) -> None:
    names = _all_names()
    assert [n for n in range(1, count + 1) if names.count(f"{catalog} {n}") != 1] == []


@pytest.mark.parametrize(
    ("messier", "number"),
    # New General Catalogue numbers of Messier objects: handbook, from memory.
    [
        ("M 1", "NGC 1952"),
        ("M 13", "NGC 6205"),
        ("M 27", "NGC 6853"),
        ("M 31", "NGC 224"),
        ("M 42", "NGC 1976"),
        ("M 51", "NGC 5194"),
        ("M 57", "NGC 6720"),
        ("M 81", "NGC 3031"),
        ("M 104", "NGC 4594"),
        ("M 102", "NGC 5457"),
        ("M 73", "NGC 6994"),
    ],
)
def test_messier_numbers_stand_with_their_ngc_object(messier: str, number: str) -> None:
    assert messier in BY_ID.loc[number, "names"].split("|")


# V of large galaxies, Third Reference Catalogue (de Vaucouleurs and others 1991), and of others,
# handbook values; all from memory.
PUBLISHED_V = {
    "NGC 224": 3.4,
    "NGC 598": 5.7,
    "NGC 253": 7.2,
    "NGC 4565": 9.6,
    "NGC 3031": 6.9,
    "NGC 4594": 8.0,
    "NGC 6205": 5.8,
    "NGC 7078": 6.2,
    "NGC 6656": 5.1,
    "NGC 5139": 3.9,
    "NGC 6720": 8.8,
    "NGC 6853": 7.4,
    "NGC 650": 10.1,
    "NGC 2168": 5.3,
}
V_LIMIT_MAG = 0.65  # total magnitudes of extended objects differ so much between catalogues


@pytest.mark.parametrize("name", PUBLISHED_V)
def test_v_agrees_with_published_total_magnitudes(name: str) -> None:
    assert BY_ID.loc[name, "v_mag"] == pytest.approx(PUBLISHED_V[name], abs=V_LIMIT_MAG)


@pytest.mark.parametrize("name", ["NGC 253", "NGC 4565"])
def test_wrong_v_of_the_source_is_replaced_by_b(name: str) -> None:
    assert BY_ID.loc[name, "v_source"] == "B-0.8"


def test_kinds_and_constellations_are_known() -> None:
    assert set(OBJECTS["kind"]) == KINDS
    assert OBJECTS["constellation"].nunique() == 88
    assert OBJECTS["id"].is_unique


def test_odd_messier_objects_keep_their_kind() -> None:
    assert BY_ID.loc["M 40", "kind"] == "double"
    assert BY_ID.loc["NGC 6994", "kind"] == "asterism"
    assert (OBJECTS["kind"].isin(["double", "asterism"])).sum() == 2


def test_objects_of_unknown_brightness_are_kept_blank() -> None:
    unknown = OBJECTS["v_mag"].isna()
    assert unknown.sum() > 100
    assert (OBJECTS["v_source"].isna() == unknown).all()
    assert np.isnan(BY_ID.loc["NGC 7000", "v_mag"])  # a nebula of 2 deg


def test_nebula_types_stand_with_nebulae_only() -> None:
    assert OBJECTS.loc[OBJECTS["kind"] != "nebula", "nebula_type"].isna().all()
    assert BY_ID.loc["NGC 1952", "nebula_type"] == "supernova-remnant"
    assert BY_ID.loc["Barnard 33", "nebula_type"] == "dark"


def test_duplicates_are_names_of_the_object_they_mean() -> None:
    assert "NGC 651" in BY_ID.loc["NGC 650", "names"].split("|")
    assert "NGC 651" not in BY_ID.index


def test_places_agree_with_handbook() -> None:
    # Centres (deg, J2000) of M 13 and M 31: handbook, from memory; limit 1 arcmin.
    for name, ra, dec in (("NGC 6205", 250.4235, 36.4613), ("NGC 224", 10.6847, 41.2690)):
        row = BY_ID.loc[name]
        assert row["ra_deg"] == pytest.approx(ra, abs=1.0 / 60.0)
        assert row["dec_deg"] == pytest.approx(dec, abs=1.0 / 60.0)
