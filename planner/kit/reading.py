"""Reads a kit file (TOML) into values."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from planner.errors import KitError
from planner.eye.observer import Observer
from planner.eye.pupil import dark_pupil_mm
from planner.eye.stars import field_factor_from_limit
from planner.kit.block import Block
from planner.kit.instruments import (
    read_barlow,
    read_eyepiece,
    read_filter,
    read_finder,
    read_telescope,
)
from planner.kit.kit import Kit
from planner.kit.places import read_place

if TYPE_CHECKING:
    from collections.abc import Callable

_T = TypeVar("_T")

EXAMPLE_NAME = "embedded example kit"
BLOCKS = ("site", "telescope", "eyepiece", "barlow", "filter", "finder", "observer")
FIELD_FACTORS = {"casual": 2.4, "typical": 2.0, "keen": 1.4}  # Crumey 2014, MNRAS 442, 2600, s. 1.6


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
        text = Path(path).read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise KitError(f"{path}: not a text file in UTF-8; save it as plain text") from error
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise KitError(f"{path}: {reason}; write one with: planner kit new {path}") from error
    return parse_kit(text, str(path))


def parse_kit(text: str, source: str) -> Kit:
    """The kit that a TOML text describes; ``source`` names it in errors.

    Raises:
        KitError: as for load_kit.
    """
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise KitError(f"{source}: not valid TOML: {error}; mend that line") from error
    top = Block(source, "top of the file", document)
    for name in BLOCKS:
        top.has(name)
    top.finish()
    places = _each(top, "site", read_place, required=True)
    return Kit(
        source=source,
        places=places,
        telescopes=_each(top, "telescope", read_telescope, required=True),
        eyepieces=_each(top, "eyepiece", read_eyepiece, required=True),
        barlows=_each(top, "barlow", read_barlow),
        filters=_each(top, "filter", read_filter),
        finders=_each(top, "finder", read_finder),
        observer=_read_observer(top, places[0].zenith_sky_mag),
    )


def _each(
    top: Block, name: str, read: Callable[[Block], _T], required: bool = False
) -> tuple[_T, ...]:
    """Every ``[[name]]`` block, read; names must differ."""
    tables: Any = top.values.get(name, [])
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        raise KitError(f"{top.file}: [{name}]: write it in double brackets: [[{name}]]")
    if required and not tables:
        raise KitError(f"{top.file}: no [[{name}]] block; add at least one (see: planner kit new)")
    things: list[_T] = []
    seen: set[str] = set()
    for number, values in enumerate(tables, start=1):
        block = Block(top.file, f"[[{name}]] {number}", values)
        label = block.text("name")
        if label.casefold() in seen:
            block.fail("name", f"another [[{name}]] has this name; names must differ")
        seen.add(label.casefold())
        things.append(read(block))
        block.finish()
    return tuple(things)


def _read_observer(top: Block, zenith_sky_mag: float) -> Observer:
    values = top.values.get("observer", {})
    if not isinstance(values, dict):
        raise KitError(f"{top.file}: [[observer]]: write it in single brackets: [observer]")
    block = Block(top.file, "[observer]", values)
    age = block.number("age", 8, 110, default=45.0)
    pupil = block.length("dark_pupil", 2.0, 9.0, default_mm=float(dark_pupil_mm(age)))
    experience = block.choice("experience", FIELD_FACTORS, default="typical")
    measured = block.has("naked_eye_limit")
    factor = FIELD_FACTORS[experience]
    if measured:
        limit = block.number("naked_eye_limit", 2.0, 8.5)
        factor = float(field_factor_from_limit(limit, zenith_sky_mag))
        if not 0.5 <= factor <= 30.0:
            block.fail(
                "naked_eye_limit",
                f"does not go with the first site's sky of {zenith_sky_mag:.1f} mag per square "
                "arcsecond; check both",
            )
    observer = Observer(
        name=block.text("name", default="observer"),
        age_years=age,
        dark_pupil_mm=pupil,
        field_factor=factor,
        field_factor_measured=measured,
        least_exit_pupil_mm=block.length("least_exit_pupil", 0.2, 3.0, default_mm=0.5),
    )
    block.finish()
    return observer
