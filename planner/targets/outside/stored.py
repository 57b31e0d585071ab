"""One imported catalog as one file: its table, its names for searching, and where it is from.

The file is a zip archive that numpy reads: a member for each column, ``about.json`` and the
texts ``keys.txt`` and ``names.txt``. Texts are kept as codes into a list of different texts.
Nothing in it is executable, and zip's checksums show damage.
"""

from __future__ import annotations

import io
import json
import zipfile
import zlib
from dataclasses import asdict, dataclass, fields
from typing import TYPE_CHECKING, Any, TypeVar

from planner.errors import CatalogError

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from numpy.typing import NDArray

FORMAT = "planner-shelf/2"
ABOUT, KEYS, NAMES = "about.json", "keys.txt", "names.txt"
REMEDY = "remove it with: planner catalog undo"
DAMAGE = (OSError, EOFError, KeyError, ValueError, TypeError, zipfile.BadZipFile, zlib.error)
ZERO_TIME = (1980, 1, 1, 0, 0, 0)  # so that the same table gives the same bytes
COMPRESSION_LEVEL = 1  # a fifth of the size for a tenth of a second on 157,000 pairs
TABLES = ("pairs", "orbits")

Table = TypeVar("Table")


@dataclass(frozen=True, slots=True)
class About:
    """What one import is: shown in lists, and what decides which imports count.

    ``table`` is pairs or orbits, ``layout`` its outside form in words, ``taken`` the rows that
    are new and ``merged`` those of targets known before. ``sha256`` is that of the file,
    ``shipped_sha256`` that of the package's own pairs then: with these it was merged, orbits too.
    ``replaces`` is the number of the import that this one stands for from now on, 0 for none.
    """

    number: int
    table: str
    layout: str
    file_name: str
    date: str
    columns: str
    taken: int
    merged: int
    refused: int
    sha256: str
    shipped_sha256: str
    replaces: int = 0


@dataclass(frozen=True, slots=True)
class Content:
    """What is to be stored: a table of arrays, which known target each row is, names to search.

    ``merged_into`` (N,) are identifiers of known pairs, empty for new ones; of orbits, the pairs
    that were found by place and gain their identifier. ``keys`` has one line for each row, its
    search keys between bars; ``names`` one line for each name worth completing.
    """

    table: Any
    merged_into: NDArray[Any]
    keys: str
    names: str


def write(path: Path, about: About, content: Content) -> None:
    """Write a whole import to a file. Raises OSError."""
    import numpy as np

    columns = {f.name: getattr(content.table, f.name) for f in fields(content.table)}
    columns["merged_into"] = content.merged_into
    members: dict[str, bytes] = {
        ABOUT: json.dumps({"format": FORMAT, **asdict(about)}, indent=1).encode(),
        KEYS: content.keys.encode(),
        NAMES: content.names.encode(),
    }
    for name, column in columns.items():
        for member, array in _packed(name, column).items():
            stream = io.BytesIO()
            np.lib.format.write_array(stream, array, allow_pickle=False)
            members[f"{member}.npy"] = stream.getvalue()
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in members.items():
            entry = zipfile.ZipInfo(name, ZERO_TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, data, compresslevel=COMPRESSION_LEVEL)


def read_about(path: Path) -> About:
    """Where an import is from. Loads no numerical package. Raises CatalogError."""
    try:
        found = json.loads(_member(path, ABOUT))
        written = found.pop("format")
        if written != FORMAT:
            raise damaged(path, f"written as {written} by another edition of the planner")
        about = About(**found)
        if about.table not in TABLES:
            raise ValueError(f"no table {about.table}")
    except DAMAGE as error:
        raise damaged(path, error) from error
    return about


def read_text(path: Path, member: str) -> str:
    """One of the texts, ``KEYS`` or ``NAMES``. Loads no numerical package. Raises CatalogError."""
    try:
        return _member(path, member).decode("utf-8")
    except DAMAGE as error:
        raise damaged(path, error) from error


def read_table(path: Path, table: type[Table]) -> tuple[Table, NDArray[Any]]:
    """The table of an import, and which known target each row is. Raises CatalogError."""
    import numpy as np

    try:
        with np.load(path, allow_pickle=False) as archive:
            columns = {
                field.name: _unpacked(archive, field.name)
                for field in fields(table)  # type: ignore[arg-type]
            }
            merged_into = _unpacked(archive, "merged_into")
    except DAMAGE as error:
        raise damaged(path, error) from error
    if {len(column) for column in columns.values()} != {len(merged_into)}:
        raise damaged(path, "columns of different lengths")
    return table(**columns), merged_into


def damaged(path: Path, reason: object) -> CatalogError:
    """The error for an import that cannot be used: names the file, the reason and the remedy."""
    return CatalogError(f"imported catalog {path} is damaged ({reason}): {REMEDY}")


def _member(path: Path, name: str) -> bytes:
    with zipfile.ZipFile(path) as archive:
        return archive.read(name)


def _packed(name: str, column: NDArray[Any]) -> dict[str, NDArray[Any]]:
    """A column as the arrays that are stored: texts become codes and a list of texts."""
    import numpy as np

    if column.dtype.kind not in "OUS":
        return {name: column}
    places: dict[str, int] = {}
    codes = [places.setdefault(text, len(places)) for text in column.tolist()]
    texts = list(places)
    ascii_only = all(text.isascii() for text in texts)
    return {
        f"{name}.codes": np.array(codes, dtype=np.int32),
        f"{name}.texts": np.array(texts or [""], dtype="S" if ascii_only else "U"),
    }


def _unpacked(archive: Mapping[str, Any], name: str) -> NDArray[Any]:
    if f"{name}.codes" not in archive:
        column: NDArray[Any] = archive[name]
    else:
        texts = archive[f"{name}.texts"].astype("U").astype(object)
        column = texts[archive[f"{name}.codes"]]
    column.flags.writeable = False
    return column
