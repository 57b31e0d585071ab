"""The table made from an imported file, kept so that it need not be made again.

A cache may only save time: what is missing, damaged or made from anything else is made anew. It
is a zip archive that numpy reads: a member for each column, ``key.txt`` and the texts
``keys.txt`` and ``names.txt``. Texts are kept as codes into a list of different texts. Nothing in
it is executable, and zip's checksums show damage.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from dataclasses import dataclass, fields
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import TYPE_CHECKING, Any, TypeVar

from planner.files import write_whole
from planner.targets.files import MANIFEST_FILE, read_raw

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from numpy.typing import NDArray

    from planner.importers.about import About

FORMAT = "planner-derived/1"  # of this file; a change makes every table anew
KEY, KEYS, NAMES = "key.txt", "keys.txt", "names.txt"
DAMAGE = (
    OSError, EOFError, KeyError, ValueError, TypeError, IndexError, AttributeError,
    NotImplementedError, zipfile.BadZipFile, zlib.error,
)  # fmt: skip
ZERO_TIME = (1980, 1, 1, 0, 0, 0)  # so that the same table gives the same bytes
COMPRESSION_LEVEL = 1  # a fifth of the size for a tenth of a second on 157,000 pairs
# Whose rules enter a table besides those of this package.
MODEL = {
    "planner.targets": ("measure.py", "orbit.py", "pairs.py"),
    "planner": ("angles.py", "constants.py"),
}

Table = TypeVar("Table")


@dataclass(frozen=True, slots=True)
class Derived:
    """A table of arrays, which known target each row is, and names to search.

    ``merged_into`` (N,) are identifiers of known pairs, empty for new ones; of orbits, the pairs
    that were found by place and gain their identifier. ``keys`` has one line for each row, its
    search keys between bars; ``names`` one line for each name worth completing.
    """

    table: Any
    merged_into: NDArray[Any]
    keys: str
    names: str


def first_key(shipped: Path | None) -> str:
    """What all tables hang on: this form, the rules, and the checksums of what ships.

    ``shipped`` is the package's own folder of catalogs unless given. Raises CatalogError.
    """
    manifest = sha256(read_raw(MANIFEST_FILE, shipped)).hexdigest()
    return sha256("\n".join((FORMAT, _rules(), manifest)).encode()).hexdigest()


def next_key(before: str, about: About) -> str:
    """The key of an import's table: of the key before it, the file, and how it is read."""
    parts = (before, about.sha256, about.layout, about.file_name, about.columns)
    return sha256("\n".join(parts).encode()).hexdigest()


def write_derived(path: Path, key: str, derived: Derived) -> None:
    """Keep a table. Raises OSError."""
    import numpy as np

    columns = {f.name: getattr(derived.table, f.name) for f in fields(derived.table)}
    columns["merged_into"] = derived.merged_into
    members: dict[str, bytes] = {
        KEY: key.encode(),
        KEYS: derived.keys.encode(),
        NAMES: derived.names.encode(),
    }
    for name, column in columns.items():
        for member, array in _packed(name, column).items():
            stream = io.BytesIO()
            np.lib.format.write_array(stream, array, allow_pickle=False)
            members[f"{member}.npy"] = stream.getvalue()
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as archive:
        for name, data in members.items():
            entry = zipfile.ZipInfo(name, ZERO_TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, data, compresslevel=COMPRESSION_LEVEL)
    write_whole(path, whole.getvalue())


def read_names(path: Path, key: str) -> str | None:
    """The names worth completing; None where no table of this key is kept.

    Loads no numerical package.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            if archive.read(KEY).decode() == key:
                return archive.read(NAMES).decode()
    except DAMAGE:
        pass
    return None


def read_derived(path: Path, key: str, table: type[Table]) -> Derived | None:
    """The kept table; None where there is none of this key, or a damaged one."""
    import numpy as np

    try:
        with zipfile.ZipFile(path) as texts:
            if texts.read(KEY).decode() != key:
                return None
            keys, names = texts.read(KEYS).decode(), texts.read(NAMES).decode()
        with np.load(path, allow_pickle=False) as archive:
            columns = {
                field.name: _unpacked(archive, field.name)
                for field in fields(table)  # type: ignore[arg-type]
            }
            merged_into = _unpacked(archive, "merged_into")
    except DAMAGE:
        return None
    if {len(column) for column in columns.values()} != {len(merged_into)}:
        return None
    return Derived(table(**columns), merged_into, keys, names)


@cache
def _rules() -> str:
    """SHA-256 of the text of every module whose rules enter the tables."""
    digest = sha256()
    own = sorted(p.name for p in files("planner.importers").iterdir() if p.name.endswith(".py"))
    for package, modules in {"planner.importers": tuple(own), **MODEL}.items():
        for name in modules:
            digest.update(files(package).joinpath(name).read_bytes())
    return digest.hexdigest()


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
