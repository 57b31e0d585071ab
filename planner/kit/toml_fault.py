"""What is wrong with a text that is no TOML, in plain words with the line."""

from __future__ import annotations

import re
import tomllib

from planner.kit.schema import BLOCKS, MIRROR, MIRROR_EDGE
from planner.kit.shown import one_line

_AT_LINE = re.compile(r" \(at line (\d+), column \d+\)$")
_AT_END = " (at end of document)"
_HEADING = re.compile(r"\[+\s*([\w-]+)\s*\]")
_TWICE = ("Cannot declare", "Cannot overwrite a value")  # what the parser says of a second block
_ONCE = frozenset(rule.name for rule in (*BLOCKS, MIRROR, MIRROR_EDGE) if not rule.many)

# The opening of the parser's words (Python's tomllib), and what the writer of a kit did.
_CAUSES = (
    ("Illegal character", "the text has no closing quote, or holds a hidden character"),
    ("Unterminated string", "the text has no closing quote"),
    ("Expected newline or end of document after a statement", "something follows the value; write "
     "a decimal point, no comma, and text in quotes"),
    ("Invalid value", "this is no value: write text in quotes and numbers with a decimal point"),
    ("Cannot overwrite a value", "this key stands twice in its block"),
    ("Cannot declare", "this block stands twice; write it once"),
    ("Expected ']", "the block's brackets are not closed"),
    ("Unclosed array", "a list's bracket is not closed, here or on a line above"),
    ("Unclosed inline table", "a brace is not closed"),
    ("Expected '='", "a key needs = and a value"),
    ("Invalid statement", "this is neither a block in brackets nor key = value"),
    ("Invalid initial character for a key part", "this is neither a block in brackets nor "
     "key = value"),
    ("Invalid date or datetime", "there is no such date; write other text in quotes"),
    ("Unescaped '\\' in a string", "write \\\\ for a \\ in a text"),
)  # fmt: skip


def toml_fault(text: str, error: Exception) -> str:
    """The fault that ``tomllib`` found in a text, with the line's number and the line itself."""
    if isinstance(error, RecursionError):
        return "not valid TOML: nested too deep; write each key on a line of its own"
    if not isinstance(error, tomllib.TOMLDecodeError):
        return "not valid TOML: a number has too many digits; write fewer"
    said = str(error)
    found = _AT_LINE.search(said)
    lines = text.rstrip().split("\n")
    number = min(int(found.group(1)), len(lines)) if found else len(lines)
    line = lines[number - 1].strip()
    reason = _plain(_AT_LINE.sub("", said).removesuffix(_AT_END), line)
    return f"line {number} is not valid TOML: {one_line(line)}: {reason}"


def _plain(reason: str, line: str) -> str:
    """The cause in the words of one who wrote a kit; the parser's own where it is none of these."""
    heading = _HEADING.match(line)
    if heading is not None and reason.startswith(_TWICE):
        name = heading.group(1)
        if name in _ONCE:
            return f"this block stands twice; write it once: [{name}]"
        return f"this block stands twice; write each in double brackets: [[{name}]]"
    for opening, words in _CAUSES:
        if reason.startswith(opening):
            return words
    return reason[:1].lower() + reason[1:]
