"""The same request gives the same bytes, whatever Python's hash seed."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from sample_nights import KIT_FILE, MOONLESS, environment

if TYPE_CHECKING:
    from pathlib import Path

WINTER = ("--date", "2026-12-08")
OURS = ("--kit", str(KIT_FILE))
COMMANDS = {
    "chart.pdf": ("chart", "NGC 7662", *WINTER, *OURS),
    "chart.svg": ("chart", "NGC 7662", *WINTER, *OURS),
    "sheet.pdf": ("sheet", "--limit", "3", "--kinds", "planet,open-cluster", *WINTER, *OURS),
    "phone.html": ("sheet", "--limit", "2", *WINTER),  # with the example kit
}
PRINTED = ("tonight", "--date", MOONLESS, "--format", "json", *OURS)
ALL_OF_THEM = """
import sys
from planner.cli.root import main
for line in sys.stdin.read().splitlines():
    main(line.split(chr(9)), standalone_mode=False)
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, bytes], ...]:
    """Every file and what was printed, by a process for each of two seeds."""
    return tuple(made_with(seed, tmp_path_factory.mktemp("seed")) for seed in ("1", "77"))


def made_with(seed: str, folder: Path) -> dict[str, bytes]:
    """The bytes by name, from one process in a folder of its own."""
    files = [(*command, "-o", name) for name, command in COMMANDS.items()]
    done = subprocess.run(
        [sys.executable, "-c", ALL_OF_THEM],
        input="\n".join("\t".join(line) for line in [*files, PRINTED]).encode(),
        env=environment(PYTHONHASHSEED=seed),
        cwd=folder,
        capture_output=True,
        check=True,
    )
    assert b"planner-night/1" in done.stdout
    return {"stdout": done.stdout} | {name: (folder / name).read_bytes() for name in COMMANDS}


@pytest.mark.parametrize("name", ["stdout", *COMMANDS])
def test_bytes_are_the_same_whatever_the_hash_seed(
    made: tuple[dict[str, bytes], ...], name: str
) -> None:
    one, other = made
    assert len(one[name]) > 1000
    assert one[name] == other[name]
