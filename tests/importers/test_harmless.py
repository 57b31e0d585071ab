"""Whatever stands in an outside file, the answer is one line and the texts are harmless."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from wds_maker import summary_line

from planner.errors import UsageError
from planner.importers.harmless import harmless
from planner.importers.importing import ImportReport, ImportRequest, import_catalog
from planner.importers.library import load_all_pairs
from planner.importers.table_import import read_table
from planner.importers.wds_layout import read_summary

HEADER = "ra,dec,separation,v1,v2,discoverer,name,pm_ra\n"
GOOD = "150,20,12,7,8,STF 1,Mine,0\n"


def taken(tmp_path: Path, text: str, columns: str | None = None) -> ImportReport:
    path = tmp_path / "mine.csv"
    path.write_bytes(text.encode())
    return import_catalog(
        ImportRequest(path, tmp_path / "own", dt.date(2026, 5, 14), None, columns)
    )


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        (f"151,21,12,7,8,STF {'1' * 5000},Mine,0", "a name of more than 100 characters"),
        (f"151,21,12,7,8,STF 2,{'a' * 101},0", "a name of more than 100 characters"),
        ("inf,21,12,7,8,STF 2,Mine,0", "a position that cannot be read"),
        ("151,-inf,12,7,8,STF 2,Mine,0", "a position that cannot be read"),
        ("nan,21,12,7,8,STF 2,Mine,0", "no position"),
        ("1e400,21,12,7,8,STF 2,Mine,0", "a position that cannot be read"),
        ("151,21,inf,7,8,STF 2,Mine,0", "something else than a number"),
        ("151,21,12,7,8,STF 2,Mine,1e300", "an impossible number"),
    ],
)
@pytest.mark.filterwarnings("error")
def test_impossible_cells_refuse_their_row_only(row: str, reason: str) -> None:
    reading = read_table((HEADER + GOOD + row + "\n").encode(), ".csv", None)
    (refused,) = reading.refusals
    assert refused.reason.startswith(reason)
    assert refused.first_lines == (3,)
    assert reading.rows.name.tolist() == ["Mine"]


def test_five_thousand_decimals_are_a_position_like_any_other() -> None:
    row = f"150.{'0' * 5000},20.{'0' * 5000},12,7,8,STF 1,Mine,0\n"
    rows = read_table((HEADER + row).encode(), ".csv", None).rows
    assert (rows.ra_deg[0], rows.dec_deg[0]) == (150.0, 20.0)


def test_harmless_replaces_hidden_characters_and_keeps_all_others() -> None:
    assert harmless("Zwölf Häuser α") == "Zwölf Häuser α"
    assert harmless("a\x1b[31mb\x07\x9b\u202ec\ttab\nline") == "a?[31mb???c tab line"


def test_control_characters_in_names_and_columns_are_replaced(tmp_path: Path) -> None:
    text = "ra,dec,rho\x1b[2J,v1,v2,name\n150,20,12,7,8,My\x1b[31m pair\x07\n"
    taken(tmp_path, text, "separation=rho\x1b[2J")
    assert load_all_pairs(tmp_path / "own").name[-1] == "My?[31m pair?"
    with pytest.raises(UsageError, match="no column called separation") as caught:
        taken(tmp_path, text)
    assert "\x1b" not in str(caught.value) and "rho?[2J" in str(caught.value)


def test_control_characters_of_a_summary_are_replaced() -> None:
    line = summary_line(
        {"wds": "10000+2000", "discoverer": "BU\x1b\x07 34", "last_year": 2015,
         "last_separation": 4.0, "last_angle": 10, "v1": 8.0, "v2": 9.0}
    )  # fmt: skip
    assert read_summary(line.encode() + b"\n").rows.discoverer.tolist() == ["BU?? 34"]
