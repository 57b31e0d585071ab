"""Texts from outside without characters that would steer a terminal, a page or a table."""

from __future__ import annotations

STANDS_FOR_HIDDEN = "?"


def harmless(text: str) -> str:
    """The text on one line: blanks of every kind as spaces, other hidden characters as ``?``.

    Hidden are control and formatting characters, halves of surrogate pairs and what Unicode has
    not given out: with them a name could move a terminal's cursor or turn a line round.
    """
    if text.isprintable():
        return text
    return "".join(
        one if one.isprintable() else " " if one.isspace() else STANDS_FOR_HIDDEN for one in text
    )
