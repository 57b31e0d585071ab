"""The split tables kept on disk, so that a second run need not build them.

A cache may only save time: a missing, damaged or unwritable one gives the same answer.
"""

from __future__ import annotations

import io
import json
from contextlib import suppress
from dataclasses import asdict
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import TYPE_CHECKING
from zipfile import BadZipFile

import numpy as np

from planner.files import sweep_parts, write_whole
from planner.verdict.pairs.profiles import SplitInstrument
from planner.verdict.pairs.tables import (
    SplitTables,
    build_split_tables,
    table_shape,
)

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

LOCK_TIMEOUT_S = 10.0  # a build takes under 2 s; after this the other process is taken for dead
FILES_KEPT = 24  # telescopes, sets of eyepieces and shares of motion, some 2 MB a view each
_PREFIX = "split-"
_MODEL = {
    "planner": ("constants",),
    "planner.optics": ("figure", "image", "quadrature", "resolution"),
    "planner.sky": ("seeing",),
    "planner.eye": ("glare",),
    "planner.verdict.pairs": ("criteria", "profiles", "need", "tables"),
}


@cache
def model_digest() -> str:
    """SHA-256 of the text of every module whose rules or numbers enter the tables."""
    digest = sha256()
    for package, modules in _MODEL.items():
        for name in modules:
            digest.update(files(package).joinpath(f"{name}.py").read_bytes())
    return digest.hexdigest()


def cache_name(
    instrument: SplitInstrument, powers: Sequence[float], exit_pupils_mm: Sequence[float]
) -> str:
    """File name from the SHA-256 of all that enters the tables, the model's own text too."""
    entering = {
        "model": model_digest(),
        "instrument": asdict(instrument),
        "powers": [float(p) for p in powers],
        "exit_pupils_mm": [float(p) for p in exit_pupils_mm],
    }
    digest = sha256(json.dumps(entering, sort_keys=True).encode()).hexdigest()
    return f"{_PREFIX}{digest}.npz"


def cached_split_tables(
    folder: Path | None,
    instrument: SplitInstrument,
    powers: Sequence[float],
    exit_pupils_mm: Sequence[float],
) -> SplitTables:
    """Tables from the folder, or built and left there; ``None`` builds without a cache.

    The folder is made when missing. Two processes wait for one another; a file appears whole
    or not at all; a damaged one is built anew; in a folder that cannot be written the tables
    are built every time. Raises as ``build_split_tables``.
    """

    def build() -> SplitTables:
        return build_split_tables(instrument, powers, exit_pupils_mm)

    if folder is None:
        return build()
    path = folder / cache_name(instrument, powers, exit_pupils_mm)
    found = _read(path, instrument, powers, exit_pupils_mm)
    if found is not None:
        return found
    from filelock import FileLock, Timeout  # only a build needs it

    try:
        folder.mkdir(parents=True, exist_ok=True)
        with FileLock(folder / f"{_PREFIX}tables.lock", timeout=LOCK_TIMEOUT_S):
            found = _read(path, instrument, powers, exit_pupils_mm)
            if found is not None:
                return found
            tables = build()
            with suppress(OSError):
                _write(path, tables)
                _forget_old(folder)
            return tables
    except (OSError, NotImplementedError, Timeout):
        return build()


def _read(
    path: Path,
    instrument: SplitInstrument,
    powers: Sequence[float],
    exit_pupils_mm: Sequence[float],
) -> SplitTables | None:
    """Tables of a file, or None where it is missing, damaged or of another shape."""
    try:
        with np.load(path, allow_pickle=False) as stored:
            steps = stored["steps"]
    except (OSError, ValueError, KeyError, EOFError, BadZipFile):
        return None
    if steps.dtype != np.float32 or steps.shape != table_shape(len(powers)):
        return None
    return SplitTables(
        instrument=instrument,
        powers=np.array(powers, dtype=float),
        exit_pupils_mm=np.array(exit_pupils_mm, dtype=float),
        steps=steps,
    )


def _write(path: Path, tables: SplitTables) -> None:
    content = io.BytesIO()
    np.savez(content, steps=tables.steps)
    write_whole(path, content.getvalue())


def _forget_old(folder: Path) -> None:
    """Remove all but the newest files of tables, and parts a crash has left."""
    files = sorted(folder.glob(f"{_PREFIX}*.npz"), key=lambda f: f.stat().st_mtime)
    for old in files[:-FILES_KEPT]:
        with suppress(OSError):
            old.unlink()
    sweep_parts(folder, _PREFIX)
