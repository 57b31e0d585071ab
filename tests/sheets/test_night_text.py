"""The list for a terminal: whole, in columns, never wider than a hundred."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sample_nights import KIT, plan

from planner.night.plan import Plan
from planner.sheets import night_text as night_text_module
from planner.sheets.double_words import split_words
from planner.sheets.listing import Order
from planner.sheets.night_text import night_text
from planner.sheets.night_words import LEGEND, short_name
from planner.sheets.page_text import PAGE_COLUMNS
from planner.sheets.verdict_words import STEP_WORDS, reason_words, verdict_words
from planner.verdict.pairs.criteria import CRITERIA, UNEQUAL_FROM_MAG, SplitClass
from planner.verdict.steps import Step

LONG = "A very long name of an observing site with many words in it, " * 3


def rows_of(text: str) -> list[str]:
    """The lines of the table."""
    lines = text.splitlines()
    start = next(i for i, line in enumerate(lines) if line.lstrip().startswith("-")) + 1
    return lines[start : lines.index("", start)]


def test_the_table_has_a_line_for_each_target_shown() -> None:
    """Numbered from one, in the plan's order."""
    rows = rows_of(night_text(plan()))
    assert [int(row.split()[0]) for row in rows] == list(range(1, 26))
    for row, target in zip(rows, plan().targets, strict=True):
        assert target.name[:15] in row or short_name(target)[:15] in row
        assert f"{target.altitude_deg:.0f}° " in row
        assert f" {target.constellation} " in row


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
    targets = tuple(
        replace(
            target, name=name, view=view, filter_name=name,
            margin=-12.34, size_arcmin=(190.0, 60.0), shown=number % 2 == 0,
        )
        for number, target in enumerate(whole.targets)
    )  # fmt: skip
    site = replace(whole.site, name=name)
    telescope = replace(KIT.telescope(), name=name)
    return replace(whole, targets=targets, site=site, telescope=telescope)


@pytest.mark.parametrize("name", [LONG, "x" * 250, "é" * 90])
def test_no_name_makes_a_line_longer_than_a_hundred_columns(name: str) -> None:
    """Long names of sites, targets, eyepieces and filters."""
    text = night_text(stretched(name))
    assert max(map(len, text.splitlines())) <= PAGE_COLUMNS
    assert len(rows_of(text)) == 30


@pytest.mark.parametrize("odd", ["companion held steadily", "companion glimpsed", "x" * 60])
def test_one_long_verdict_does_not_shorten_every_name(
    odd: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Names get the room they would have with the longest plain verdict and a span of time."""
    whole = plan()
    first = whole.targets[0]
    monkeypatch.setattr(
        night_text_module,
        "verdict_words",
        lambda target: odd if target.id == first.id else verdict_words(target),
    )
    targets = (replace(first, name="x" * 40), *whole.targets[1:])
    rows = rows_of(night_text(replace(whole, targets=targets)))
    assert len(rows[0].split()[1]) >= 17
    if odd.startswith("companion"):
        assert f" {odd.split()[1]} " in rows[0]


def test_the_eyepieces_of_the_powers_are_named_below() -> None:
    """Each power of the table once, the lowest first, with every eyepiece that gives it."""
    whole = plan(limit=40)
    text = " ".join(night_text(whole).split())
    note = text[text.index("Eyepieces: ") : text.index(" Margin: ")]
    used = {(t.view.magnification, t.view.name) for t in whole.targets if t.view is not None}
    entries = [f"{power:.0f}x = {name}" for power, name in sorted(used)]
    assert len(entries) > 3
    assert note == "Eyepieces: " + ", ".join(entries)


def test_eyepieces_of_the_same_power_share_their_entry() -> None:
    """Two ways to 100x: both are named, at one power."""
    whole = plan()
    first, second, *_ = whole.targets
    assert first.view is not None
    hundred = replace(first.view, magnification=100.2)
    views = [replace(hundred, name=name) for name in ("10 mm", "20 mm + 2x")]
    pair = (replace(first, view=views[1]), replace(second, view=views[0]))
    text = night_text(replace(whole, targets=pair))
    assert "Eyepieces: 100x = 10 mm or 20 mm + 2x\n" in text


@pytest.mark.parametrize("just", [None, 1.2])
def test_a_pair_that_is_only_notched_tells_in_which_seeing(just: float | None) -> None:
    """The seeing for what the verdict says, also where a better class needs less of it."""
    whole = plan()
    first = next(target for target in whole.targets if target.double is not None)
    assert first.double is not None
    double = replace(
        first.double,
        magnitudes=(5.0, 5.5),
        step=Step.SEEN,
        split_class=SplitClass.NOTCHED,
        limiting_seeing_arcsec=(1.5, 1.4, just or 0.0, 0.0),
    )
    only = replace(first, detail=double)
    (row,) = rows_of(night_text(replace(whole, targets=(only,))))
    assert row.endswith('notched  to 1.4"')


def test_by_time_the_rows_keep_their_ranks_by_worth() -> None:
    """The same lines in another order, and a word that says so."""
    worth, time = night_text(plan()), night_text(plan(), Order.TIME)
    assert sorted(rows_of(worth)) == sorted(rows_of(time)) != rows_of(time)
    assert "numbers rank by worth" in time and "numbers rank by worth" not in worth


def test_what_is_not_shown_follows_with_its_whole_reason() -> None:
    """Wrapped, not cut."""
    whole = plan(constellation="Vir", include_all=True, limit=None)
    text = night_text(whole)
    below = " ".join(text[text.index("Not shown tonight") :].split())
    hidden = [target for target in whole.targets if not target.shown]
    assert len(hidden) > 100
    assert all(" ".join(reason_words(target).split()) in below for target in hidden[::10])


def test_an_empty_list_says_so() -> None:
    """And still counts what was looked at."""
    text = night_text(plan("Nordkapp", "2026-06-21"))
    assert "Nothing is shown tonight under these conditions." in text
    assert "0 listed of 0 shown" in text


def test_the_words_of_the_list_are_explained_below_it() -> None:
    """In two lines of the page and not more than 200 characters."""
    text = night_text(plan())
    assert all(f"\n{line}\n" in text for line in LEGEND)
    assert len(LEGEND) == 2 and len(" ".join(LEGEND)) <= 200
    explained = " ".join(LEGEND)
    steps = [
        STEP_WORDS[step].removeprefix("seen ") for step in (Step.BORDERLINE, Step.SEEN, Step.PLAIN)
    ]
    unequal = [split_words(c, UNEQUAL_FROM_MAG) for c in CRITERIA]
    words = [told.split()[1] for told in unequal if "companion" in told]
    words += [split_words(c, 0.0).split()[0].rstrip(",") for c in CRITERIA]
    listed = [word for word in (*steps, *words, "+1") if word != "elongated"]
    assert len(listed) >= 9
    assert all(f"{word} = " in explained for word in listed)
    assert LEGEND[0] not in night_text(plan("Nordkapp", "2026-06-21"))
