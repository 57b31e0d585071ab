"""Lines of fixed columns: cut into texts and numbers, all lines at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Bytes = NDArray[np.bytes_]

BYTE_ORDER_MARK = b"\xef\xbb\xbf"
# Hidden characters to ``?``, kinds of blanks to a blank; what ends a line stays.
_HARMLESS = bytes(
    code if 32 <= code < 127 or code in b"\r\n" else 32 if code in b"\t\v\f" else ord("?")
    for code in range(256)
)


@dataclass(frozen=True, slots=True)
class Lines:
    """N lines that are not blank, each padded to the layout's width.

    ``number`` counts from 1 in the file, ``length`` is that without trailing blanks. ``cut`` says
    that the file ends without a line end, as one does that was cut off.
    """

    number: Integers
    length: Integers
    cells: NDArray[np.uint8]
    cut: bool

    def __len__(self) -> int:
        """Number of lines."""
        return len(self.number)

    def chosen(self, rows: Bools) -> Lines:
        """The lines of a mask."""
        return Lines(self.number[rows], self.length[rows], self.cells[rows], self.cut)

    def column(self, first: int, last: int) -> Bytes:
        """The text in columns ``first`` to ``last``, counted from 1, without outer blanks."""
        width = last - first + 1
        part = np.ascontiguousarray(self.cells[:, first - 1 : last])
        return np.char.strip(part.view(f"S{width}").ravel())

    def text(self, first: int, last: int) -> NDArray[np.str_]:
        """The same as text."""
        return self.column(first, last).astype(np.str_)

    def number_in(self, first: int, last: int) -> tuple[Floats, Bools]:
        """The number in these columns, and where something else than a number stands.

        NaN where they are blank, hold points only, or no number.
        """
        content = self.column(first, last)
        blank = np.char.strip(content, b".") == b""
        values = _numbers(np.where(blank, b"nan", content))
        return values, np.asarray(np.isnan(values) & ~blank)


def cut_lines(content: bytes, width: int) -> Lines:
    """The lines of a file, whatever ends them; all that is not printable ASCII is ``?``.

    Every character takes one column, in UTF-8 as in Latin-1.
    """
    plain = content.removeprefix(BYTE_ORDER_MARK)
    if not plain.isascii():
        plain = _decoded(plain).encode("ascii", "replace")
    plain = plain.translate(_HARMLESS)
    cut = bool(plain) and not plain.endswith((b"\n", b"\r"))
    stripped = [line.rstrip() for line in plain.splitlines()]
    number = np.array([n for n, line in enumerate(stripped, 1) if line], dtype=np.int64)
    filled = [line for line in stripped if line]
    length = np.array([len(line) for line in filled], dtype=np.int64)
    padded = b"".join(line[:width].ljust(width) for line in filled)
    return Lines(number, length, np.frombuffer(padded, np.uint8).reshape(-1, width), cut)


def _decoded(content: bytes) -> str:
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        return content.decode("latin-1")


def _numbers(texts: Bytes) -> Floats:
    """Each text as a finite number, NaN where it is none."""
    try:
        values = texts.astype(np.float64)
    except ValueError:
        different, place = np.unique(texts, return_inverse=True)
        values = np.array([_number(text) for text in different.tolist()])[place]
    return np.where(np.isfinite(values), values, np.nan)


def _number(text: bytes) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")
