"""CSV text: read back it is what went in."""

from __future__ import annotations

import csv
import io
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.sheets.rows import cell, csv_text

TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=20)
VALUES = st.one_of(TEXTS, st.integers(-(10**9), 10**9), st.floats(-1e6, 1e6), st.none())
ROWS = st.lists(st.dictionaries(st.sampled_from("abcde"), VALUES), max_size=5)


@settings(deadline=None, max_examples=60)
@given(ROWS)
def test_csv_reads_back_what_was_written(rows: list[dict[str, Any]]) -> None:
    """RFC 4180: quotes, commas and the union of all keys."""
    read = list(csv.DictReader(io.StringIO(csv_text(rows, "ab"))))
    written = [row for row in rows]
    assert len(read) == len(written)
    for back, row in zip(read, written, strict=True):
        assert {key: text for key, text in back.items() if text} == {
            key: str(value) for key, value in row.items() if value not in (None, "")
        }


def test_csv_without_rows_still_has_its_header() -> None:
    """An empty night makes an empty table, not an empty file."""
    assert csv_text([], ("id", "name")) == "id,name\r\n"


def test_csv_keeps_the_columns_given_first() -> None:
    """Then those nobody foresaw."""
    assert csv_text([{"new": 1, "name": "x"}], ("id", "name")) == "id,name,new\r\n,x,1\r\n"


def test_cells_tell_truth_lists_and_maps_in_words() -> None:
    """JSON's own words for truth values; bars between the items of a list."""
    assert cell(True) == "true" and cell(False) == "false"
    assert cell(None) == ""
    assert cell(["a", 2, None]) == "a|2|"
    assert cell({"clean": 1.5, "just": None}) == "clean=1.5|just="
    assert cell(0) == 0
