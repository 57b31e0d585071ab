"""Reads every file of a log; no line can make it fail."""

from __future__ import annotations

import gc
from contextlib import contextmanager
from dataclasses import dataclass
from operator import attrgetter
from typing import TYPE_CHECKING

from planner.log.line import DamagedLineError, record_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from planner.log.record import Record

FILES = "log-*.jsonl"


@dataclass(frozen=True, slots=True)
class Damage:
    """A line that is no record: its file, its number (from 1) and why; it stays in the file."""

    path: Path
    number: int
    why: str


@dataclass(frozen=True, slots=True)
class Journal:
    """Every record of a log as written, the oldest first, and the lines that are none."""

    records: tuple[Record, ...]
    damaged: tuple[Damage, ...] = ()


def read_journal(folder: Path) -> Journal:
    """All records of all machines' files in a folder; a missing folder holds none.

    Of records with one id the first counts. A file that cannot be read is told as damage of its
    line 0.
    """
    found: dict[str, Record] = {}
    damaged: list[Damage] = []
    with _many_new_objects():
        for path in sorted(folder.glob(FILES)) if folder.is_dir() else ():
            _read_file(path, found, damaged)
    records = sorted(found.values(), key=attrgetter("written"))
    return Journal(tuple(records), tuple(damaged))


@contextmanager
def _many_new_objects() -> Iterator[None]:
    """Keep Python from looking for garbage: among new records there is none, and it takes half."""
    busy = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if busy:
            gc.enable()


def _read_file(path: Path, found: dict[str, Record], damaged: list[Damage]) -> None:
    try:
        lines = path.read_bytes().split(b"\n")
    except OSError as error:
        damaged.append(Damage(path, 0, (error.strerror or str(error)).lower()))
        return
    for number, line in enumerate(lines, 1):
        if not line or line.isspace():
            continue
        try:
            record = record_of(line)
        except DamagedLineError as error:
            damaged.append(Damage(path, number, str(error)))
            continue
        found.setdefault(record.id, record)
