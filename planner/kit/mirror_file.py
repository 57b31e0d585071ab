"""The file of a mirror test: windows, runs and what was tested, from TOML or a table."""

from __future__ import annotations

import csv
import math
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any, NoReturn

from planner.errors import KitError, ModelRangeError, UsageError
from planner.kit import schema
from planner.kit.block import Block, finite
from planner.kit.lengths import UNIT_MM
from planner.kit.shown import shown, shown_key
from planner.kit.toml_fault import toml_fault
from planner.mirror.tester import MirrorTest
from planner.optics.glass import Glass

Pairs = tuple[tuple[float, float], ...]

BLOCKS = ("mirror", "run", "edge")
LARGEST_READING_MM = 200.0  # of a knife's travel; larger is a slip of the unit
HEAD = ("inner", "outer")
TABLE = ".csv"


def example_test(kind: str = ".toml") -> str:
    """A commented mirror test to start from, a document (``.toml``) or a table (``.csv``)."""
    name = "example_mirror.csv" if kind.lower() == TABLE else "example_mirror.toml"
    return files("planner.kit").joinpath(name).read_text(encoding="utf-8")


def read_mirror_test(path: Path) -> MirrorTest:
    """The test in a file: TOML, or a table of comma-separated values with its facts above.

    In a table the lines that begin with # are TOML, then come ``inner,outer`` and a column for
    each run, then a line for each window.

    Raises:
        KitError: the file cannot be read, or something in it is missing, misspelt or impossible.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise KitError(f"{path}: not a text file in UTF-8; save it as plain text") from error
    except FileNotFoundError as error:
        raise KitError(
            f"{path}: no such file; write one with: planner mirror new {path}"
        ) from error
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise KitError(f"{path}: {reason}; give a mirror test that you may read") from error
    if path.suffix.lower() == TABLE:
        return _of_table(str(path), text)
    return _of_document(str(path), _document(str(path), text))


def _document(file: str, text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise KitError(f"{file}: {toml_fault(text, error)}") from error


def _of_table(file: str, text: str) -> MirrorTest:
    """A table: facts in the lines with #, then the windows and their readings."""
    lines = text.splitlines()
    above = [line[1:].strip() for line in lines if line.startswith("#")]
    facts = _document(file, "\n".join(above))
    if "mirror" not in facts:
        edge = {"edge": facts.pop("edge")} if "edge" in facts else {}
        facts = {"mirror": facts, **edge}
    rows = [row for row in csv.reader(line for line in lines if not line.startswith("#")) if row]
    if not rows or [cell.strip().lower() for cell in rows[0][:2]] != list(HEAD):
        _refuse(file, "the table", "its first line has to be inner,outer and a name for each run")
    runs = len(rows[0]) - 2
    zones, readings = [], [[] for _ in range(runs)]  # type: ignore[var-annotated]
    for number, row in enumerate(rows[1:], start=1):
        cells = [_cell(file, f"window {number}", cell) for cell in row]
        if len(cells) != runs + 2:
            _refuse(file, f"window {number}",
                    f"{len(cells)} values for {runs + 2} columns; give one each")  # fmt: skip
        zones.append(cells[:2])
        for run, value in zip(readings, cells[2:], strict=True):
            run.append(value)
    facts["mirror"]["zones"] = zones
    facts["run"] = [{"readings": run} for run in readings]
    return _of_document(file, facts)


def _cell(file: str, place: str, cell: str) -> float:
    try:
        return float(cell)
    except ValueError:
        _refuse(file, place, f"{shown(cell)} is no number; write it with a decimal point")


def _of_document(file: str, top: dict[str, Any]) -> MirrorTest:
    """A test from the nested values of its file."""
    for name in top:
        if name not in BLOCKS:
            _refuse(file, f"[{shown_key(name)}]", "no such block; known: mirror, run, edge")
    told = top.get("mirror")
    if not isinstance(told, dict):
        _refuse(file, "[mirror]", "add this block; see: planner mirror new FILE")
    runs = top.get("run", [])
    if not isinstance(runs, list) or not all(isinstance(run, dict) for run in runs):
        _refuse(file, "[[run]]", "write each run's block with double brackets: [[run]]")
    values = {key: value for key, value in told.items() if key != "zones"}
    block = Block(file, "[mirror]", values, schema.MIRROR)
    block.only_known()
    scale = UNIT_MM[block.choice("unit")]
    away = 1.0 if block.choice("readings_grow") == "away" else -1.0
    zones = _zones(file, told.get("zones"), scale)
    diameter = block.length("optical_diameter")
    width, waves = _edge(file, top.get("edge"), diameter)
    name, radius = block.text("name"), block.length("radius_of_curvature")
    fixed = block.choice("source") == "fixed"
    told_runs = tuple(_run(file, number, run, away * scale) for number, run in enumerate(runs, 1))
    try:
        return MirrorTest(
            name, diameter, radius, fixed, zones, told_runs, width, waves, unit_mm=scale
        )
    except UsageError as error:
        raise KitError(f"{file}: {error}") from error


def _zones(file: str, value: Any, scale: float) -> Pairs:
    remedy = "write the windows as pairs of inner and outer radius, like [[0, 36], [36, 51]]"
    if not isinstance(value, list):
        _refuse(file, "[mirror]: zones", remedy)
    pairs = []
    for number, pair in enumerate(value, start=1):
        edges = [finite(edge) for edge in pair] if isinstance(pair, list) else []
        if len(edges) != 2 or edges[0] is None or edges[1] is None:
            _refuse(file, f"[mirror]: zones: window {number}", remedy)
        pairs.append((edges[0] * scale, edges[1] * scale))
    return tuple(pairs)


def _run(file: str, number: int, run: dict[str, Any], scale: float) -> tuple[float, ...]:
    place = f"[[run]] {number}"
    for key in run:
        if key not in ("date", "readings"):
            _refuse(file, f"{place}: {shown_key(key)}", "no such key; known: date, readings")
    value = run.get("readings")
    if not isinstance(value, list):
        _refuse(file, f"{place}: readings", "write one number for each window, like [0.3, 0.8]")
    readings = []
    for window, given in enumerate(value, start=1):
        reading = finite(given)
        if reading is None or math.fabs(reading * scale) > LARGEST_READING_MM:
            _refuse(
                file, f"{place}: readings: window {window} = {shown(given)}",
                f"write a number up to {LARGEST_READING_MM:g} mm; check the unit",
            )  # fmt: skip
        readings.append(reading * scale)
    return tuple(readings)


def _edge(file: str, value: Any, diameter_mm: float) -> tuple[float, float]:
    """Width in mm and depth in waves of a turned edge; both or neither."""
    if value is None:
        return 0.0, 0.0
    if not isinstance(value, dict):
        _refuse(file, "[edge]", "write the block once, with single brackets: [edge]")
    block = Block(file, "[edge]", value, schema.MIRROR_EDGE)
    block.only_known()
    width, waves = block.length("width"), block.number("waves")
    try:
        Glass(edge_width_mm=width, edge_waves=waves).check(diameter_mm)
    except ModelRangeError as error:
        _refuse(file, "[edge]", str(error))
    return width, waves


def _refuse(file: str, place: str, remedy: str) -> NoReturn:
    raise KitError(f"{file}: {place}: {remedy}")
