"""Wrong requests and broken files: one line that names the thing and the remedy, no traceback."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from sample_nights import MOONLESS, one_message, run, shell

from planner.errors import CatalogError
from planner.targets import catalog as catalogs

if TYPE_CHECKING:
    from click.testing import Result

WRONG = 2
COULD_NOT = 1
TONIGHT = ("tonight", "--date", MOONLESS)
RED_STARS = (*TONIGHT, "--kinds", "red-star")  # as long a list as of everything, made sooner
SHEET = ("sheet", "--date", MOONLESS, "--kinds", "planet", "-o")


def complains(result: Result, code: int, *words: str) -> None:
    """One message on stderr with these words, nothing on stdout, and the code."""
    assert result.exit_code == code, (result.output, result.exception)
    assert isinstance(result.exception, SystemExit)
    assert result.stdout == ""
    message = one_message(result.stderr)
    for word in words:
        assert word in message


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("target", "izzar", "--date", MOONLESS), ("'izzar'", "Izar")),
        (("target", "andromeda galxy", "--date", MOONLESS), ("'andromeda galxy'", "M 31")),
        (("target", "alberio", "--date", MOONLESS), ("near names: bet1 Cyg AB (Albireo)",)),
        (("target", "sun"), ("Never point a telescope", "full front aperture")),
        (("target", "vega", "--date", MOONLESS), ("Vega", "no double")),
        ((*TONIGHT, "--site", "lindenhoff"), ("'lindenhoff'", "'Lindenhof'", "Nordkapp")),
        ((*TONIGHT, "--telescope", "elza"), ("'elza'", "'Elsa'", "Little")),
        (("tonight", "--date", "1850-01-01"), ("1850-01-01", "1899", "2053")),
        (("tonight", "--date", "2200-01-01"), ("2200-01-01", "1899", "2053")),
        (("tonight", "--date", "0001-01-01"), ("0001-01-01", "1899")),
        (("tonight", "--date", "9999-12-31"), ("9999-12-31", "2053")),
        (("target", "izar", "--date", "1850-01-01"), ("1850-01-01", "1899")),
        (("tonight", "--date", "14.5.2026"), ("no date '14.5.2026'", "like 2026-12-08")),
        ((*TONIGHT, "--kinds", "galaxi"), ("'galaxi'", "'galaxy'", "nebula")),
        ((*TONIGHT, "--kinds", "galaxy,"), ("''", "globular-cluster")),
        ((*TONIGHT, "--constellation", "hercles"), ("'hercles'", "Hercules")),
        ((*TONIGHT, "--constellation", ""), ("constellation", "''")),
        ((*TONIGHT, "--seeing", "0"), ("--seeing", "0.3")),
        ((*TONIGHT, "--seeing", "nan"), ("--seeing", "nan")),
        ((*TONIGHT, "--sky", "nan"), ("--sky", "nan")),
        ((*TONIGHT, "--faintest", "nan"), ("--faintest", "nan")),
        ((*TONIGHT, "--faintest", "inf"), ("--faintest", "inf")),
        ((*TONIGHT, "--least-altitude", "nan"), ("--least-altitude", "nan")),
        ((*TONIGHT, "--least-altitude", "90"), ("--least-altitude", "85")),
        ((*TONIGHT, "--air", "misty"), ("--air", "misty", "clear", "average", "hazy", "0.08")),
        ((*TONIGHT, "--air", "0.01"), ("--air", "0.01", "1.5")),
        ((*TONIGHT, "--air", "nan"), ("--air", "nan", "1.5")),
        ((*TONIGHT, "--air", ""), ("--air", "clear")),
        (("target", "izar", "--date", MOONLESS, "--air", "0,2"), ("--air", "0,2", "clear")),
        (("scope", "--air", "fog"), ("--air", "fog", "hazy")),
        (("tonight", "--date", "2026-13-01"), ("there is no date '2026-13-01'", "2026-12-08")),
        ((*TONIGHT, "--from", "25:00"), ("--from", "there is no clock time '25:00'", "21:30")),
        ((*TONIGHT, "--seeing", "good"), ("--seeing", "'good' is no number from 0.3 to 15")),
        ((*TONIGHT, "--limit", "few"), ("--limit", "'few' is no whole number from 1")),
        (("scope", "--exit-pupil", "2 mm"), ("--exit-pupil", "'2 mm' is no number from 0.1 to 20")),
        ((*TONIGHT, "--from", "23:00", "--until", "22:00"), ("from 23:00 until 22:00", "noon")),
        ((*TONIGHT, "--from", "11:00", "--until", "13:00"), ("from 11:00 until 13:00", "noon")),
        ((*SHEET, "x.pdf", "--from", "02:00", "--until", "23:00"), ("23:00 comes before 02:00",)),
        (("target", "izar", "--from", "23:00", "--until", "22:00"), ("hold nothing",)),
        ((*TONIGHT, "--limit", "0"), ("--limit", "0")),
        ((*TONIGHT, "--format", "yaml"), ("--format", "json")),
        ((*TONIGHT, "--frm", "20:00"), ("--frm", "tonight --help")),
        (("target",), ("NAME", "--help")),
        (("target", "x" * 300), ("xxx",)),
        ((*TONIGHT, "--site", "y" * 300), ("yyy", "Lindenhof")),
        ((*TONIGHT, "--kinds", "z" * 300), ("zzz", "galaxy")),
        ((*TONIGHT, "--constellation", "w w" * 90), ("w ww",)),
        ((*TONIGHT, "--air", "v" * 300), ("vvv", "hazy")),
        ((*TONIGHT, "--order", "name"), ("name", "worth", "time")),
        ((*SHEET, "x.pdf", "--order", "name"), ("name", "worth", "time")),
        ((*TONIGHT, "--date", "u" * 200), ("uuu", "2026-12-08")),
        (("scope", "--exit-pupil", "2", "--for", "doubles"), ("not both",)),
        (("scope", "--mask-study", "--turned-edge", "6 mm"), ("--turned-edge", '"6 mm,1"')),
        (("scope", "--telescope", "elza"), ("'elza'", "'Elsa'")),
        (("sheet", "--date", MOONLESS), ("--output", "--help")),
        ((*SHEET, "list.txt"), ("list.txt", ".pdf")),
        ((*SHEET, "x.pdf", "--paper", "a3"), ("a3", "letter")),
    ],
)  # fmt: skip
def test_a_wrong_request_is_one_message_and_exit_code_2(
    arguments: tuple[str, ...], words: tuple[str, ...]
) -> None:
    """What is wrong, and what would be right."""
    complains(run(*arguments), WRONG, *words)


def test_an_unknown_command_is_one_message() -> None:
    """As for an option."""
    complains(run("tonite", kit=False), WRONG, "tonite", "--help")


def test_a_missing_kit_names_the_file_and_how_to_write_one(tmp_path: Path) -> None:
    """Exit code 2: the request names a file that is not there."""
    missing = str(tmp_path / "mine.toml")
    complains(run(*TONIGHT, "--kit", missing, kit=False), WRONG, missing, "planner kit new")


def test_a_sheet_into_a_folder_that_is_not_there_is_refused_before_any_work(
    tmp_path: Path,
) -> None:
    """The folder is named, not a temporary file."""
    complains(run(*SHEET, str(tmp_path / "no" / "x.pdf")), WRONG, str(tmp_path / "no"))


def test_a_sheet_onto_a_folder_is_refused(tmp_path: Path) -> None:
    """A directory called x.pdf stays what it is."""
    place = tmp_path / "x.pdf"
    place.mkdir()
    complains(run(*SHEET, str(place)), WRONG, "x.pdf", "directory")
    assert place.is_dir()


@pytest.mark.parametrize(
    ("name", "arguments"),
    [
        ("list.pdf", SHEET),
        ("izar.png", ("target", "izar", "--date", MOONLESS, "--image")),
    ],
)
def test_a_file_that_cannot_be_written_is_named(
    name: str, arguments: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk: exit code 1, the user's file named, the old one whole, no part left."""
    place = tmp_path / name
    place.write_bytes(b"the old one")
    monkeypatch.setattr("planner.files.os.fsync", full_disk)
    complains(run(*arguments, str(place)), COULD_NOT, f"{place}: no space left", "free space")
    assert place.read_bytes() == b"the old one"
    assert os.listdir(tmp_path) == [name]


def test_a_kit_that_cannot_be_written_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No empty file that the next try would refuse to overwrite."""
    place = str(tmp_path / "mine.toml")
    with monkeypatch.context() as patch:
        patch.setattr("planner.files.os.fsync", full_disk)
        complains(run("kit", "new", place, kit=False), COULD_NOT, f"{place}: no space left")
    assert os.listdir(tmp_path) == []
    assert run("kit", "new", place, kit=False).exit_code == 0


def full_disk(descriptor: int) -> None:
    """A write that does not reach the disk; the system names no file then."""
    raise OSError(28, "No space left on device")


def test_a_sheet_into_a_locked_folder_names_its_file(tmp_path: Path) -> None:
    """No right to write; root may write anywhere and is refused by /proc instead."""
    folder = Path("/proc") if os.geteuid() == 0 else tmp_path
    if folder == tmp_path:
        folder.chmod(0o500)
    complains(run(*SHEET, str(folder / "x.pdf")), COULD_NOT, "x.pdf", "rights")


@pytest.mark.parametrize(
    ("name", "damage"),
    [
        ("pairs.csv.gz", "missing"),
        ("pairs.csv.gz", "cut"),
        ("deepsky.csv.gz", "empty"),
        ("deepsky.csv.gz", "text"),
        ("orbits_typed.csv", "missing"),
        ("orbits_typed.csv", "text"),
    ],
)
def test_a_damaged_catalog_names_the_file_and_the_remedy(
    name: str, damage: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever happened to it, exit code 1 and not a traceback."""
    folder = tmp_path / "catalogs"
    _copy(folder)
    place = folder / name
    whole = place.read_bytes()
    if damage == "missing":
        place.unlink()
    else:
        contents = {"cut": whole[: len(whole) // 2], "empty": b"", "text": b"a,b\n1,2\n"}
        place.write_bytes(contents[damage])
    monkeypatch.setattr("planner.targets.files.files", lambda package: folder)
    _forget_catalogs()
    try:
        complains(run(*TONIGHT), COULD_NOT, name, "reinstall")
    finally:
        _forget_catalogs()


def _forget_catalogs() -> None:
    """Tables are read once a process; drop them."""
    for name, module in list(sys.modules.items()):
        if name.startswith(("planner.targets", "planner.importers", "planner.night")):
            for value in vars(module).values():
                if hasattr(value, "cache_clear"):
                    value.cache_clear()


def _copy(folder: Path) -> None:
    from importlib.resources import as_file, files

    with as_file(files("planner.catalogs")) as source:
        shutil.copytree(source, folder, ignore=shutil.ignore_patterns("compiler", "__pycache__"))


def test_a_damaged_catalog_fails_its_checksum(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """`planner catalog verify` names each file that differs."""
    folder = tmp_path / "catalogs"
    _copy(folder)
    with open(folder / "deepsky.csv.gz", "ab") as stream:
        stream.write(b" ")
    monkeypatch.setattr("planner.targets.files.files", lambda package: folder)
    complains(run("catalog", "verify", kit=False), COULD_NOT, "deepsky.csv.gz", "reinstall")
    with pytest.raises(CatalogError, match=r"deepsky\.csv\.gz"):
        catalogs.verify(folder)


UNBUFFERED = ("", "1")  # values of PYTHONUNBUFFERED


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no device that is always full")
@pytest.mark.parametrize("arguments", [(*TONIGHT, "--kinds", "planet"), ("catalog",), ("--help",)])
@pytest.mark.parametrize("unbuffered", UNBUFFERED)
def test_a_full_disk_behind_stdout_is_one_line(
    arguments: tuple[str, ...], unbuffered: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exit code 1, what could not be written and why."""
    monkeypatch.setenv("PYTHONUNBUFFERED", unbuffered)
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = shell(*arguments, stdout=full, stderr=-1)
    assert done.returncode == COULD_NOT
    (line,) = done.stderr.strip().splitlines()
    assert "standard output" in line and "space" in line


@pytest.mark.skipif(sys.platform == "win32", reason="no limit on a file's size")
@pytest.mark.parametrize("output_format", ["text", "json", "csv"])
@pytest.mark.parametrize("unbuffered", UNBUFFERED)
def test_a_list_cut_by_a_full_disk_is_one_line(
    output_format: str, unbuffered: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk takes the first 2048 bytes: exit code 1 all the same."""
    import resource

    monkeypatch.setenv("PYTHONUNBUFFERED", unbuffered)
    place, most = tmp_path / "list", 2048
    with open(place, "w", encoding="utf-8") as full:
        done = shell(
            *RED_STARS, "--format", output_format, stdout=full, stderr=-1,
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (most, most)),
        )  # fmt: skip
    assert place.stat().st_size == most
    assert done.returncode == COULD_NOT
    (line,) = done.stderr.strip().splitlines()
    assert "standard output" in line and "space" in line


@pytest.mark.parametrize("output_format", ["text", "json"])
@pytest.mark.parametrize("unbuffered", UNBUFFERED)
def test_a_closed_pipe_ends_quietly(
    output_format: str, unbuffered: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """`planner tonight | head -1`: no message, no traceback, whatever the format."""
    monkeypatch.setenv("PYTHONUNBUFFERED", unbuffered)
    read_end, write_end = os.pipe()
    os.close(read_end)
    try:
        done = shell(*RED_STARS, "--format", output_format, stdout=write_end, stderr=-1)
    finally:
        os.close(write_end)
    assert done.stderr == ""
    assert done.returncode == 0


def test_a_pipe_gets_plain_text() -> None:
    """No escape codes, no progress bar, UTF-8."""
    done = shell(*TONIGHT)
    assert done.returncode == 0 and done.stderr == ""
    assert "\x1b" not in done.stdout and "\r" not in done.stdout
    assert done.stdout.startswith("Night of Thursday 14 May 2026 at Lindenhof")
