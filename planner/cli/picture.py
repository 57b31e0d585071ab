"""The file that a picture goes to."""

from __future__ import annotations

from pathlib import Path


def png_path(text: str) -> Path:
    """The path of a picture to write; refused before any work when it is no PNG name.

    Raises:
        UsageError: the name does not end in .png.
    """
    from planner.errors import UsageError

    path = Path(text)
    if path.suffix.lower() != ".png":
        raise UsageError(f"{text}: the picture is a PNG; give a file name ending in .png")
    return path
