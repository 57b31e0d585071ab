"""`planner scope`, as typed."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys

import pytest
from click.testing import CliRunner, Result

from planner.cli.scope import PURPOSES, scope
from planner.errors import UsageError
from planner.verdict.scope.purpose import Purpose


def run(*arguments: str) -> Result:
    """One call; no kit of the tester's own leaks in."""
    return CliRunner().invoke(scope, arguments, env={"PLANNER_KIT": ""})


def test_scope_offers_every_purpose() -> None:
    """The list that the help shows without loading numpy is the real one."""
    assert tuple(purpose.value for purpose in Purpose) == PURPOSES


def test_scope_answers_for_the_embedded_kit() -> None:
    """Exit code 0, the answer on stdout, the note about the example on stderr."""
    result = run()
    assert result.exit_code == 0
    assert "Useful powers" in result.stdout
    assert "example kit" in result.stderr
    assert "example kit" not in result.stdout


@pytest.mark.parametrize("purpose", PURPOSES)
def test_scope_answers_each_purpose_first(purpose: str) -> None:
    """The best view is named above the table."""
    result = run("--for", purpose)
    assert result.exit_code == 0
    assert f"Best for {purpose}: " in result.stdout


def test_scope_prints_json_with_the_ranking() -> None:
    """Nothing but one document on stdout."""
    result = run("--exit-pupil", "2", "--format", "json")
    document = json.loads(result.stdout)
    assert document["format"] == "planner-scope/1"
    pupils = [row["exit_pupil_mm"] for row in document["ranking"]]
    nearest = min(pupils, key=lambda mm: max(mm / 2.0, 2.0 / mm))
    assert pupils[0] == nearest


@pytest.mark.parametrize("question", [(), ("--for", "planets")])
def test_scope_prints_csv_rows(question: tuple[str, ...]) -> None:
    """A header and one row per view, no blank line at the end."""
    result = run(*question, "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(result.stdout)))
    assert len(rows) > 3
    assert all(float(row["magnification"]) > 1.0 for row in rows)
    assert not result.stdout.endswith("\n\n")


def test_scope_refuses_two_questions_at_once() -> None:
    """Wrong usage is exit code 2 with the remedy."""
    result = run("--for", "planets", "--exit-pupil", "1")
    assert result.exit_code == 2
    assert "not both" in result.stderr


def test_scope_refuses_an_unknown_telescope() -> None:
    """The planner's own error, which the command group turns into exit code 2."""
    result = run("--telescope", "no such tube")
    assert isinstance(result.exception, UsageError)


def test_scope_help_loads_no_heavy_library() -> None:
    """Importing the command brings in neither numpy nor tabulate."""
    code = (
        "import sys; import planner.cli.scope; "
        "sys.exit(any(m in sys.modules for m in ('numpy', 'tabulate', 'astropy')))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
