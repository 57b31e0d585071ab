"""The door to the user's own catalogs: files kept in order, saved whole, undone one by one.

Of each import there are the file itself (``import-0001.gz``), what it is (``import-0001.json``,
written last: without it nothing is imported) and the table made from it (``import-0001.npz``,
which can always be made anew).
"""

from __future__ import annotations

import gzip
import re
import zlib
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import TYPE_CHECKING

from planner.errors import CatalogError
from planner.files import sweep_parts, write_whole
from planner.importers.about import About, about_text, damaged, read_about

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

LOCK_FILE = "imports.lock"
LOCK_TIMEOUT_S = 60.0  # an import takes some seconds; after this something is wrong
ABOUT, FILE, TABLE = ".json", ".gz", ".npz"
COMPRESSION_LEVEL = 6
NOTHING = "no catalog has been imported, so there is nothing to undo"
_NAME = re.compile(r"import-(\d{4,})\.json")


@dataclass(frozen=True, slots=True)
class Import:
    """One import: where it lies and what it is."""

    path: Path
    about: About

    @property
    def file(self) -> Path:
        """The kept file, packed."""
        return self.path.with_suffix(FILE)

    @property
    def table(self) -> Path:
        """The table made from it; it may be missing, damaged or out of date."""
        return self.path.with_suffix(TABLE)


@dataclass(frozen=True, slots=True)
class Undone:
    """What an undo took away, and the earlier import that counts again.

    ``removed`` is None for a damaged import, whose files then stand in ``damaged_files``.
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
    """Names, times and sizes of the imports: it changes when they do."""
    found = []
    for path in _abouts(folder):
        with suppress(FileNotFoundError):
            status = path.stat()
            found.append((path.name, status.st_mtime_ns, status.st_size))
    return tuple(found)


def content_of(entry: Import) -> bytes:
    """The kept file, unpacked. Raises CatalogError if it is missing or not what was imported."""
    try:
        content = gzip.decompress(entry.file.read_bytes())
    except (OSError, EOFError, zlib.error) as error:
        raise damaged(entry.file, error) from error
    if sha256(content).hexdigest() != entry.about.sha256:
        raise damaged(entry.file, "not the file that was imported")
    return content


def save(
    folder: Path, prepare: Callable[[tuple[Import, ...]], tuple[About, bytes] | None]
) -> Import | None:
    """Add an import, whole or not at all, while no other process changes the store.

    ``prepare`` gets the imports that count now and gives what is to be kept (its number and
    ``replaces`` are set here: the last import of the same file name and layout) and the file, or
    None to leave everything as it is. An import that has been replaced twice is removed. Raises
    CatalogError when another process holds the store or a kept import is damaged, OSError when
    the folder cannot be written.
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
        added = Import(folder / f"import-{number:04d}{ABOUT}", about)
        try:
            write_whole(added.file, gzip.compress(content, COMPRESSION_LEVEL, mtime=0))
            write_whole(added.path, about_text(about))
        except OSError:
            _remove(added.path)
            raise
        for entry in everything:
            if about.replaces and entry.about.number == about.replaces and entry.about.replaces:
                _remove(folder / f"import-{entry.about.replaces:04d}{ABOUT}")
        return added


def same_source(present: tuple[Import, ...], about: About) -> int:
    """The number of the import of the same file name and layout, 0 if there is none."""
    for entry in present:
        if (entry.about.file_name, entry.about.layout) == (about.file_name, about.layout):
            return entry.about.number
    return 0


def undo(folder: Path) -> Undone:
    """Take the last import away; damaged ones before any whole one.

    Raises CatalogError when nothing is imported, or when another process holds the store.
    """
    if not _abouts(folder):
        raise CatalogError(NOTHING)
    with _locked(folder):
        broken = {path: name for path in _abouts(folder) if (name := _broken(path))}
        for path in broken:
            _remove(path)
        if broken:
            return Undone(None, damaged_files=tuple(broken.values()))
        everything = _all(folder)
        if not everything:
            raise CatalogError(NOTHING)
        last = everything[-1]
        _remove(last.path)
        older = (entry.about for entry in everything if entry.about.number == last.about.replaces)
        return Undone(last.about, next(older, None))


def _abouts(folder: Path | None) -> list[Path]:
    """What says which imports there are, in the order of their numbers."""
    if folder is None or not folder.is_dir():
        return []
    found = [(match, path) for path in folder.iterdir() if (match := _NAME.fullmatch(path.name))]
    return [path for _, path in sorted((int(match[1]), path) for match, path in found)]


def _all(folder: Path | None) -> tuple[Import, ...]:
    """Every import, those too that a later one stands for."""
    found = []
    for path in _abouts(folder):
        try:
            found.append(Import(path, read_about(path)))
        except CatalogError:
            if path.exists():  # else another process has just taken it away
                raise
    return tuple(found)


def _broken(path: Path) -> str:
    """The name of an import's damaged file; empty where all is whole."""
    try:
        about = read_about(path)
    except CatalogError:
        return path.name
    entry = Import(path, about)
    try:
        content_of(entry)
    except CatalogError:
        return entry.file.name
    return ""


def _remove(path: Path) -> None:
    """Take one import away: first what says that it is one."""
    for suffix in (ABOUT, FILE, TABLE):
        path.with_suffix(suffix).unlink(missing_ok=True)


def _sweep(folder: Path) -> None:
    """Remove what killed processes left: parts, and files that belong to no import."""
    sweep_parts(folder)
    for suffix in (FILE, TABLE):
        for path in folder.glob(f"import-*{suffix}"):
            if not path.with_suffix(ABOUT).exists():
                with suppress(OSError):
                    path.unlink(missing_ok=True)


@contextmanager
def _locked(folder: Path) -> Iterator[None]:
    from filelock import FileLock, Timeout  # only a change needs it, no night's start

    folder.mkdir(parents=True, exist_ok=True)
    lock = FileLock(folder / LOCK_FILE, timeout=LOCK_TIMEOUT_S)
    try:
        lock.acquire()
    except Timeout as error:
        raise CatalogError(
            f"another planner is changing the catalogs in {folder}: try again when it is done"
        ) from error
    try:
        _sweep(folder)
        yield
    finally:
        lock.release()
