"""Writes files that appear whole or not at all."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write beside the place and move there in one step; on any error the old file stays.

    Raises:
        OSError: it cannot be written; the error names the file asked for.
    """
    temporary = Path(f"{path}.part")
    try:
        temporary.write_bytes(content)
        temporary.replace(path)
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from error
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
