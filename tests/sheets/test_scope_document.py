"""The scope document: JSON as it is promised, rows that agree with it."""

from __future__ import annotations

import json

from planner.eye.observer import Observer
from planner.optics.eyepiece import Barlow, Eyepiece
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.optics.view import all_views
from planner.sheets.scope_document import ranking_rows, scope_document, view_rows
from planner.verdict.faintest_star import faintest_star
from planner.verdict.scope.closest_pairs import closest_pairs
from planner.verdict.scope.instrument import instrument_summary
from planner.verdict.scope.limit_reasons import limit_reasons
from planner.verdict.scope.purpose import rank_by_exit_pupil
from planner.verdict.scope.view_summary import view_summaries
from planner.verdict.setup import Setup

TUBE = Telescope(
    "tube", Design.NEWTONIAN, Mount.HAND_MOVED, 160.0, 158.0, 1027.0, 35.0, Glass(0.06), 0.8, 31.75
)
SETUP = Setup(TUBE, Observer("o", 40.0, 6.5, 2.0, False, 0.6), 20.9, 2.0, 0.2)
VIEWS = all_views(
    TUBE, (Eyepiece("32 mm", 32.0, 50.0, 27.0), Eyepiece("9 mm", 9.0, 60.0)), [Barlow("2x", 2.0)]
)
ROWS = view_summaries(SETUP, VIEWS)
FAINTEST = faintest_star(SETUP, [v.exit_pupil_mm for v in VIEWS])
REASONS = limit_reasons(SETUP, FAINTEST.exit_pupil_mm)
CLOSEST = closest_pairs(SETUP, VIEWS)


def test_scope_document_survives_json() -> None:
    """Plain values only, no NaN, and back again unchanged."""
    document = scope_document(instrument_summary(SETUP), ROWS, FAINTEST, REASONS, CLOSEST)
    text = json.dumps(document, allow_nan=False)
    assert json.loads(text) == document
    assert document["format"] == "planner-scope/1"
    assert "ranking" not in document


def test_scope_document_says_none_for_what_is_unknown() -> None:
    """The diagonal's place is not in this kit."""
    document = scope_document(instrument_summary(SETUP), ROWS, FAINTEST, REASONS, CLOSEST)
    assert document["newtonian"]["fully_lit_field_mm"] is None
    assert document["newtonian"]["coma_free_field_mm"] > 0.0


def test_view_rows_hold_consistent_figures() -> None:
    """Magnification times exit pupil is the aperture, within the rounding of the exit pupil."""
    for row, view in zip(view_rows(ROWS), VIEWS, strict=True):
        product = row["magnification"] * row["exit_pupil_mm"]
        assert abs(product - 158.0) <= 0.0005 * row["magnification"] + 0.05
        assert row["field_from"] == ("field stop" if "32" in view.name else "apparent field")
        assert (row["barlow"] is None) == ("2x" not in view.name)


def test_ranking_is_in_the_document_when_asked() -> None:
    """Ranks from 1, the best first, the same rows as for CSV."""
    ranked = rank_by_exit_pupil(VIEWS, 2.0)
    document = scope_document(instrument_summary(SETUP), ROWS, FAINTEST, REASONS, CLOSEST, ranked)
    assert document["ranking"] == ranking_rows(SETUP, ranked)
    assert [row["rank"] for row in document["ranking"]] == [1, 2, 3, 4]
