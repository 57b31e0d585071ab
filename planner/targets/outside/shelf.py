"""The door to the user's own catalogs: imports in order, saved whole, undone one by one."""

from __future__ import annotations

import os
import re
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from filelock import FileLock, Timeout

from planner.errors import CatalogError
from planner.targets.outside.stored import About, Content, read_about, write

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

LOCK_FILE = "imports.lock"
LOCK_TIMEOUT_S = 60.0  # an import takes some seconds; after this something is wrong
_NAME = re.compile(r"import-(\d{4,})\.npz")


@dataclass(frozen=True, slots=True)
class Import:
    """One import: where it lies and what it is."""

    path: Path
    about: About


@dataclass(frozen=True, slots=True)
class Undone:
    """What an undo took away, and the earlier import that counts again.

    ``removed`` is None for a damaged file, which then stands in ``damaged_files``.
    """

    removed: About | None
    restored: About | None = None
    damaged_files: tuple[str, ...] = ()


def imports(folder: Path | None) -> tuple[Import, ...]:
    """The imports that count, the oldest first: none that a later one stands for.

    A missing folder, or None, holds none. Raises CatalogError for a damaged import.
    """
    everything = _all(folder)
    replaced = {entry.about.replaces for entry in everything}
    return tuple(entry for entry in everything if entry.about.number not in replaced)


def signature(folder: Path | None) -> tuple[tuple[str, int, int], ...]:
    """Names, times and sizes of the import files: it changes when the imports do."""
    found = []
    for path in _files(folder):
        with suppress(FileNotFoundError):
            status = path.stat()
            found.append((path.name, status.st_mtime_ns, status.st_size))
    return tuple(found)


def save(
    folder: Path, prepare: Callable[[tuple[Import, ...]], tuple[About, Content] | None]
) -> About | None:
    """Add an import, whole or not at all, while no other process changes the shelf.

    ``prepare`` gets the imports that count now and gives what is to be stored (its number and
    ``replaces`` are set here: the last import of the same file name and layout), or None to
    leave everything as it is. An import that has been replaced twice is removed. Raises
    CatalogError when another process holds the shelf or a stored import is damaged, OSError
    when the folder cannot be written.
    """
    with _locked(folder):
        present = imports(folder)
        prepared = prepare(present)
        if prepared is None:
            return None
        about, content = prepared
        everything = _all(folder)
        number = max((entry.about.number for entry in everything), default=0) + 1
        about = replace(about, number=number, replaces=same_source(present, about))
        _write_whole(folder / f"import-{number:04d}.npz", about, content)
        for entry in everything:
            if about.replaces and entry.about.number == about.replaces and entry.about.replaces:
                _path(folder, entry.about.replaces).unlink(missing_ok=True)
        return about


def same_source(present: tuple[Import, ...], about: About) -> int:
    """The number of the import of the same file name and layout, 0 if there is none."""
    for entry in present:
        if (entry.about.file_name, entry.about.layout) == (about.file_name, about.layout):
            return entry.about.number
    return 0


def undo(folder: Path) -> Undone:
    """Take the last import away; damaged ones before any whole one.

    Raises CatalogError when nothing is imported, or when another process holds the shelf.
    """
    if not _files(folder):
        raise CatalogError("no catalog has been imported, so there is nothing to undo")
    with _locked(folder):
        broken = [path for path in _files(folder) if not _whole(path)]
        for path in broken:
            path.unlink(missing_ok=True)
        if broken:
            return Undone(None, damaged_files=tuple(path.name for path in broken))
        everything = _all(folder)
        if not everything:
            raise CatalogError("no catalog has been imported, so there is nothing to undo")
        last = everything[-1]
        last.path.unlink()
        older = (entry.about for entry in everything if entry.about.number == last.about.replaces)
        return Undone(last.about, next(older, None))


def _files(folder: Path | None) -> list[Path]:
    """The import files in the order of their numbers."""
    if folder is None or not folder.is_dir():
        return []
    found = [(match, path) for path in folder.iterdir() if (match := _NAME.fullmatch(path.name))]
    return [path for _, path in sorted((int(match[1]), path) for match, path in found)]


def _all(folder: Path | None) -> tuple[Import, ...]:
    """Every import, those too that a later one stands for."""
    found = []
    for path in _files(folder):
        try:
            found.append(Import(path, read_about(path)))
        except CatalogError:
            if path.exists():  # else another process has just taken it away
                raise
    return tuple(found)


def _whole(path: Path) -> bool:
    try:
        read_about(path)
    except CatalogError:
        return False
    return _checksums_fit(path)


def _checksums_fit(path: Path) -> bool:
    import zipfile

    from planner.targets.outside.stored import DAMAGE

    try:
        with zipfile.ZipFile(path) as archive:
            return archive.testzip() is None
    except DAMAGE:
        return False


def _path(folder: Path, number: int) -> Path:
    return folder / f"import-{number:04d}.npz"


def _write_whole(path: Path, about: About, content: Content) -> None:
    """Write beside the place, make sure it is on the disk, and move it there in one step."""
    for left in path.parent.glob("*.part"):  # of a crash; the lock is ours
        left.unlink(missing_ok=True)
    part = path.with_suffix(f".{os.getpid()}.part")
    try:
        write(part, about, content)
        with part.open("rb+") as file:
            os.fsync(file.fileno())
        os.replace(part, path)
    finally:
        part.unlink(missing_ok=True)


@contextmanager
def _locked(folder: Path) -> Iterator[None]:
    folder.mkdir(parents=True, exist_ok=True)
    lock = FileLock(folder / LOCK_FILE, timeout=LOCK_TIMEOUT_S)
    try:
        lock.acquire()
    except Timeout as error:
        raise CatalogError(
            f"another planner is changing the catalogs in {folder}: try again when it is done"
        ) from error
    try:
        yield
    finally:
        lock.release()
