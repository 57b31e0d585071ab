"""Reads a kit file (TOML) into values."""

from __future__ import annotations

import datetime as dt
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.ephemeris.red_spot import RedSpot
from planner.errors import KitError
from planner.eye.observer import Observer
from planner.eye.pupil import dark_pupil_mm
from planner.eye.stars import field_factor_from_limit, naked_eye_limit_mag
from planner.kit import schema
from planner.kit.block import Block
from planner.kit.faults import Faults
from planner.kit.hours import Hours
from planner.kit.instruments import (
    read_barlow,
    read_companion,
    read_eyepiece,
    read_filter,
    read_finder,
    read_telescope,
)
from planner.kit.kit import Kit
from planner.kit.rig import on_its_cradle, read_part, read_rig
from planner.kit.rule import BlockRule
from planner.kit.shown import shown, shown_key
from planner.kit.sites import read_site
from planner.kit.toml_fault import toml_fault
from planner.kit.tube_schema import PART
from planner.targets.spelling import most_like

if TYPE_CHECKING:
    from collections.abc import Callable

    from planner.kit.kit import KitSite

EXAMPLE_NAME = "embedded example kit"
TOP = BlockRule("", many=False, required=True, about="", keys=())
NAMES = tuple(rule.name for rule in schema.BLOCKS)
FIELD_FACTORS = {"casual": 2.4, "typical": 2.0, "keen": 1.4}  # Crumey 2014, MNRAS 442, 2600, s. 1.6
FIELD_FACTOR_RANGE = (0.5, 30.0)  # beyond it the limit and the sky do not belong together


def example_text() -> str:
    """The embedded, commented example kit."""
    return files("planner.kit").joinpath("example.toml").read_text(encoding="utf-8")


def load_kit(path: str | Path | None = None) -> Kit:
    """The kit of a file, or the embedded example for None.

    Raises:
        KitError: the file cannot be read, or a value is missing, misspelt or impossible.
    """
    if path is None:
        return parse_kit(example_text(), EXAMPLE_NAME)
    try:
        text = Path(path).read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise KitError(f"{path}: not a text file in UTF-8; save it as plain text") from error
    except FileNotFoundError as error:
        raise KitError(f"{path}: no such file; write one with: planner kit new {path}") from error
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise KitError(f"{path}: {reason}; give a kit file that you may read") from error
    return parse_kit(text, str(path))


def parse_kit(text: str, source: str) -> Kit:
    """The kit that a TOML text describes; ``source`` names it in errors.

    Raises:
        KitError: as for load_kit.
    """
    top = Block(source, "top of the file", _document(text, source), TOP)
    faults = Faults()
    for name in top.values:
        with faults.kept():
            _refuse_unknown_block(top, name)
    things = {
        rule.name: _each(top, rule, read, faults) for rule, read in _READERS
    }  # fmt: skip
    sites: list[KitSite] = things["site"]
    observer, hours = _read_observer(top, sites[0] if sites else None, faults)
    rig = read_rig(top, things["part"], faults)
    faults.tell()
    assert observer is not None
    kit = Kit(
        source=source,
        sites=tuple(sites),
        telescopes=on_its_cradle(things["telescope"], rig),
        eyepieces=tuple(things["eyepiece"]),
        barlows=tuple(things["barlow"]),
        filters=tuple(things["filter"]),
        finders=tuple(things["finder"]),
        observer=observer,
        hours=hours,
        companions=tuple(things["companion"]),
        log_folder=_log_folder(top, faults),
        rig=rig,
        **_sky_facts(top, faults),
    )
    for number, telescope in enumerate(kit.telescopes, start=1):
        if not kit.fitting(telescope):
            faults.add(
                f"{source}: [[telescope]] {number} {shown(telescope.name)}: focuser_barrel of "
                f"{telescope.barrel_mm:g} mm: no eyepiece fits; check it and each eyepiece's barrel"
            )
    faults.tell()
    return kit


def _document(text: str, source: str) -> dict[str, Any]:
    """The TOML text as nested values."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise KitError(f"{source}: {toml_fault(text, error)}") from error


def _refuse_unknown_block(top: Block, name: str) -> None:
    if name in NAMES:
        return
    value, known = top.values[name], ", ".join(NAMES)
    near = most_like(name, NAMES, cutoff=0.5)
    hint = f"did you mean {near!r}? " if near else ""
    tables = value if isinstance(value, list) else [value]
    if tables and all(isinstance(table, dict) for table in tables):
        raise KitError(
            f"{top.file}: [{shown_key(name)}]: no such block; {hint}known blocks: {known}"
        )
    top.fail(name, f"every key belongs below a block; {hint}known blocks: {known}")


def _each(top: Block, rule: BlockRule, read: Callable[[Block], Any], faults: Faults) -> list[Any]:
    """Every block of one kind, read; names must differ."""
    tables: Any = []
    with faults.kept():
        tables = _tables(top, rule)
    things: list[Any] = []
    seen: set[str] = set()
    for number, values in enumerate(tables, start=1):
        given = values.get("name")
        label = f" {shown(given)}" if isinstance(given, str) else ""
        block = Block(top.file, f"{rule.heading} {number}{label}", values, rule)
        with faults.kept(block):
            things.append(read(block))
        if isinstance(given, str):
            name = given.strip().casefold()
            if name and name in seen:
                faults.add(
                    block.fault("name", f"another {rule.heading} has this name; names must differ")
                )
            seen.add(name)
    return things


def _tables(top: Block, rule: BlockRule) -> list[dict[str, Any]]:
    """The tables of one kind of block that may stand more than once."""
    tables: Any = top.values.get(rule.name, [])
    if isinstance(tables, dict):
        raise KitError(f"{top.file}: [{rule.name}]: write it with double brackets: {rule.heading}")
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        top.fail(rule.name, f"write the block with double brackets: {rule.heading}")
    if rule.required and not tables:
        raise KitError(
            f"{top.file}: no {rule.heading} block; add at least one (see: planner kit new)"
        )
    return list(tables)


def _read_observer(
    top: Block, first: KitSite | None, faults: Faults
) -> tuple[Observer | None, Hours]:
    """The observer, None where he or the first site is faulty, and his usual hours."""
    values: Any = top.values.get("observer", {})
    if not isinstance(values, dict):
        with faults.kept():
            top.fail("observer", "write the block once, with single brackets: [observer]")
        return None, Hours()
    block = Block(top.file, "[observer]", values, schema.OBSERVER)
    if first is None:
        faults.add_all(block)
        return None, Hours()
    with faults.kept(block):
        return _observer(block, first), _hours(block)
    return None, Hours()


def _observer(block: Block, first: KitSite) -> Observer:
    block.only_known()
    age = block.number("age")
    pupil = block.length("dark_pupil", default_mm=float(dark_pupil_mm(age)))
    factor = FIELD_FACTORS[block.choice("experience")]
    measured = block.has("naked_eye_limit")
    if measured:
        factor = _measured_factor(block, first.zenith_sky_mag)
    return Observer(
        name=block.text("name"),
        age_years=age,
        dark_pupil_mm=pupil,
        field_factor=factor,
        factor_air_mag=first.extinction_mag if measured else 0.0,
        least_exit_pupil_mm=block.length("least_exit_pupil"),
        eye_height_mm=block.length("eye_height") if block.has("eye_height") else None,
        step_mm=block.length("step"),
    )


def _hours(block: Block) -> Hours:
    return Hours(begin=block.clock("usual_from"), end=block.clock("usual_until"))


def _sky_facts(top: Block, faults: Faults) -> dict[str, Any]:
    """What the observer knows of the sky that changes: the Red Spot, Algol's epoch."""
    values: Any = top.values.get("observer", {})
    block = Block(top.file, "[observer]", values, schema.OBSERVER)
    with faults.kept(block):
        return {"red_spot": _red_spot(block), "algol_epoch": block.number("algol_epoch")}
    return {}


def _log_folder(top: Block, faults: Faults) -> Path | None:
    """The folder wanted for the log, from the kit file's own on; None for the usual one."""
    values: Any = top.values.get("observer", {})
    block = Block(top.file, "[observer]", values, schema.OBSERVER)
    with faults.kept(block):
        if block.has("log"):
            return Path(top.file).parent / Path(block.text("log")).expanduser()
    return None


def _red_spot(block: Block) -> RedSpot | None:
    if not block.has("red_spot_longitude"):
        for key in ("red_spot_date", "red_spot_drift"):
            if block.has(key):
                block.fail(key, "give red_spot_longitude too, or leave it out")
        return None
    written = block.text("red_spot_date")
    try:
        date = dt.date.fromisoformat(written)
    except ValueError:
        block.fail("red_spot_date", 'write a date in quotes, like "2026-11-01"')
    return RedSpot(block.number("red_spot_longitude"), date, block.number("red_spot_drift"))


def _measured_factor(block: Block, zenith_sky_mag: float) -> float:
    limit = block.number("naked_eye_limit")
    factor = float(field_factor_from_limit(limit, zenith_sky_mag))
    best, worst = FIELD_FACTOR_RANGE
    if not best <= factor <= worst:
        block.fail(
            "naked_eye_limit",
            f"under the first site's sky of {zenith_sky_mag:.1f} mag per square arcsecond eyes "
            f"reach about {naked_eye_limit_mag(zenith_sky_mag, worst):.1f} to "
            f"{naked_eye_limit_mag(zenith_sky_mag, best):.1f}; check both",
        )
    return factor


_READERS: tuple[tuple[BlockRule, Callable[[Block], Any]], ...] = (
    (schema.SITE, read_site),
    (schema.TELESCOPE, read_telescope),
    (schema.EYEPIECE, read_eyepiece),
    (schema.BARLOW, read_barlow),
    (schema.FILTER, read_filter),
    (schema.FINDER, read_finder),
    (schema.COMPANION, read_companion),
    (PART, read_part),
)
