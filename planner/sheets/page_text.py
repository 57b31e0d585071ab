"""The width of a page of text, and the one way to break a line to it."""

from __future__ import annotations

import textwrap

PAGE_COLUMNS = 100


def wrapped(line: str, hanging: int | None = None, *, break_on_hyphens: bool = True) -> str:
    """One line as lines of at most 100 columns.

    What follows the first is set in by ``hanging`` columns, two more than the first if left out.
    A word longer than the page is cut.
    """
    if hanging is None:
        hanging = len(line) - len(line.lstrip()) + 2
    return textwrap.fill(
        line, PAGE_COLUMNS, subsequent_indent=" " * hanging, break_on_hyphens=break_on_hyphens
    )
