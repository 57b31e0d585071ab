"""Odd kits, command lines and import files, thousands of them; every fault with its case.

Run with ``python tests/bench/fuzz.py``; ``--which``, ``--count``, ``--seed`` and ``--first`` choose
the cases, and the same seed and number always give the same case. A fault is: an exception
that is no clean exit, a warning, the text of a traceback, an exit code other than 0, 1 and 2, a
failure without a message, a control character in the output, or JSON that is none. The commands
run in this process, in a temporary folder of their own.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import re
import shutil
import traceback
import unicodedata
import warnings
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from click.testing import CliRunner, Result
from fuzz_imports import damaged_import
from fuzz_kits import extreme_kit, mutated_kit
from fuzz_lines import odd_line
from fuzz_mirrors import odd_mirror
from measuring import print_table, seconds

from planner.cli.root import main as planner

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from fuzz_case import Case

FUZZERS: dict[str, Callable[[Random], Case]] = {
    "mutated-kits": mutated_kit,
    "extreme-kits": extreme_kit,
    "command-lines": odd_line,
    "imports": damaged_import,
    "mirrors": odd_mirror,
}
COUNT, SEED = 300, 1
QUIET = (DeprecationWarning, PendingDeprecationWarning, ResourceWarning)  # as Python leaves them
CODES = (0, 1, 2)
ALLOWED = "\n\t"


@dataclass(slots=True)
class Tally:
    """What became of the cases of one fuzzer: exit codes of the lines, and faults by kind."""

    codes: Counter[int] = field(default_factory=Counter)
    faults: dict[str, list[tuple[int, str]]] = field(default_factory=dict)

    @property
    def count(self) -> int:
        """Number of faults."""
        return sum(map(len, self.faults.values()))

    def add(self, fault: str, number: int, line: str) -> None:
        """One more fault of a case."""
        self.faults.setdefault(fault, []).append((number, line))


def fuzz(which: str, count: int, seed: int, first: int = 0) -> Tally:
    """Run cases ``first`` to ``first + count - 1`` of a fuzzer."""
    tally = Tally()
    with TemporaryDirectory(prefix="planner-fuzz-") as name, contextlib.chdir(name):
        for number in range(first, first + count):
            with _clean_folder(Path(name)):
                _run_case(FUZZERS[which](Random(f"{which} {seed} {number}")), number, tally)
    return tally


@contextlib.contextmanager
def _clean_folder(folder: Path) -> Iterator[None]:
    """Leave nothing behind but the cache."""
    try:
        yield
    finally:
        for entry in folder.iterdir():
            if entry.name == "cache":
                continue
            if entry.is_dir():
                shutil.rmtree(entry)
            else:
                entry.unlink()


def _run_case(case: Case, number: int, tally: Tally) -> None:
    for name, content in case.files.items():
        Path(name).write_bytes(content)
    for line in case.lines:
        with warnings.catch_warnings(record=True) as caught:
            warnings.simplefilter("always")
            result = _run(line)
        tally.codes[result.exit_code] += 1
        told = [note for note in caught if not issubclass(note.category, QUIET)]
        for fault in [*map(_of_warning, told), *faults_of(line, result)]:
            tally.add(fault, number, " ".join(map(ascii, line)))


def _run(line: tuple[str, ...]) -> Result:
    here = os.getcwd()
    environment = {
        "XDG_CACHE_HOME": f"{here}/cache", "XDG_DATA_HOME": f"{here}/data", "PLANNER_KIT": None
    }  # fmt: skip
    return CliRunner().invoke(planner, line, env=environment, color=True)


def faults_of(line: tuple[str, ...], result: Result) -> list[str]:
    """Every fault of one finished command, warnings left out."""
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        return [_of_exception(result.exception)]
    found = []
    if "Traceback (most recent call last)" in result.output:
        found.append("the text of a traceback")
    if result.exit_code not in CODES:
        found.append(f"exit code {result.exit_code}")
    elif result.exit_code and not result.stderr.strip():
        found.append(f"exit code {result.exit_code} without a message")
    for name, text in (("stdout", result.stdout), ("stderr", result.stderr)):
        hidden = {c for c in text.replace("\r\n", "\n") if _is_control(c)}
        if hidden:
            found.append(f"control characters on {name}")
    helped = {"-h", "--help", "--version"} & set(line)
    wants_json = result.exit_code == 0 and "json" in line and not helped
    if wants_json and not _is_strict_json(result.stdout):
        found.append("JSON that is none")
    return found


def _is_control(character: str) -> bool:
    return character not in ALLOWED and unicodedata.category(character) in ("Cc", "Cs")


def _is_strict_json(text: str) -> bool:
    def refuse(word: str) -> None:
        raise ValueError(word)

    try:
        json.loads(text, parse_constant=refuse)
    except ValueError:
        return False
    return True


def _of_warning(note: warnings.WarningMessage) -> str:
    place = _short(note.filename)
    return f"{note.category.__name__}: {note.message} ({place}:{note.lineno})"


def _of_exception(error: BaseException) -> str:
    frames = traceback.extract_tb(error.__traceback__)
    own = [frame for frame in frames if "/planner/" in frame.filename] or frames
    place = f"{_short(own[-1].filename)}:{own[-1].lineno}" if own else "?"
    said = re.sub(r"\d+", "N", ascii(str(error)))[:80]
    return f"{type(error).__name__}: {said} ({place})"


def _short(path: str) -> str:
    return path[path.rfind("/planner/") + 1 :] if "/planner/" in path else path[-40:]


def print_tally(which: str, tally: Tally, took_s: float) -> None:
    """The counts of one fuzzer, and the first case of each kind of fault."""
    codes = ", ".join(
        f"{count} with exit code {code}" for code, count in sorted(tally.codes.items())
    )
    rows = [
        [str(len(cases)), str(len({number for number, _ in cases})), fault]
        + [f"{cases[0][0]}: {cases[0][1][:200]}"]
        for fault, cases in sorted(tally.faults.items(), key=lambda item: -len(item[1]))
    ]
    title = f"{which}: {tally.codes.total()} commands in {took_s:.0f} s ({codes})"
    print_table(f"{title}: {tally.count} faults", rows, ["faults", "cases", "what", "first case"])


def main() -> None:
    """Run the fuzzers asked for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--which", choices=FUZZERS, help="only this fuzzer")
    parser.add_argument("--count", type=int, default=COUNT, help="cases of each (%(default)s)")
    parser.add_argument("--seed", type=int, default=SEED, help="(%(default)s)")
    parser.add_argument("--first", type=int, default=0, help="number of the first case")
    asked = parser.parse_args()
    for which in [asked.which] if asked.which else FUZZERS:
        tallies: list[Tally] = []
        took_s = seconds(
            lambda which=which, into=tallies: into.append(
                fuzz(which, asked.count, asked.seed, asked.first)
            )
        )
        print_tally(which, tallies[0], took_s)


if __name__ == "__main__":
    main()
