"""File names that no system can open or no screen can show, refused by every command alike."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from sample_nights import MOONLESS, one_message, run, shell

COMMANDS = {
    "kit option": ("tonight", "--date", MOONLESS, "--kit", "{}.toml"),
    "kit new": ("kit", "new", "{}.toml"),
    "kit check": ("kit", "check", "{}.toml"),
    "sheet": ("sheet", "--date", MOONLESS, "-o", "{}.pdf"),
    "picture": ("target", "izar", "--date", MOONLESS, "--image", "{}.png"),
    "chart": ("scope", "--mask-study", "-o", "{}.png"),
    "import": ("catalog", "import", "{}.csv"),
}


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("a\0b", "control character"),
        ("a\x1b[31m", "control character"),
        ("a\nb", "control character"),
        ("a\x85", "control character"),
        ("a\udcff", "not UTF-8"),
    ],
)
def test_a_file_name_that_cannot_be_shown_is_refused(
    command: str, name: str, reason: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One line that names the fault and the remedy, exit code 2, no file made."""
    monkeypatch.chdir(tmp_path)
    result = run(*(word.format(name) for word in COMMANDS[command]), kit=False)
    assert result.exit_code == 2
    message = one_message(result.stderr)
    assert reason in message and "another name" in message
    assert message.isprintable()
    assert result.stdout == ""
    assert os.listdir(tmp_path) == []


def test_a_kit_variable_that_is_not_utf8_is_refused() -> None:
    """The name comes from the shell as bytes; Latin-1 is the usual cause."""
    done = shell("kit", "check", os.fsdecode(b"k\xfct.toml"))
    assert done.returncode == 2
    assert "not UTF-8" in one_message(done.stderr)


def test_a_file_name_with_other_letters_is_fine(tmp_path: Path) -> None:
    """Umlauts, emoji and spaces are text like any other."""
    place = tmp_path / "Öl 🔭 e\u0301.toml"
    result = run("kit", "new", str(place), kit=False)
    assert result.exit_code == 0
    assert str(place) in result.stdout and place.is_file()


def test_a_message_shows_no_hidden_character_of_a_file(tmp_path: Path) -> None:
    """A terminal obeys an escape code, wherever it was quoted from."""
    place = tmp_path / "kit.toml"
    place.write_text('x = "\\u001b[31m"\n', encoding="utf-8")
    odd = "a\x1b\x07\x85\u202eb"
    for result in (
        run("kit", "check", str(place), kit=False),
        run("tonight", "--date", MOONLESS, "--constellation", odd),
        run("tonight", odd),
    ):
        assert result.exit_code == 2
        assert one_message(result.stderr).isprintable()
