"""The list for a terminal: whole, in columns, never wider than a hundred."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sample_nights import KIT, plan

from planner.night.plan import Plan
from planner.sheets.night_text import COLUMNS, night_text

LONG = "A very long name of an observing site with many words in it, " * 3


def rows_of(text: str) -> list[str]:
    """The lines of the table."""
    lines = text.splitlines()
    start = next(i for i, line in enumerate(lines) if line.lstrip().startswith("--")) + 1
    return lines[start : lines.index("", start)]


def test_the_table_has_a_line_for_each_target_shown() -> None:
    """Numbered from one, in the plan's order."""
    rows = rows_of(night_text(plan()))
    assert [int(row.split()[0]) for row in rows] == list(range(1, 26))
    for row, target in zip(rows, plan().targets, strict=True):
        assert target.name[:15] in row
        assert f"{target.altitude_deg:.0f}°" in row


def test_cells_stand_under_their_headings() -> None:
    """Every column starts where its rule starts."""
    lines = night_text(plan()).splitlines()
    rule = next(i for i, line in enumerate(lines) if line.lstrip().startswith("--"))
    starts = [
        i
        for i, sign in enumerate(lines[rule])
        if sign == "-" and lines[rule][i - 1 : i] in ("", " ")
    ]
    assert len(starts) == 9
    for line in rows_of("\n".join(lines)):
        assert all(line[i - 1] == " " for i in starts[1:])


def stretched(name: str) -> Plan:
    """A plan whose names are as long as names get."""
    whole = plan(limit=60)
    view = replace(whole.views[0], name=name, magnification=12345.0)
    longest = "notched, a figure of eight"
    targets = tuple(
        replace(
            target, name=name, verdict=longest, view=view, filter_name=name,
            margin=-12.34, size_arcmin=(190.0, 60.0), reason=name, shown=number % 2 == 0,
        )
        for number, target in enumerate(whole.targets)
    )  # fmt: skip
    site = replace(whole.site, name=name)
    telescope = replace(KIT.telescope(), name=name)
    return replace(whole, targets=targets, site=site, telescope=telescope, notes=(name,))


@pytest.mark.parametrize("name", [LONG, "x" * 250, "é" * 90])
def test_no_name_makes_a_line_longer_than_a_hundred_columns(name: str) -> None:
    """Long names of sites, targets, eyepieces and filters."""
    text = night_text(stretched(name))
    assert max(map(len, text.splitlines())) <= COLUMNS
    assert len(rows_of(text)) == 30


def test_what_is_not_shown_follows_with_its_whole_reason() -> None:
    """Wrapped, not cut."""
    whole = plan(constellation="Vir", include_all=True, limit=None)
    text = night_text(whole)
    below = " ".join(text[text.index("Not shown tonight") :].split())
    hidden = [target for target in whole.targets if not target.shown]
    assert len(hidden) > 100
    assert all(" ".join(target.reason.split()) in below for target in hidden[::10])


def test_an_empty_list_says_so() -> None:
    """And still counts what was looked at."""
    text = night_text(plan("Nordkapp", "2026-06-21"))
    assert "Nothing is shown tonight under these conditions." in text
    assert "0 listed of 0 shown" in text
