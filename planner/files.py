"""Writes files that appear whole or not at all."""

from __future__ import annotations

import os
import uuid
from contextlib import suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

PART = ".part"
_NAME_KEPT = 40  # of the file's name in that of its part, so that it never grows too long


def write_whole(path: Path, content: bytes) -> None:
    """Write beside the place, make sure it is on the disk, and move it there in one step.

    On any error the old file stays, and no part of the new one is left.

    Raises:
        OSError: it cannot be written; the error names the file asked for.
    """
    part = path.with_name(f"{path.name[:_NAME_KEPT]}.{uuid.uuid4().hex}{PART}")
    try:
        with part.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, path)
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def sweep_parts(folder: Path, prefix: str = "") -> None:
    """Remove the parts that a killed process left of files whose names begin with ``prefix``.

    For folders of the planner's own. A part that cannot be removed stays. Limit: a process that
    writes there at this moment fails, so hold the folder's lock, or lose no more than a cache.
    """
    for left in folder.glob(f"{prefix}*{PART}"):
        with suppress(OSError):
            left.unlink(missing_ok=True)
