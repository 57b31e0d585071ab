"""`planner kit`, as typed."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sample_nights import one_message

from planner.cli.root import main
from planner.kit.reading import example_text

COLUMNS = 100


def run(*arguments: str, kit: str = "") -> Result:
    """One call; no kit of the tester's own leaks in."""
    return CliRunner().invoke(main, ["kit", *arguments], env={"PLANNER_KIT": kit})


def written(folder: Path, *pairs: tuple[str, str]) -> str:
    """The path of a changed example."""
    text = example_text()
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    path = folder / "kit.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def one_error(result: Result) -> str:
    """The only message on stderr, unwrapped; nothing on stdout, no traceback."""
    assert result.stdout == ""
    return one_message(result.stderr)


def test_kit_new_writes_the_example_and_says_what_next(tmp_path: Path) -> None:
    """What it writes passes its own check."""
    path = tmp_path / "my kit.toml"
    result = run("new", str(path))
    assert result.exit_code == 0
    assert path.read_text(encoding="utf-8") == example_text()
    assert f"planner kit check '{path}'" in result.stdout
    checked = run("check", str(path))
    assert checked.exit_code == 0
    assert "Nothing odd found." in checked.stdout
    assert checked.stderr == ""


def test_kit_new_never_overwrites(tmp_path: Path) -> None:
    """A file, an empty file, a folder and a link to nowhere stay as they are."""
    full, empty, link = tmp_path / "full.toml", tmp_path / "empty.toml", tmp_path / "link.toml"
    full.write_text("mine", encoding="utf-8")
    empty.touch()
    link.symlink_to(tmp_path / "nowhere.toml")
    for path in (full, empty, link, tmp_path):
        result = run("new", str(path))
        assert result.exit_code == 1
        assert "is already there; choose another name" in one_error(result)
    assert full.read_text(encoding="utf-8") == "mine"
    assert empty.read_text(encoding="utf-8") == ""
    assert not (tmp_path / "nowhere.toml").exists()


def test_kit_new_reports_a_folder_that_is_not_there(tmp_path: Path) -> None:
    """One line with the path."""
    path = tmp_path / "no" / "kit.toml"
    result = run("new", str(path))
    assert result.exit_code == 1
    assert str(path) in one_error(result)


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="rights of another kind")
def test_kit_new_reports_a_folder_it_may_not_write(tmp_path: Path) -> None:
    """Permission is refused in one line; root may write anywhere and uses /proc instead."""
    folder = Path("/proc") if os.geteuid() == 0 else tmp_path
    if folder == tmp_path:
        folder.chmod(0o500)
    result = run("new", str(folder / "kit.toml"))
    assert result.exit_code == 1
    assert str(folder) in one_error(result)


def test_kit_check_reads_the_example_without_a_file() -> None:
    """And says on stderr that it is the example."""
    result = run("check")
    assert result.exit_code == 0
    assert "Kit: embedded example kit" in result.stdout
    assert "planner kit new" in result.stderr


def test_kit_check_reads_the_kit_of_the_variable(tmp_path: Path) -> None:
    """As every other command does."""
    path = written(tmp_path)
    result = run("check", kit=path)
    assert f"Kit: {path}" in result.stdout
    assert result.stderr == ""


def test_kit_check_prints_every_odd_thing_within_the_page(tmp_path: Path) -> None:
    """All that can go wrong with eyepieces and secondary, and exit code 0: it is advice."""
    path = written(
        tmp_path,
        ('secondary = "35 mm"', 'secondary = "25 mm"'),
        ('focal_length = "32 mm"', 'focal_length = "56 mm"'),
        ('field_stop = "27 mm"', 'field_stop = "31 mm"'),
        ('focal_length = "18 mm"\napparent_field = 60',
         'focal_length = "18 mm"\napparent_field = 60\nbarrel = "2 in"'),
        ('focal_length = "5 mm"', 'focal_length = "2 mm"'),
    )  # fmt: skip
    result = run("check", path)
    assert result.exit_code == 0
    _, _, odd = result.stdout.partition("Worth a look:")
    flowing = " ".join(odd.split())
    for said in (
        "smaller than the light cone",
        "32 mm wastes aperture",
        "larger than a barrel of 31.75 mm passes",
        "18 mm has a barrel of 50.8 mm and does not fit",
        "5 mm gives an exit pupil of 0.30 mm, below your least",
        "a gap in power between",
    ):
        assert said in flowing
    rows = [row for row in result.stdout.splitlines() if not row.startswith("Kit: ")]
    assert max(map(len, rows)) <= COLUMNS


@pytest.mark.parametrize(
    ("pair", "said"),
    [
        (("latitude = 48.10", "latitud = 48.10"), "did you mean 'latitude'?"),
        (('aperture = "160 mm"', "aperture = 160"), 'like "152 mm" or "6 in"'),
        (("age = 52", "age = nan"), "[observer]: age = nan: write a plain number"),
        (("latitude = 48.10", "latitude = 48,10"), "not valid TOML"),
    ],
)
def test_kit_check_ends_with_2_for_a_wrong_value(
    tmp_path: Path, pair: tuple[str, str], said: str
) -> None:
    """One line: file, block, key, value, remedy."""
    path = written(tmp_path, pair)
    result = run("check", path)
    assert result.exit_code == 2
    line = one_error(result)
    assert line.startswith(f"Error: {path}: ")
    assert said in line


def test_kit_check_ends_with_2_for_a_file_it_cannot_read(tmp_path: Path) -> None:
    """No file, a folder, another encoding, an empty file."""
    latin = tmp_path / "latin.toml"
    latin.write_bytes(b'name = "\xe4"\n')
    empty = tmp_path / "empty.toml"
    empty.touch()
    for path in (tmp_path / "none.toml", tmp_path, latin, empty):
        result = run("check", str(path))
        assert result.exit_code == 2
        assert str(path) in one_error(result)


def test_planner_kit_runs_as_a_program(tmp_path: Path) -> None:
    """A process of its own: written, checked, spoilt, refused, without a traceback."""
    program = [sys.executable, "-c", "from planner.cli.root import main; main()", "kit"]
    clean = {k: v for k, v in os.environ.items() if k != "PLANNER_KIT"}
    path = tmp_path / "kit.toml"

    def call(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [*program, *arguments], capture_output=True, text=True, check=False, env=clean
        )

    assert call("new", str(path)).returncode == 0
    assert call("new", str(path)).returncode == 1
    assert "Nothing odd found." in call("check", str(path)).stdout
    path.write_text(example_text().replace("[[telescope]]", "[telescope]"), encoding="utf-8")
    refused = call("check", str(path))
    assert refused.returncode == 2
    assert refused.stderr.startswith("Error: ")
    assert "Traceback" not in refused.stderr
