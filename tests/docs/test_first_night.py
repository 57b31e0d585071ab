"""docs/first-night.md can be followed: its commands run, in order, and print what it shows."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner
from doc_pages import DOCS, fenced

from planner.cli.root import main
from planner.targets.names import complete

if TYPE_CHECKING:
    from pathlib import Path

PAGE = DOCS / "first-night.md"


def steps_of(page: Path) -> list[tuple[str, list[str]]]:
    """Each command of a page with the lines shown below it."""
    steps: list[tuple[str, list[str]]] = []
    for block in fenced(page, "console"):
        for line in block.splitlines():
            if line.startswith("$ planner "):
                steps.append((line.removeprefix("$ planner "), []))
            else:
                steps[-1][1].append(_spaced(line))
    return steps


def _spaced(line: str) -> str:
    return " ".join(line.split())


def shown(output: str, lines: list[str]) -> bool:
    """Whether the lines stand in the output in their order; the width of columns is left aside."""
    printed = iter([_spaced(line) for line in output.splitlines()])
    return all(line in printed for line in lines if line != "...")


def test_commands_of_the_page_run_and_print_what_it_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PLANNER_KIT", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    steps = steps_of(PAGE)
    assert len(steps) >= 10
    for command, lines in steps:
        done = CliRunner().invoke(main, shlex.split(command))
        assert done.exit_code == 0, f"{command}: {done.output}"
        assert shown(done.output, lines), f"{command} prints no longer {lines}"
    assert (tmp_path / "tonight.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "izar.png").read_bytes().startswith(b"\x89PNG")


def test_tab_key_finds_castor_as_the_page_says() -> None:
    assert "Castor" in complete("cast")
