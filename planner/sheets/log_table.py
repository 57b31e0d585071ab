"""Looks of the log as a table of at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.sheets.day_words import day_words
from planner.sheets.log_text import clock_face
from planner.sheets.night_words import cut
from planner.sheets.page_text import PAGE_COLUMNS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.log.record import Record

HEADERS = ["night", "time", "target", "how", "seeing", "with", "note"]
LONGEST_NAME, LONGEST_HOW, LONGEST_EYEPIECE = 24, 26, 16


def log_table(looks: Sequence[Record], total: int) -> str:
    """The looks as they come, one line each, and how many there are in all."""
    if not looks:
        return "Nothing in the log answers that."
    rows = [_row(look) for look in looks]
    used = [max(len(row[column]) for row in [HEADERS, *rows]) for column in range(6)]
    room = max(10, PAGE_COLUMNS - sum(used) - 2 * 6)
    for row in rows:
        row[6] = cut(row[6], room)
    text = tabulate(rows, HEADERS, tablefmt="plain", disable_numparse=True)
    lines = [line.rstrip() for line in str(text).splitlines()]
    nights = len({look.night for look in looks})
    targets = len({look.target for look in looks})
    more = "" if total == len(looks) else f" of {total}; all: --limit {total}"
    counts = (_count(len(looks), "look"), _count(targets, "target"), _count(nights, "night"))
    lines += ["", f"{counts[0]} at {counts[1]} on {counts[2]}{more}"]
    return "\n".join(lines)


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'s' * (number != 1)}"


def _row(look: Record) -> list[str]:
    how = look.outcome.value if look.outcome else "-"
    if look.companion is not None:
        how += f", {look.companion.value}"
    if look.companion_clock is not None:
        how += f" at {clock_face(look.companion_clock)}"
    return [
        day_words(look.night),
        f"{look.at:%H:%M}",
        cut(look.name, LONGEST_NAME),
        cut(how, LONGEST_HOW),
        "-" if look.seeing_arcsec is None else f'{look.seeing_arcsec:g}"',
        cut(look.eyepiece or "-", LONGEST_EYEPIECE),
        " ".join(look.note.split()),
    ]
