"""Reads a kit file (TOML) into values."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from planner.errors import KitError
from planner.eye.observer import Observer
from planner.eye.pupil import AGE_RANGE_YEARS, dark_pupil_mm
from planner.eye.stars import field_factor_from_limit, naked_eye_limit_mag
from planner.kit.block import Block, nearest
from planner.kit.instruments import (
    read_barlow,
    read_eyepiece,
    read_filter,
    read_finder,
    read_telescope,
)
from planner.kit.kit import Kit, Place
from planner.kit.places import read_place
from planner.kit.shown import shown, shown_key
from planner.kit.toml_fault import toml_fault

if TYPE_CHECKING:
    from collections.abc import Callable

_T = TypeVar("_T")

EXAMPLE_NAME = "embedded example kit"
BLOCKS = ("site", "telescope", "eyepiece", "barlow", "filter", "finder", "observer")
FIELD_FACTORS = {"casual": 2.4, "typical": 2.0, "keen": 1.4}  # Crumey 2014, MNRAS 442, 2600, s. 1.6
USUAL_AGE_YEARS = 45.0  # where the owner gives none; common practice, no source
FIELD_FACTOR_RANGE = (0.5, 30.0)  # beyond it the limit and the sky do not belong together
OBSERVER_KEYS = (
    "name", "age", "dark_pupil", "experience", "naked_eye_limit", "least_exit_pupil"
)  # fmt: skip


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
    top = Block(source, "top of the file", _document(text, source))
    _refuse_unknown_blocks(top)
    places = _each(top, "site", read_place, required=True)
    kit = Kit(
        source=source,
        places=places,
        telescopes=_each(top, "telescope", read_telescope, required=True),
        eyepieces=_each(top, "eyepiece", read_eyepiece, required=True),
        barlows=_each(top, "barlow", read_barlow),
        filters=_each(top, "filter", read_filter),
        finders=_each(top, "finder", read_finder),
        observer=_read_observer(top, places[0]),
    )
    for number, telescope in enumerate(kit.telescopes, start=1):
        if not kit.fitting(telescope):
            raise KitError(
                f"{source}: [[telescope]] {number} {shown(telescope.name)}: focuser_barrel of "
                f"{telescope.barrel_mm:g} mm: no eyepiece fits; check it and each eyepiece's barrel"
            )
    return kit


def _document(text: str, source: str) -> dict[str, Any]:
    """The TOML text as nested values."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise KitError(f"{source}: {toml_fault(text, error)}") from error


def _refuse_unknown_blocks(top: Block) -> None:
    for name, value in top.values.items():
        if name in BLOCKS:
            continue
        known = ", ".join(BLOCKS)
        near = nearest(name, BLOCKS, cutoff=0.5)
        hint = f"did you mean {near!r}? " if near else ""
        tables = value if isinstance(value, list) else [value]
        if tables and all(isinstance(table, dict) for table in tables):
            raise KitError(
                f"{top.file}: [{shown_key(name)}]: no such block; {hint}known blocks: {known}"
            )
        top.fail(name, f"every key belongs below a block; {hint}known blocks: {known}")


def _each(
    top: Block, name: str, read: Callable[[Block], _T], required: bool = False
) -> tuple[_T, ...]:
    """Every ``[[name]]`` block, read; names must differ."""
    tables: Any = top.values.get(name, [])
    if isinstance(tables, dict):
        raise KitError(f"{top.file}: [{name}]: write it with double brackets: [[{name}]]")
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        top.fail(name, f"write the block with double brackets: [[{name}]]")
    if required and not tables:
        raise KitError(f"{top.file}: no [[{name}]] block; add at least one (see: planner kit new)")
    things: list[_T] = []
    seen: set[str] = set()
    for number, values in enumerate(tables, start=1):
        given = values.get("name")
        label = f" {shown(given)}" if isinstance(given, str) else ""
        block = Block(top.file, f"[[{name}]] {number}{label}", values)
        things.append(read(block))
        key = block.text("name").casefold()
        if key in seen:
            block.fail("name", f"another [[{name}]] has this name; names must differ")
        seen.add(key)
    return tuple(things)


def _read_observer(top: Block, first: Place) -> Observer:
    values = top.values.get("observer", {})
    if not isinstance(values, dict):
        top.fail("observer", "write the block once, with single brackets: [observer]")
    block = Block(top.file, "[observer]", values)
    block.only(OBSERVER_KEYS)
    age = block.number("age", *AGE_RANGE_YEARS, default=USUAL_AGE_YEARS)
    pupil = block.length("dark_pupil", 2.0, 9.0, default_mm=float(dark_pupil_mm(age)))
    experience = block.choice("experience", FIELD_FACTORS, default="typical")
    factor = FIELD_FACTORS[experience]
    measured = block.has("naked_eye_limit")
    if measured:
        factor = _measured_factor(block, first.zenith_sky_mag)
    return Observer(
        name=block.text("name", default="observer"),
        age_years=age,
        dark_pupil_mm=pupil,
        field_factor=factor,
        factor_air_mag=first.extinction_mag if measured else 0.0,
        least_exit_pupil_mm=block.length("least_exit_pupil", 0.2, 3.0, default_mm=0.5),
    )


def _measured_factor(block: Block, zenith_sky_mag: float) -> float:
    limit = block.number("naked_eye_limit", 2.0, 8.5)
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
