"""Tables held as one array for each column: choosing rows, protecting the arrays."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Texts = NDArray[np.object_]

Table = TypeVar("Table")


def frozen(column: NDArray[Any]) -> NDArray[Any]:
    """The same array, which nobody can write to any more."""
    column.flags.writeable = False
    return column


def rows_of(table: Table, rows: ArrayLike) -> Table:
    """A table of the given rows (integers or a mask), in the order given.

    ``table`` is any dataclass whose fields are all arrays of one length.
    """
    chosen = np.asarray(rows)
    if chosen.size == 0:
        chosen = chosen.astype(np.int64)
    names = [field.name for field in fields(table)]  # type: ignore[arg-type]
    return type(table)(**{name: frozen(getattr(table, name)[chosen]) for name in names})


def with_rows(table: Table, rows: ArrayLike, values: Table) -> Table:
    """A copy of a table with some rows (integers) replaced by those of another table."""
    changed = {}
    for field in fields(table):  # type: ignore[arg-type]
        column = getattr(table, field.name).copy()
        column[np.asarray(rows)] = getattr(values, field.name)
        changed[field.name] = frozen(column)
    return type(table)(**changed)


def known(value: float) -> float | None:
    """One number of a table, or None where it is NaN: the table has no answer."""
    return None if np.isnan(value) else float(value)


def floats(texts: tuple[str, ...]) -> Floats:
    """A column of numbers; an empty text is NaN. Raises ValueError for anything else."""
    return frozen(np.array([text or "nan" for text in texts], dtype=np.float64))


def integers(texts: tuple[str, ...]) -> Integers:
    """A column of whole numbers; an empty text is 0. Raises ValueError for anything else."""
    return frozen(np.array([int(text) if text else 0 for text in texts], dtype=np.int64))


def objects(values: tuple[Any, ...]) -> Texts:
    """A column of texts or other Python objects."""
    column = np.empty(len(values), dtype=np.object_)
    column[:] = values
    return frozen(column)
