"""A record as one line of JSON, and back."""

from __future__ import annotations

import datetime as dt
from dataclasses import asdict, fields
from math import isfinite
from typing import TYPE_CHECKING, Any

import orjson

from planner.log.outcome import Companion, Outcome
from planner.log.record import LoggedPair, Promise, Record
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

FORMAT = "planner-log/1"
_NAMES = tuple(entry.name for entry in fields(Record) if entry.name != "others")
_KNOWN = frozenset((*_NAMES, "format"))
_KINDS = {kind.value: kind for kind in Kind}
_OUTCOMES = {outcome.value: outcome for outcome in Outcome}
_COMPANIONS = {companion.value: companion for companion in Companion}


class DamagedLineError(ValueError):
    """A line that is no record; the message says why, in a few words."""


def line_of(record: Record) -> bytes:
    """The record as one line of UTF-8 JSON with its newline; nothing that is empty is written."""
    values = asdict(record)
    others = values.pop("others")
    known = {
        name: value
        for name, value in values.items()
        if value is not None and value != "" and value is not False
    }
    return orjson.dumps({"format": FORMAT, **known, **others}, option=orjson.OPT_APPEND_NEWLINE)


def record_of(line: bytes) -> Record:
    """The record of one line.

    Raises:
        DamagedLineError: it is not one.
    """
    try:
        found = orjson.loads(line)
    except ValueError:
        raise DamagedLineError("no whole line of JSON") from None
    if not isinstance(found, dict):
        raise DamagedLineError("no JSON object")
    if found.get("format") != FORMAT:
        raise DamagedLineError(f"its format is {found.get('format')!r}, not {FORMAT!r}")
    return _record(found)


def _record(found: dict[str, Any]) -> Record:
    values: dict[str, Any] = {}
    strange = found.keys() - _KNOWN
    if strange:
        values["others"] = {name: found[name] for name in found if name in strange}
    for name, value in found.items():
        if value is None or name not in _READERS:
            continue
        try:
            values[name] = _READERS[name](value)
        except (ValueError, TypeError, KeyError, OverflowError):
            raise DamagedLineError(f"{name} {_short(value)} cannot be read") from None
    for name in _REQUIRED:
        if name not in values:
            raise DamagedLineError(f"it has no {name}")
    return Record(**values)


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 40 else f"{text[:37]}..."


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _number(value: Any) -> float:
    if type(value) is float and isfinite(value):  # the common case first: a log may be long
        return value
    if isinstance(value, bool) or not isinstance(value, int):
        raise TypeError
    return float(value)


def _flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise TypeError
    return value


def _moment(value: Any) -> dt.datetime:
    moment = dt.datetime.fromisoformat(value)
    if moment.utcoffset() is None:
        raise ValueError
    return moment


def _optional(read: Callable[[Any], float], value: Any) -> float | None:
    return None if value is None else read(value)


def _pair(value: Mapping[str, Any]) -> LoggedPair:
    return LoggedPair(
        id=_text(value["id"]),
        components=_text(value["components"]),
        separation_arcsec=_number(value["separation_arcsec"]),
        position_angle_deg=_optional(_number, value.get("position_angle_deg")),
        v1=_number(value["v1"]),
        v2=_number(value["v2"]),
    )


def _promise(value: Mapping[str, Any]) -> Promise:
    outcome, worst = value.get("outcome"), value.get("worst_seeing_arcsec")
    seeing: tuple[float, float, float, float] | None = None
    if worst is not None:
        elongated, notched, just, clean = map(_number, worst)
        seeing = (elongated, notched, just, clean)
    return Promise(
        outcome=None if outcome is None else _OUTCOMES[outcome],
        worst_seeing_arcsec=seeing,
        margin_mag=_optional(_number, value.get("margin_mag")),
        seeing_arcsec=_number(value["seeing_arcsec"]),
        sky_mag=_number(value["sky_mag"]),
        settings={name: _number(number) for name, number in value["settings"].items()},
        model=_text(value["model"]),
    )


_REQUIRED = ("id", "written", "at", "night", "target", "name", "kind")
_READERS: dict[str, Callable[[Any], Any]] = {
    "id": _text, "written": _moment, "at": _moment, "night": dt.date.fromisoformat,
    "target": _text, "name": _text, "kind": _KINDS.__getitem__,
    "site": _text, "telescope": _text, "observer": _text, "eyepiece": _text,
    "magnification": _number, "clear_aperture_mm": _number, "airmass": _number,
    "outcome": _OUTCOMES.__getitem__, "companion": _COMPANIONS.__getitem__,
    "companion_clock": _number, "seeing_arcsec": _number, "transparency": _text,
    "sky_mag": _number, "pair": _pair, "said": _promise, "note": _text, "replaces": _text,
    "withdraws": _flag, "batch": _text, "origin": _text,
}  # fmt: skip
