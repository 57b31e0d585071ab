"""Kills writers of a log at random instants and counts what is lost or torn.

``python tests/bench/log_kills.py`` kills a thousand, four writing at a time. A writer says the id
of each record on its output once ``append`` has returned; what was said has to be in the log,
every record has to be whole, and no line may spoil another.
"""

from __future__ import annotations

import argparse
import os
import random
import signal
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True)
class Toll:
    """What a run of kills left: ``torn`` are lines that are no records, each unsaid."""

    kills: int
    said: int
    kept: int
    lost: int
    torn: int
    spoilt: int
    seconds: float


def _forked(path: Path, note: int) -> tuple[int, int]:
    """A writer as a fork of this process: its id and the pipe on which it says what is kept."""
    from dataclasses import replace
    from uuid import uuid4

    from log_samples import look

    from planner.log.writing import append

    reader, writer = os.pipe()
    child = os.fork()
    if child:
        os.close(writer)
        return child, reader
    try:
        while True:
            record = replace(look(), id=str(uuid4()), note="x" * random.randrange(note))
            append(path, [record])
            os.write(writer, record.id.encode() + b"\n")
    finally:
        os._exit(1)


def _said(reader: int) -> list[str]:
    with os.fdopen(reader, "rb") as pipe:
        return [line.decode() for line in pipe.read().split(b"\n")[:-1]]


def run(folder: Path, kills: int, writers: int = 4, longest_s: float = 0.03) -> Toll:
    """Kill so many writers, each within ``longest_s`` seconds, always some of them at work."""
    import filelock  # noqa: F401 - before the forks, so that none spends its life importing

    from planner.log.reading import read_journal
    from planner.log.writing import log_file

    path = log_file(folder, "bench")
    begun, said, done = time.perf_counter(), set(), 0
    while done < kills:
        herd = [_forked(path, 9000) for _ in range(min(writers, kills - done))]
        for child, reader in herd:
            time.sleep(random.uniform(0.0, longest_s))
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            said.update(_said(reader))
            done += 1
    journal = read_journal(folder)
    kept = {record.id for record in journal.records}
    lines = path.read_bytes().count(b"\n") if path.exists() else 0
    spoilt = sum(line.count(b"planner-log/1") > 1 for line in path.read_bytes().split(b"\n"))
    assert lines >= len(kept)
    return Toll(
        done, len(said), len(kept), len(said - kept), len(journal.damaged), spoilt,
        time.perf_counter() - begun,
    )  # fmt: skip


def main() -> None:
    """Print the toll."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=1000)
    parser.add_argument("--writers", type=int, default=4)
    asked = parser.parse_args()
    sys.path.insert(0, str(ROOT / "tests" / "log"))
    with tempfile.TemporaryDirectory() as folder:
        toll = run(Path(folder), asked.kills, asked.writers)
    print(
        f"{toll.kills} kills, {asked.writers} writers at a time, {toll.seconds:.0f} s: "
        f"{toll.said} records said to be kept, {toll.lost} of them lost; {toll.kept} in the log; "
        f"{toll.torn} lines torn before they were said, {toll.spoilt} lines spoilt by another"
    )


if __name__ == "__main__":
    main()
