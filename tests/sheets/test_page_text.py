"""One way to break a line to the page."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.sheets.page_text import PAGE_COLUMNS, wrapped

WORDS = st.lists(st.text("abcdefg-", min_size=1, max_size=30), min_size=1, max_size=40)


@given(WORDS, st.integers(0, 60), st.booleans())
def test_wrapped_lines_fit_the_page_and_lose_nothing(
    words: list[str], hanging: int, hyphens: bool
) -> None:
    text = wrapped(" ".join(words), hanging, break_on_hyphens=hyphens)
    assert max(map(len, text.splitlines())) <= PAGE_COLUMNS == 100
    assert "".join(text.split()) == "".join(words)


@pytest.mark.parametrize(("start", "second"), [("", 2), ("  ", 4), ("  - ", 4)])
def test_wrapped_sets_the_rest_in_by_two_more(start: str, second: int) -> None:
    """Unless told otherwise; a short line stays as it is."""
    rest = wrapped(start + "word " * 30).splitlines()[1]
    assert len(rest) - len(rest.lstrip()) == second
    assert wrapped(start + "word") == start + "word"


def test_wrapped_keeps_a_hyphened_word_whole_when_asked() -> None:
    """A name of a file or a mount is not broken."""
    line = "x" * 90 + " hand-moved-tube"
    assert "hand-moved-tube" in wrapped(line, break_on_hyphens=False)
    assert "hand-moved-tube" not in wrapped(line)
