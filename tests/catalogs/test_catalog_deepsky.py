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
    shared = {("M", 102): 2}  # M 101 or NGC 5866: both are called so
    counts = {n: names.count(f"{catalog} {n}") for n in range(1, count + 1)}
    assert [n for n, found in counts.items() if found != shared.get((catalog, n), 1)] == []


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
        ("M 102", "NGC 5866"),
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
    assert (OBJECTS["kind"] == "double").sum() == 1
    loose = {"NGC 6994", "IC 4715", "Collinder 399", "Kemble 1"}  # M 73, M 24, Coathanger, Cascade
    assert set(OBJECTS.loc[OBJECTS["kind"] == "asterism", "id"]) == loose


def test_objects_of_unknown_brightness_are_kept_blank() -> None:
    unknown = OBJECTS["v_mag"].isna()
    assert unknown.sum() > 100
    assert (OBJECTS["v_source"].isna() == unknown).all()
    assert np.isnan(BY_ID.loc["IC 434", "v_mag"])  # a nebula of 1.5 deg that no handbook measures


def test_nebula_types_stand_with_nebulae_only() -> None:
    assert OBJECTS.loc[OBJECTS["kind"] != "nebula", "nebula_type"].isna().all()
    assert BY_ID.loc["NGC 1952", "nebula_type"] == "pulsar-wind-nebula"
    assert BY_ID.loc["NGC 6960", "nebula_type"] == "supernova-remnant"
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


# Diameters (arcmin) of clusters: Archinal and Hynes 2003, Star Clusters; from memory. The table's
# are from another catalogue (Sky Catalogue 2000.0).
PUBLISHED_ARCMIN = {
    "NGC 2168": 25, "NGC 1912": 15, "NGC 2287": 39, "NGC 2437": 20, "NGC 2422": 25,
    "NGC 2548": 30, "NGC 2323": 14, "NGC 7654": 15, "NGC 2682": 25, "NGC 6705": 11,
    "NGC 6405": 20, "NGC 6475": 75, "NGC 6494": 29, "IC 4725": 29, "NGC 7092": 29,
    "NGC 1039": 25, "NGC 457": 20, "NGC 663": 14, "NGC 752": 75, "NGC 7789": 25,
    "NGC 6633": 20, "IC 4665": 70, "IC 4756": 39, "NGC 2477": 20, "NGC 3532": 50,
    "NGC 2516": 22, "NGC 6940": 25, "NGC 2244": 29,
}  # fmt: skip
SIZE_FACTOR = 1.85  # where a cluster ends is a matter of taste; the two catalogues differ so much


@pytest.mark.parametrize("name", PUBLISHED_ARCMIN)
def test_cluster_sizes_agree_with_archinal_hynes2003(name: str) -> None:
    share = BY_ID.loc[name, "major_arcmin"] / PUBLISHED_ARCMIN[name]
    assert 1.0 / SIZE_FACTOR < share < SIZE_FACTOR


# V of showpieces the source has no magnitude for: Moore's list of 1995 (Caldwell objects) and the
# Observer's Handbook (RASC); from memory.
SHOWPIECES_V = {
    "NGC 4755": 4.2,
    "IC 2602": 1.9,
    "NGC 6193": 5.2,
    "IC 2944": 4.5,
    "NGC 6960": 7.0,
    "Melotte 20": 1.2,
    "Collinder 399": 3.6,
    "LMC": 0.4,
    "NGC 292": 2.3,
}


@pytest.mark.parametrize("name", SHOWPIECES_V)
def test_showpieces_have_their_published_magnitude(name: str) -> None:
    row = OBJECTS[(OBJECTS["id"] == name) | OBJECTS["names"].str.split("|").map(_holds(name))]
    assert len(row) == 1
    assert row["v_mag"].iloc[0] == pytest.approx(SHOWPIECES_V[name], abs=V_LIMIT_MAG)


def _holds(name: str):  # type: ignore[no-untyped-def]
    return lambda names: isinstance(names, list) and name in names


def test_magnitude_of_stars_in_a_nebula_is_marked() -> None:
    # Emission and reflection nebulae whose printed magnitude is that of a cluster or star: common
    # practice of handbooks, from memory. M 8, 16, 17, 20, 42, 43, 78 have light of their own.
    stars = ("IC 5146", "IC 1848", "IC 1805", "NGC 7380", "NGC 6164", "NGC 2264", "NGC 7023")
    assert [n for n in stars if BY_ID.loc[n, "v_of"] != "stars"] == []
    own = ("NGC 6523", "NGC 6611", "NGC 6618", "NGC 6514", "NGC 1976", "NGC 1982", "NGC 2068")
    assert BY_ID.loc[[*own, "NGC 3372", "NGC 1952"], "v_of"].isna().all()
    marked = OBJECTS[OBJECTS["v_of"].notna()]
    assert set(marked["v_of"]) == {"stars"}
    assert set(marked["kind"]) == {"nebula"}
    assert marked["v_mag"].notna().all()


@pytest.mark.parametrize(
    ("gone", "kept"),
    [
        ("NGC 869", "Caldwell 14"),
        ("NGC 884", "Caldwell 14"),
        ("IC 4703", "NGC 6611"),
        ("NGC 6995", "NGC 6992"),
        ("NGC 2246", "NGC 2237"),
        ("NGC 2239", "NGC 2244"),
        ("MWSC 3171", "Palomar 11"),
    ],
)
def test_one_object_has_one_row_and_keeps_all_its_names(gone: str, kept: str) -> None:
    assert gone not in BY_ID.index
    assert gone in BY_ID.loc[kept, "names"].split("|")
