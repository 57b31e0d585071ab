"""Appends records: whole lines, on the disk before it returns, one writer at a time."""

from __future__ import annotations

import os
import re
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from planner.errors import PlannerError
from planner.log.line import line_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from planner.log.record import Record

LOCK_TIMEOUT_S = 20.0  # a record takes milliseconds; after this something is wrong
LONGEST_LINE = 32_000  # bytes; a note longer than this is a mistake


class LogWriteError(PlannerError):
    """A record could not be put on the disk; the log is as it was."""


def log_file(folder: Path, machine: str) -> Path:
    """The file of one machine: every machine that shares the folder writes one of its own."""
    word = re.sub(r"[^A-Za-z0-9_-]+", "-", machine).strip("-")[:60] or "machine"
    return folder / f"log-{word}.jsonl"


def append(path: Path, records: Sequence[Record]) -> None:
    """Put records at the end of a file; when this returns they are on the disk.

    A last line that a killed writer left torn gets its newline first, so that it spoils nothing.

    Raises:
        LogWriteError: it cannot be written, or another process holds it; nothing was added.
    """
    content = b"".join(line_of(record) for record in records)
    if not content:
        return
    if any(len(line) > LONGEST_LINE for line in content.split(b"\n")):
        raise LogWriteError(f"a record is longer than {LONGEST_LINE} bytes: shorten the note")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with _locked(path):
            _append_whole(path, content)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise LogWriteError(
            f"{path}: {reason}; nothing was added to the log and nothing in it is lost: check the "
            "folder, its rights and the free space, then say it again"
        ) from error


def _append_whole(path: Path, content: bytes) -> None:
    new = not path.exists()
    handle = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o644)
    try:
        size = os.lseek(handle, 0, os.SEEK_END)
        if size and not _ends_a_line(handle, size):
            content = b"\n" + content
        try:
            _write_all(handle, content)
            os.fsync(handle)
        except OSError:
            with suppress(OSError):
                os.ftruncate(handle, size)  # a full disk leaves no half line
            raise
    finally:
        os.close(handle)
    if new:
        _sync_folder(path.parent)


def _ends_a_line(handle: int, size: int) -> bool:
    os.lseek(handle, size - 1, os.SEEK_SET)
    return os.read(handle, 1) == b"\n"


def _write_all(handle: int, content: bytes) -> None:
    left = memoryview(content)
    while left:
        left = left[os.write(handle, left) :]


def _sync_folder(folder: Path) -> None:
    """Make sure that a new file's name is on the disk too, where the system can tell."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextmanager
def _locked(path: Path) -> Iterator[None]:
    from filelock import FileLock, Timeout  # only a writer needs it, no night's start

    lock = FileLock(path.with_suffix(".lock"), timeout=LOCK_TIMEOUT_S)
    try:
        lock.acquire()
    except (Timeout, NotImplementedError) as error:
        raise LogWriteError(
            f"{path}: another planner is writing to the log, or the folder knows no locks; nothing "
            "was added: say it again"
        ) from error
    try:
        yield
    finally:
        lock.release()
