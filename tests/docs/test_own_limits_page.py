"""docs/own-limits.md can be followed: its commands run, in order, and print what it shows."""

from __future__ import annotations

import json
import shlex
from typing import TYPE_CHECKING

from click.testing import CliRunner
from doc_pages import DOCS, bare, fenced, tables
from test_first_night import shown, steps_of

from planner.cli.root import main

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

PAGE = DOCS / "own-limits.md"
FORMATS = tables(DOCS / "formats.md")


def _documented(heading: str) -> list[str]:
    return sorted(bare(row[0]) for row in FORMATS[heading])


def test_commands_of_the_limits_page_run_and_print_what_it_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PLANNER_KIT", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    (table,) = fenced(PAGE, "csv")
    (tmp_path / "autumn.csv").write_text(table, encoding="utf-8")
    steps = steps_of(PAGE)
    assert len(steps) >= 7
    for command, lines in steps:
        done = CliRunner().invoke(main, shlex.split(command))
        assert done.exit_code == 0, f"{command}: {done.output}"
        assert shown(done.output, lines), f"{command} prints no longer {lines}: {done.output}"
        if "--apply" in command:
            _check_documents(tmp_path)


def _check_documents(folder: Path) -> None:
    """Every field is on the page of formats; a fit after --apply starts from the kit's values."""
    kept = json.loads((folder / "garden.limits.json").read_text(encoding="utf-8"))
    assert sorted(kept) == _documented("The limits object")
    words = "log limits --date 2026-12-08 --kit garden.toml --format json"
    fitted = CliRunner().invoke(main, shlex.split(words))
    document = json.loads(fitted.stdout)
    assert sorted(document) == _documented("The own-limits object")
    assert all(sorted(one) == _documented("`settings[]`") for one in document["settings"])
    assert all(sorted(one) == _documented("`would_tell[]`") for one in document["would_tell"])
    assert [one["kit"] for one in document["settings"]] == [0.85, 0.0, 2.0, 2.0]
