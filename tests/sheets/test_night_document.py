"""The plan as JSON: everything in it, nothing that JSON lacks."""

from __future__ import annotations

import json

import pytest
from sample_nights import plan

from planner.sheets.night_document import COLUMNS, night_document, target_row
from planner.targets.kind import Kind

NIGHTS = [
    ("Lindenhof", "2026-05-14"),
    ("Lindenhof", "2026-11-04"),  # Mercury before the Sun
    ("Nordkapp", "2026-06-21"),
    ("Nordkapp", "2026-12-21"),
]


@pytest.mark.parametrize(("site", "date"), NIGHTS)
def test_documents_are_strict_json(site: str, date: str) -> None:
    """No NaN, no Infinity: written strictly and read back the same."""
    document = night_document(plan(site, date, include_all=True, constellation="Lib", limit=None))
    text = json.dumps(document, allow_nan=False)
    assert json.loads(text) == document


def test_rows_have_the_columns_promised_to_tables() -> None:
    """Doubles have all of them, the others those before the doubles' own; in that order."""
    for target in plan(limit=60).targets:
        keys = list(target_row(target))
        assert keys == list(COLUMNS[: len(keys)])
        assert (len(keys) == len(COLUMNS)) == (target.kind is Kind.DOUBLE)


def test_rows_say_what_the_plan_says() -> None:
    """Times to the second, numbers to their last digit printed."""
    for target in plan(limit=60).targets:
        row = target_row(target)
        assert target.best_time is not None and target.view is not None
        assert row["best_time"] == target.best_time.isoformat()
        assert row["altitude_deg"] == pytest.approx(target.altitude_deg, abs=5.1e-4)
        assert row["ra_deg"] == pytest.approx(target.ra_deg, abs=5.1e-7)
        assert row["eyepiece"] == target.view.name
        assert row["shown"] is target.shown
