"""Write the excerpt of a night's list into the README, cut from a run on the example kit."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from click.testing import CliRunner
from generated import with_part, write_or_check

from planner.cli.root import main

PAGE = Path(__file__).resolve().parents[1] / "README.md"
PART = "excerpt"
COMMAND = ("tonight", "--date", "2026-12-08", "--limit", "9")
MOST_LINES = 20


def excerpt() -> str:
    """The first lines of the run, in a fenced block, with the command above them."""
    with TemporaryDirectory() as nobodys:
        own = {"PLANNER_KIT": "", "XDG_DATA_HOME": nobodys}
        done = CliRunner().invoke(main, COMMAND, env=own, catch_exceptions=False)
    lines = [line.rstrip() for line in done.stdout.splitlines()][: MOST_LINES - 1]
    return "\n".join(["```text", f"$ planner {' '.join(COMMAND)}", *lines, "```"])


if __name__ == "__main__":
    text = PAGE.read_text(encoding="utf-8")
    write_or_check(PAGE, with_part(text, PART, excerpt()), "make_excerpt.py")
