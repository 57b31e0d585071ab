"""The width of a page of text, and the one way to break a line to a width."""

from __future__ import annotations

import textwrap

PAGE_COLUMNS = 100


def wrapped(
    line: str,
    hanging: int | None = None,
    *,
    width: int = PAGE_COLUMNS,
    break_on_hyphens: bool = True,
    break_long_words: bool = True,
) -> str:
    """One line as lines of at most ``width`` columns, those of the page if left out.

    What follows the first is set in by ``hanging`` columns, two more than the first if left out.
    A word longer than that is cut, or left whole where long words are not to be broken.
    """
    if hanging is None:
        hanging = len(line) - len(line.lstrip()) + 2
    return textwrap.fill(
        line,
        width,
        subsequent_indent=" " * hanging,
        break_on_hyphens=break_on_hyphens,
        break_long_words=break_long_words,
    )


def cell_text(text: str, width: int) -> str:
    """A text of a table's cell as lines of at most ``width`` columns."""
    return wrapped(text, 0, width=width)
