"""Which outside layout a file is in, by its name and its first lines."""

from __future__ import annotations

import gzip
import re
import zlib
from enum import StrEnum
from itertools import islice
from typing import TYPE_CHECKING

from planner.errors import UsageError
from planner.importers.harmless import harmless
from planner.importers.orbit_layout import is_element_line
from planner.importers.table_import import FORMATS
from planner.importers.wds_layout import is_summary_line

if TYPE_CHECKING:
    from pathlib import PurePath

LINES_LOOKED_AT = 400  # in search of the layout: the header of a file is shorter
GZIP_MAGIC = b"\x1f\x8b"
_LINE = re.compile(rb"[^\r\n]+")


class Layout(StrEnum):
    """The outside layouts that can be read."""

    WDS = "wds"
    ORBITS = "orbits"
    TABLE = "table"


def unpacked(content: bytes, name: str) -> bytes:
    """The content of a file, unpacked if it is gzip. Raises UsageError for a damaged one."""
    if not content.startswith(GZIP_MAGIC):
        return content
    try:
        return gzip.decompress(content)
    except (OSError, EOFError, zlib.error) as error:
        raise UsageError(f"{name} cannot be unpacked: {error}; fetch it again") from error


def table_suffix(path: PurePath) -> str:
    """The ending of a table's name that says its format, without ``.gz``.

    Raises UsageError for any other.
    """
    endings = [suffix.lower() for suffix in path.suffixes if suffix.lower() != ".gz"]
    suffix = endings[-1] if endings else ""
    if suffix not in FORMATS:
        raise UsageError(f"{harmless(path.name)}: a table's name must end in {', '.join(FORMATS)}")
    return suffix


def layout_of(path: PurePath, content: bytes) -> Layout:
    """The layout: a table by the file name's ending, else by the look of the first lines.

    Raises UsageError for a file in none of them.
    """
    try:
        table_suffix(path)
    except UsageError:
        lines = [match[0] for match in islice(_LINE.finditer(content), LINES_LOOKED_AT)]
        orbits = sum(is_element_line(line) for line in lines)
        pairs = sum(is_summary_line(line) for line in lines)
        if max(orbits, pairs) > 0:
            return Layout.ORBITS if orbits > pairs else Layout.WDS
        raise UsageError(
            f"{harmless(path.name)} is in no known layout: neither a Washington Double Star "
            f"summary nor Sixth Orbit Catalog elements nor a table ({', '.join(FORMATS)})"
        ) from None
    return Layout.TABLE
