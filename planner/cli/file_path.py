"""The name of a file as the user gave it."""

from __future__ import annotations

import unicodedata
from typing import Any

import click

REMEDY = "rename it or give another name"


class FilePath(click.Path):
    """A path that can be opened and printed back.

    Refused before any work, whatever the command does with it: a path with control characters
    (a null byte no system can open, the others would reach the terminal) and one that is no
    text in UTF-8, which neither screen nor JSON can show.
    """

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The path, checked as click.Path does."""
        categories = {unicodedata.category(character) for character in str(value)}
        if "Cs" in categories:
            self.fail(f"the file name {value!a} is not UTF-8; {REMEDY}", param, ctx)
        if "Cc" in categories:
            self.fail(f"the file name {value!a} has a control character; {REMEDY}", param, ctx)
        return super().convert(value, param, ctx)
