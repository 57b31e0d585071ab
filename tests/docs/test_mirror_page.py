"""docs/from-tester-to-sky.md can be followed: its commands run and print what it shows."""

from __future__ import annotations

import re
import shlex
from typing import TYPE_CHECKING

from click.testing import CliRunner
from doc_pages import DOCS, fenced
from test_first_night import shown, steps_of

from planner.cli.root import main

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

PAGE = DOCS / "from-tester-to-sky.md"


def test_commands_of_the_mirror_page_run_and_print_what_it_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The kit gets the line that the page tells in place of its wave error."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PLANNER_KIT", raising=False)
    (told,) = fenced(PAGE, "toml")
    steps = steps_of(PAGE)
    assert len(steps) == 6
    for command, lines in steps:
        done = CliRunner().invoke(main, shlex.split(command))
        assert done.exit_code == 0, f"{command}: {done.output}"
        assert shown(done.output, lines), f"{command} prints no longer {lines}: {done.output}"
        if command.startswith("kit new"):
            kit = tmp_path / "garden.toml"
            text, changed = re.subn(r"(?m)^wavefront_error = .*$", told.strip(), kit.read_text())
            assert changed == 1
            kit.write_text(text, encoding="utf-8")
    assert (tmp_path / "elsa.png").read_bytes().startswith(b"\x89PNG")
