"""The hand table of deep-sky objects on a small invented sky."""

import csv
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from catalogs.compiler.deepsky import COLUMNS
from catalogs.compiler.deepsky_typed import NUMBERS, TEXTS, apply_typed, read_deepsky_typed

HAND = Path(__file__).resolve().parents[2] / "catalogs" / "deepsky_typed.csv"
OBJECTS = list(csv.DictReader(HAND.read_text(encoding="utf-8").splitlines()))
GIVEN = [column for column in COLUMNS if column not in ("v_of", "hb_v_mag")]
FORM = ",".join([*TEXTS, *NUMBERS])


def _objects() -> pd.DataFrame:
    blank = dict.fromkeys(GIVEN, "") | dict.fromkeys(NUMBERS, np.nan)
    blank |= {"position_angle_deg": np.nan, "ra_deg": 80.0, "dec_deg": 10.0}
    rows = [
        {"id": "NGC 1", "kind": "nebula", "nebula_type": "cluster-with-nebula", "v_mag": 6.0},
        {"id": "NGC 2", "kind": "nebula", "nebula_type": "emission", "major_arcmin": 9.0},
        {"id": "NGC 3", "kind": "open-cluster", "names": "M 3|NGC 33", "common_name": "Three"},
        {"id": "NGC 4", "kind": "open-cluster", "major_arcmin": 5.0, "minor_arcmin": 7.0},
    ]
    return pd.DataFrame([blank | row for row in rows], columns=GIVEN)


def _typed(*rows: dict) -> pd.DataFrame:
    blank = dict.fromkeys(TEXTS, "") | dict.fromkeys(NUMBERS, np.nan) | {"source": "invented"}
    return pd.DataFrame([blank | row for row in rows])


def _applied(*rows: dict) -> tuple[pd.DataFrame, list[str]]:
    table, warnings = apply_typed(_objects(), _typed(*rows), {"Stock 2": ["Two Cluster"]})
    return table.set_index("id"), warnings


def test_without_a_hand_table_a_cluster_with_nebula_has_the_light_of_its_stars() -> None:
    table, warnings = apply_typed(_objects(), None, {})
    assert table["v_of"].tolist() == ["stars", "", "", ""]
    assert warnings == []


def test_typed_values_stand_and_blank_ones_leave_the_source() -> None:
    table, _ = _applied({"id": "NGC 2", "v_mag": 7.5, "v_of": "object", "nebula_type": "dark"})
    row = table.loc["NGC 2"]
    assert (row["v_mag"], row["v_source"], row["v_of"]) == (7.5, "invented", "")
    assert (row["nebula_type"], row["major_arcmin"]) == ("dark", 9.0)


def test_a_typed_type_stands_and_the_horizontal_branch_is_blank_elsewhere() -> None:
    table, _ = _applied({"id": "NGC 3", "hubble_type": "dE", "hb_v_mag": 15.0})
    assert table.loc["NGC 3", ["hubble_type", "hb_v_mag"]].tolist() == ["dE", 15.0]
    assert table["hb_v_mag"].notna().sum() == 1
    assert table.loc["NGC 4", "hubble_type"] == ""


def test_object_says_that_a_cluster_with_nebula_shines_itself() -> None:
    table, _ = _applied({"id": "NGC 1", "v_of": "object"})
    assert table.loc["NGC 1", "v_of"] == ""


def test_a_magnitude_of_stars_needs_a_magnitude() -> None:
    table, _ = _applied({"id": "NGC 2", "v_of": "stars"})
    assert table.loc["NGC 2", "v_of"] == ""


def test_a_nebula_turned_cluster_loses_its_type_and_the_mark() -> None:
    table, _ = _applied({"id": "NGC 1", "kind": "open-cluster"})
    assert table.loc["NGC 1", ["nebula_type", "v_of"]].tolist() == ["", ""]


def test_a_typed_major_axis_alone_makes_the_object_round() -> None:
    table, _ = _applied({"id": "NGC 4", "major_arcmin": 12.0})
    assert table.loc["NGC 4", "major_arcmin"] == 12.0
    assert np.isnan(table.loc["NGC 4", "minor_arcmin"])


def test_a_merged_row_leaves_its_names_with_the_other() -> None:
    table, warnings = _applied({"id": "NGC 3", "same_as": "NGC 4"})
    assert "NGC 3" not in table.index
    assert table.loc["NGC 4", "names"] == "NGC 3|M 3|NGC 33"
    assert table.loc["NGC 4", "common_name"] == "Three"
    assert warnings == []


def test_a_new_first_name_keeps_the_old_one() -> None:
    table, _ = _applied({"id": "NGC 3", "new_id": "NGC 33"})
    assert table.loc["NGC 33", "names"] == "M 3|NGC 3"


def test_an_object_with_a_place_is_added_with_its_constellation() -> None:
    # Stock 2 lies in Cassiopeia (from memory).
    place = {"ra_deg": 33.8, "dec_deg": 59.5, "v_mag": 4.4, "major_arcmin": 60.0}
    table, warnings = _applied({"id": "Stock 2", "kind": "open-cluster"} | place)
    assert table.loc["Stock 2", "constellation"] == "Cas"
    assert table.loc["Stock 2", "common_name"] == "Two Cluster"
    assert warnings == []


def test_what_finds_no_object_is_told() -> None:
    _, warnings = _applied({"id": "NGC 9", "v_mag": 5.0}, {"id": "NGC 3", "same_as": "NGC 8"})
    assert warnings == ["NGC 9: no such object", "NGC 3: no object NGC 8 to be the same as"]


@pytest.mark.parametrize(
    ("cells", "told"),
    [
        ("NGC 1,,,,quasar,,,,,,,,,", "kind quasar"),
        ("NGC 1,,,,,fog,,,,,,,,", "nebula_type fog"),
        ("NGC 1,,,,,,moon,,,,,,,", "v_of moon"),
        ("NGC 1,,,,,,,,,,,,,\nNGC 1,,,,,,,,,,,,,", "twice"),
    ],
)
def test_reading_rejects_unknown_words_and_repeated_rows(
    tmp_path: Path, cells: str, told: str
) -> None:
    path = tmp_path / "table.csv"
    path.write_text(f"{FORM}\n{cells}\n", encoding="utf-8")
    with pytest.raises(ValueError, match=told):
        read_deepsky_typed(path)


def test_deep_sky_objects_lie_in_range_and_name_their_source():
    limits = {"v_mag": (0.0, 13.0), "major_arcmin": (0.5, 400.0), "minor_arcmin": (0.5, 400.0)}
    for column, (low, high) in limits.items():
        bad = [r["id"] for r in OBJECTS if r[column] and not low <= float(r[column]) <= high]
        assert bad == [], column
    assert [r["id"] for r in OBJECTS if len(r["source"]) < len("from memory")] == []
    both = [r for r in OBJECTS if r["minor_arcmin"]]
    assert [r["id"] for r in both if float(r["minor_arcmin"]) > float(r["major_arcmin"])] == []


def test_whose_light_a_magnitude_is_stands_with_nebulae_that_have_one():
    assert {r["v_of"] for r in OBJECTS} == {"", "object", "stars"}
    assert [r["id"] for r in OBJECTS if r["v_of"] == "object" and not r["v_mag"]] == []
    assert [r["id"] for r in OBJECTS if r["v_of"] and r["kind"] not in ("", "nebula")] == []


def test_deep_sky_rows_with_a_place_are_complete():
    added = [r for r in OBJECTS if r["ra_deg"]]
    needed = ("dec_deg", "kind", "v_mag", "major_arcmin")
    assert [r["id"] for r in added if not all(r[column] for column in needed)] == []
