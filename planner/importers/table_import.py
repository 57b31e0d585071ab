"""Any table of pairs, in CSV, ECSV, VOTable or FITS, by a map of its columns."""

from __future__ import annotations

import csv
import io
import re
import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.errors import UsageError
from planner.importers.angle_text import (
    DEGREES_IN_HOUR,
    UNKNOWN_TEXTS,
    degrees,
    last_digits_arcsec,
)
from planner.importers.column_map import column_map
from planner.importers.harmless import harmless
from planner.importers.incoming import (
    PRECISE_ARCSEC,
    PairReading,
    PairRows,
    discoverer_text,
    possible_rows,
)
from planner.targets.columns import objects

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Texts = NDArray[np.object_]

# File name's ending -> astropy's name of the format; None is read here, line by line.
FORMATS = {
    ".csv": None, ".tsv": None, ".ecsv": "ascii.ecsv", ".vot": "votable", ".xml": "votable",
    ".votable": "votable", ".fits": "fits", ".fit": "fits", ".fts": "fits",
}  # fmt: skip
_WDS = re.compile(r"(?:WDS)?J?([0-9]{5}[+-][0-9]{4})", re.IGNORECASE)
_DECIMAL_COMMA = re.compile(r"([+-]?\d+),(\d+)")


@dataclass(frozen=True, slots=True)
class TextTable:
    """A table as texts: its columns, the line or row number of each row, and units if stated.

    ``ragged`` are rows with another number of cells than the header.
    """

    columns: Mapping[str, Sequence[str]]
    line: Integers
    units: Mapping[str, str]
    ragged: Bools


def read_table(content: bytes, suffix: str, columns: str | None) -> PairReading:
    """The pairs of a table of the format that the file name's ending says.

    ``columns`` is the user's map, see ``column_map``. Right ascension is in degrees unless it is
    sexagesimal, its unit is hours, or it is mapped as ``ra_hours``. Raises UsageError for a
    table that cannot be read or lacks a needed column.
    """
    table = _text_table(content) if FORMATS[suffix] is None else _outside(content, suffix)
    chosen = column_map(columns, list(table.columns))
    rows, checks = _rows(table, chosen)
    kept, refusals = possible_rows(rows, checks)
    return PairReading(kept, refusals)


def _number(text: str) -> float:
    """A number; NaN for an unknown one, infinity for a text that is no number."""
    if text.lower() in UNKNOWN_TEXTS:
        return float("nan")
    try:
        return float(text)
    except ValueError:
        return float("inf")


def _identifier(text: str) -> str:
    """A WDS identifier without what some tables write before it; empty if it is none."""
    match = _WDS.fullmatch(text.replace(" ", ""))
    return match[1] if match else ""


def _text_table(content: bytes) -> TextTable:
    """A CSV file, or one with tabs, semicolons or bars; lines that begin with # are comments."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    lines = text.splitlines()
    start = next((n for n, line in enumerate(lines) if line.strip() and line[0] != "#"), None)
    if start is None:
        raise UsageError("the table is empty")
    delimiter = max(",\t;|", key=lines[start].count)
    reader = csv.reader(io.StringIO("\n".join(lines[start:])), delimiter=delimiter)
    try:
        header = [harmless(name).strip() for name in next(reader)]
        rows = [
            (reader.line_num + start, row)
            for row in reader
            if any(cell.strip() for cell in row) and not row[0].startswith("#")
        ]
    except csv.Error as error:
        raise UsageError(f"the table cannot be read as CSV: {error}") from error
    if len(set(header)) < len(header):
        twice = sorted({name for name in header if header.count(name) > 1})
        raise UsageError(f"the table has two columns called {', '.join(twice)}")
    width = len(header)
    ragged = np.array([len(row) != width for _, row in rows], dtype=bool)
    padded = [(row + [""] * width)[:width] for _, row in rows]
    cells = zip(*padded, strict=True) if padded else ([] for _ in header)
    columns = {
        name: [harmless(cell).strip() for cell in column]
        for name, column in zip(header, cells, strict=True)
    }
    return TextTable(columns, np.array([line for line, _ in rows], np.int64), {}, ragged)


def _outside(content: bytes, suffix: str) -> TextTable:
    """A table that astropy reads; rows are counted from 1."""
    from astropy.table import Table

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            table: Any = Table.read(io.BytesIO(content), format=FORMATS[suffix])
        columns = {
            harmless(name): _cells(table[name])
            for name in table.colnames
            if getattr(table[name], "ndim", 1) == 1
        }
        units = {
            harmless(name): str(getattr(table[name], "unit", None) or "") for name in table.colnames
        }
    except Exception as error:  # astropy's readers raise whatever their parsers do
        reason = harmless(" ".join(str(error).split()))[:120] or type(error).__name__
        raise UsageError(f"the table cannot be read as {FORMATS[suffix]}: {reason}") from error
    count = len(table)
    return TextTable(columns, np.arange(1, count + 1), units, np.zeros(count, dtype=bool))


def _cells(column: Any) -> list[str]:
    """The cells of an astropy column as texts; masked ones empty."""
    mask = np.broadcast_to(np.asarray(getattr(column, "mask", False)), len(column)).tolist()
    values = np.asarray(getattr(column, "value", column)).tolist()
    return ["" if hidden else _cell(value) for value, hidden in zip(values, mask, strict=True)]


def _cell(value: Any) -> str:
    if isinstance(value, bytes):
        return harmless(value.decode("utf-8", "replace")).strip()
    return "" if value is None else harmless(str(value)).strip()


def _rows(
    table: TextTable, chosen: Mapping[str, str]
) -> tuple[PairRows, tuple[tuple[str, Bools], ...]]:
    """Every row, and the checks that only tables need."""
    count = len(table.line)
    wrong: list[tuple[str, Bools]] = []

    def texts(key: str) -> Sequence[str]:
        return table.columns[chosen[key]] if key in chosen else ("",) * count

    def number(key: str) -> Floats:
        values = np.array([_number(text) for text in texts(key)], dtype=float)
        if np.isinf(values).any():
            words = "something else than a number"
            wrong.append(_told(words, chosen[key], texts(key), np.isinf(values)))
        return np.where(np.isfinite(values), values, np.nan)

    ra, wrong_ra, ra_digit = _right_ascension(table, chosen)
    dec, wrong_dec = degrees(texts("dec"), in_hours=False)
    for key, unread in (("ra" if "ra" in chosen else "ra_hours", wrong_ra), ("dec", wrong_dec)):
        if unread.any():
            words = "a position that cannot be read"
            wrong.append(_told(words, chosen[key], texts(key), unread))
    rows = PairRows(
        line=table.line,
        ra_deg=ra,
        dec_deg=dec,
        place_error_arcsec=_place_error(ra_digit, dec, last_digits_arcsec(texts("dec"), False)),
        position_epoch_yr=number("place_epoch"),
        pm_ra_mas_yr=number("pm_ra"),
        pm_dec_mas_yr=number("pm_dec"),
        v1=number("v1"),
        v2=number("v2"),
        separation_arcsec=number("separation"),
        position_angle_deg=number("position_angle"),
        epoch_yr=number("epoch"),
        components=objects(tuple(text.replace(" ", "") or "AB" for text in texts("components"))),
        name=objects(tuple(texts("name"))),
        discoverer=objects(tuple(discoverer_text(text) for text in texts("discoverer"))),
        wds=objects(tuple(_identifier(text) for text in texts("wds"))),
        physical=objects(("",) * count),
        note=objects(tuple(texts("note"))),
    )
    return rows, (("more or fewer cells than the header", table.ragged), *wrong)


def _told(words: str, column: str, texts: Sequence[str], bad: Bools) -> tuple[str, Bools]:
    """The reason for refusing some rows, with the column's name and its first bad text."""
    text = texts[int(np.flatnonzero(bad)[0])]
    comma = _DECIMAL_COMMA.fullmatch(text)
    remedy = f": write {comma[1]}.{comma[2]}" if comma else ""
    return f"{words} in column {column}, such as {text!r}{remedy}", bad


def _right_ascension(table: TextTable, chosen: Mapping[str, str]) -> tuple[Floats, Bools, Floats]:
    """Right ascension in degrees, where it cannot be read, and its last digits in arcseconds."""
    column = chosen.get("ra", chosen.get("ra_hours", ""))
    texts = table.columns[column]
    values, bad = degrees(texts, in_hours=True)
    in_hours = table.units.get(column, "").lower() in ("h", "hr", "hourangle")
    in_hours = in_hours or "ra_hours" in chosen
    if in_hours:
        decimal = np.array([text.replace(".", "", 1).isdigit() for text in texts], dtype=bool)
        values = np.where(decimal, DEGREES_IN_HOUR * values, values)
    return values, bad, last_digits_arcsec(texts, True, decimal_hours=in_hours)


def _place_error(ra_digit_arcsec: Floats, dec_deg: Floats, dec_digit_arcsec: Floats) -> Floats:
    """How far a place may be off, arcseconds: by a unit of its last digits, cut off or rounded."""
    across = ra_digit_arcsec * np.cos(np.radians(dec_deg))
    digits = np.nan_to_num(np.hypot(across, dec_digit_arcsec))
    return np.asarray(np.hypot(PRECISE_ARCSEC, digits))
