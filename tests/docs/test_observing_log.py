"""docs/observing-log.md can be followed: its commands run, in order, and print what it shows."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING

from click.testing import CliRunner
from doc_pages import DOCS, fenced, tables
from test_first_night import shown, steps_of

from planner.cli.root import main
from planner.log.outcome import OTHER_OUTCOMES, PAIR_OUTCOMES
from planner.log.scales import SEEING_WORDS

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

PAGE = DOCS / "observing-log.md"


def test_commands_of_the_log_page_run_and_print_what_it_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PLANNER_KIT", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    (table,) = fenced(PAGE, "csv")
    (tmp_path / "evening.csv").write_text(table, encoding="utf-8")
    steps = steps_of(PAGE)
    assert len(steps) >= 10
    for command, lines in steps:
        done = CliRunner().invoke(main, shlex.split(command))
        assert done.exit_code == 0, f"{command}: {done.output}"
        assert shown(done.output, lines), f"{command} prints no longer {lines}: {done.output}"
    assert (tmp_path / "looks.png").read_bytes().startswith(b"\x89PNG")


def test_words_of_the_page_are_those_of_the_log() -> None:
    rows = tables(PAGE)["One look"]
    told = {cell.strip("`") for row in rows for cell in (row[0], row[2]) if cell}
    assert told == {*PAIR_OUTCOMES, *OTHER_OUTCOMES}
    text = " ".join(PAGE.read_text(encoding="utf-8").split())
    for word, value in SEEING_WORDS.items():
        assert f'`{word}` ({value:.1f}")' in text
