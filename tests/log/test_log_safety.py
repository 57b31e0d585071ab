"""The log under kills, several writers, a full disk and a folder that cannot be written."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from log_kills import run
from log_samples import look

from planner.log.line import line_of
from planner.log.reading import read_journal
from planner.log.writing import LogWriteError, append, log_file

ROOT = Path(__file__).parents[2]


@pytest.mark.skipif(sys.platform == "win32", reason="forks and kills as POSIX has them")
def test_killed_writers_lose_and_tear_nothing_they_said_was_kept(tmp_path: Path) -> None:
    toll = run(tmp_path, kills=48, longest_s=0.02)
    assert toll.kills == 48 and toll.said > 20  # they did write
    assert toll.lost == 0 and toll.spoilt == 0
    assert toll.kept <= toll.said + toll.kills  # at most one unsaid record a killed writer


@pytest.mark.skipif(sys.platform == "win32", reason="limits as POSIX has them")
def test_a_full_disk_leaves_the_log_as_it_was(tmp_path: Path) -> None:
    """The system's own limit on a file's size stands for the end of the disk."""
    path = log_file(tmp_path, "pc")
    kept = look(0)
    append(path, [kept])
    before = path.read_bytes()
    code = (
        "import resource, signal, sys\n"
        f"sys.path[:0] = [{str(ROOT)!r}, {str(ROOT / 'tests' / 'log')!r}]\n"
        "from pathlib import Path\n"
        "from log_samples import look\n"
        "from planner.log.writing import append\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({len(before) + 300},) * 2)\n"
        f"append(Path({str(path)!r}), [look(1), look(2)])\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert "LogWriteError" in done.stderr and "nothing was added" in done.stderr, done.stderr
    assert path.read_bytes() == before
    append(path, [look(3)])
    assert len(read_journal(tmp_path).records) == 2


def test_a_folder_that_cannot_be_made_is_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(LogWriteError, match="nothing was added") as told:
        append(log_file(tmp_path / "file", "pc"), [look()])
    assert "\n" not in str(told.value)


def test_a_log_held_by_another_process_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from filelock import FileLock

    path = log_file(tmp_path, "pc")
    monkeypatch.setattr("planner.log.writing.LOCK_TIMEOUT_S", 0.05)
    with (
        FileLock(path.with_suffix(".lock")),
        pytest.raises(LogWriteError, match="another planner is writing"),
    ):
        append(path, [look()])
    append(path, [look()])


def test_a_file_that_cannot_be_read_is_told_and_the_rest_is_read(tmp_path: Path) -> None:
    append(log_file(tmp_path, "pc"), [look()])
    (tmp_path / "log-folder.jsonl").mkdir()
    journal = read_journal(tmp_path)
    assert len(journal.records) == 1
    assert [damage.path.name for damage in journal.damaged] == ["log-folder.jsonl"]


def test_reading_never_fails_whatever_byte_is_damaged(tmp_path: Path) -> None:
    path = log_file(tmp_path, "pc")
    whole = line_of(look(0)) + line_of(look(1))
    for place in range(0, len(whole), 7):
        path.write_bytes(whole[:place] + b"\x00\xff" + whole[place + 1 :])
        journal = read_journal(tmp_path)
        assert len(journal.records) + len(journal.damaged) >= 1
