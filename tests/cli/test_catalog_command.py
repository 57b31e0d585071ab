"""`planner catalog`: sources, licences and checksums of what the planner knows."""

from __future__ import annotations

import csv
import io
import json

from sample_nights import run

MOST_COLUMNS = 100


def test_catalogs_are_listed_with_source_edition_and_licence() -> None:
    """As JSON: every catalog has all of them."""
    document = json.loads(run("catalog", "--format", "json", kit=False).stdout)
    assert document["format"] == "planner-catalog/1"
    assert {row["name"] for row in document["catalogs"]} >= {"pairs", "deepsky", "stars"}
    for row in document["catalogs"]:
        assert row["rows"] > 0
        assert row["source"] and row["edition"] and row["licence"]


def test_catalogs_are_the_same_in_every_form() -> None:
    """Text, JSON and CSV."""
    rows = json.loads(run("catalog", "--format", "json", kit=False).stdout)["catalogs"]
    table = csv.DictReader(io.StringIO(run("catalog", "--format", "csv", kit=False).stdout))
    assert [row["name"] for row in table] == [row["name"] for row in rows]
    text = run("catalog", kit=False).stdout
    assert max(map(len, text.splitlines())) <= MOST_COLUMNS
    for row in rows:
        assert row["name"] in text and str(row["rows"]) in text


def test_catalogs_as_shipped_are_whole() -> None:
    """Every checksum holds."""
    result = run("catalog", "verify", kit=False)
    assert result.exit_code == 0
    assert "whole" in result.stdout
