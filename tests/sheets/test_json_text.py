"""Documents as JSON: short and long ones hold the same, and no number JSON lacks."""

from __future__ import annotations

import json

import pytest

from planner.sheets.json_text import LONG_LIST, json_text

DOCUMENT = {"format": "x/1", "site": {"name": 'Weiß "am" Berg'}, "notes": ["a", "b"], "none": None}


@pytest.mark.parametrize("count", [0, 1, LONG_LIST - 1, LONG_LIST, LONG_LIST + 5])
def test_a_document_read_back_is_the_same(count: int) -> None:
    """With lists of any length, by the library's own reader."""
    document = {**DOCUMENT, "targets": [{"id": str(n), "margin": n / 7} for n in range(count)]}
    text = json_text(document)
    assert json.loads(text) == document
    assert list(json.loads(text)) == list(document)


def test_a_long_list_has_a_line_for_each_entry() -> None:
    """So that a search by lines finds one target whole."""
    text = json_text({"targets": [{"id": f"NGC {n}", "size": [1, 2]} for n in range(500)]})
    assert sum('"NGC 250"' in line and "size" in line for line in text.splitlines()) == 1


@pytest.mark.parametrize("count", [1, LONG_LIST])
def test_numbers_that_json_lacks_are_refused(count: int) -> None:
    """In a short document and in a long one."""
    with pytest.raises(ValueError, match="not JSON compliant"):
        json_text({"values": [float("nan")] * count})
