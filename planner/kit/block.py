"""One block of a kit file, read key by key; every error says where, what and the remedy."""

from __future__ import annotations

import datetime as dt
import math
import zoneinfo
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, NoReturn

from planner.errors import KitError
from planner.kit.lengths import length_mm, mass_kg
from planner.kit.likely import key_meant, zones_meant
from planner.kit.rule import Kind
from planner.kit.shown import shown, shown_key
from planner.targets.spelling import most_like

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from planner.kit.rule import BlockRule, Key

LONGEST_TEXT = 40  # so that tables stay within the page
_EXAMPLES = {
    "mm": '"152 mm" or "6 in"', "m": '"870 m" or "2850 ft"',
    "g": '"250 g" or "9 oz"', "kg": '"1.8 kg" or "4 lb"',
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Block:
    """The keys of one TOML table and their schema.

    ``place`` names it to the reader: ``[[eyepiece]] 2``.
    """

    file: str
    place: str
    values: dict[str, Any]
    rule: BlockRule

    def fail(self, key: str, remedy: str) -> NoReturn:
        """Raise the one error form of this layer."""
        raise KitError(self.fault(key, remedy))

    def fault(self, key: str, remedy: str) -> str:
        """The one error form: file, block, key, value and remedy."""
        given = f" = {shown(self.values[key])}" if key in self.values else " is missing"
        return f"{self.file}: {self.place}: {shown_key(key)}{given}: {remedy}"

    def faults(self) -> Iterator[tuple[str, str]]:
        """Every fault that one key has by itself: the key's right name and the message.

        Unknown keys come first, then those of the schema in order.
        """
        meant: set[str | None] = set()
        for key in self.values:
            if key not in self.rule.names:
                meant.add(self._likely(key))
                yield key, self._unknown(key)
        for row in self.rule.keys:
            if row.name in meant or not (row.required or self.has(row.name)):
                continue
            try:
                self._read(row)
            except KitError as error:
                yield row.name, str(error)
        yield from self._doubled()

    def _doubled(self) -> Iterator[tuple[str, str]]:
        """The faults of keys given beside one that they stand instead of."""
        for first in dict.fromkeys(row.instead_of for row in self.rule.keys if row.instead_of):
            try:
                self.one_of(first)
            except KitError as error:
                yield first, str(error)

    def _read(self, row: Key) -> None:
        """Read one key as its kind, for the error only."""
        if row.kind is Kind.LENGTH and finite(self.values.get(row.name)) == row.low == 0.0:
            return  # a bare 0 needs no unit where nothing is allowed
        readers: dict[Kind, Callable[[str], object]] = {
            Kind.TEXT: self.text, Kind.ZONE: self.zone, Kind.CHOICE: self.choice,
            Kind.NUMBER: self.number, Kind.LENGTH: self.length, Kind.MASS: self.mass,
            Kind.POINTS: self.points, Kind.CLOCK: self.clock,
        }  # fmt: skip
        readers[row.kind](row.name)

    def only_known(self) -> None:
        """Refuse keys that the schema does not have, with the nearest right one."""
        for key in self.values:
            if key not in self.rule.names:
                raise KitError(self._unknown(key))

    def _unknown(self, key: str) -> str:
        near = self._likely(key)
        hint = f"did you mean {near!r}?" if near else "remove it"
        return self.fault(
            key, f"no such key here; {hint} (known: {', '.join(sorted(self.rule.names))})"
        )

    def _likely(self, key: str) -> str | None:
        """The right name of a key: another word for one that is missing, else one spelt alike."""
        allowed = sorted(self.rule.names)
        missing = [name for name in allowed if name not in self.values]
        return (
            key_meant(key, missing)
            or most_like(key, allowed, cutoff=0.75)
            or key_meant(key, allowed)
            or most_like(key, allowed, cutoff=0.5)
        )

    def has(self, key: str) -> bool:
        """Whether the key is there."""
        return key in self.values

    def one_of(self, first: str) -> str | None:
        """Which one is given of a key and those that the schema lets stand instead of it."""
        keys = self.rule.group(first)
        given = [key for key in keys if self.has(key)]
        if len(given) > 1:
            self.fail(given[1], f"give only one of {', '.join(keys)}; {given[0]} is there too")
        return given[0] if given else None

    def text(self, key: str) -> str:
        """A text of one line that is not empty."""
        row = self.rule.key(key)
        if not self.has(key):
            if row.default is None:
                self.fail(key, f'add it as text in quotes, like {key} = "{row.example}"')
            return str(row.default)
        value = self.values[key]
        if not isinstance(value, str) or not value.strip():
            self.fail(key, f'write text in quotes, like {key} = "{row.example}"')
        value = value.strip()
        if not value.isprintable():
            self.fail(key, "write it on one line, without tabs or other hidden characters")
        if len(value) > LONGEST_TEXT:
            self.fail(key, f"write at most {LONGEST_TEXT} characters")
        return value

    def zone(self, key: str) -> str:
        """The name of a time zone of the IANA database."""
        name = self.text(key)
        try:
            zoneinfo.ZoneInfo(name)
        except (zoneinfo.ZoneInfoNotFoundError, ValueError, OSError):
            near = " or ".join(repr(zone) for zone in zones_meant(name))
            hint = f"; did you mean {near}?" if near else ""
            self.fail(key, f'write an IANA zone like "Europe/Berlin"{hint}')
        return name

    def choice(self, key: str) -> str:
        """One of the schema's words, in capitals or not."""
        row = self.rule.key(key)
        allowed = {word.casefold(): word for word in row.choices}
        listed = ", ".join(f'"{word}"' for word in allowed.values())
        if not self.has(key):
            if row.default is None:
                self.fail(key, f"add it as one of {listed}")
            return str(row.default)
        value = self.values[key]
        if not isinstance(value, str):
            self.fail(key, f"choose one of {listed}")
        if value.strip().casefold() not in allowed:
            near = most_like(value, list(allowed.values()), cutoff=0.6)
            self.fail(
                key, f"choose one of {listed}" + (f"; did you mean {near!r}?" if near else "")
            )
        return allowed[value.strip().casefold()]

    def number(self, key: str, default: float | None = None) -> float:
        """A number of the schema's range; ``default`` where the schema leaves it to the reader."""
        row = self.rule.key(key)
        low, high = row.low, row.high
        if not self.has(key):
            usual = row.default if default is None else default
            if usual is None:
                self.fail(key, f"add it as a number from {low:g} to {high:g}")
            return float(usual)
        value = finite(self.values[key])
        if value is None:
            self.fail(key, f"write a plain number, without quotes, from {low:g} to {high:g}")
        if not low <= value <= high:
            self.fail(key, f"must lie from {low:g} to {high:g}")
        return value

    def length(self, key: str, default_mm: float | None = None, high_mm: float = math.inf) -> float:
        """A length of the schema's range, in millimetres; ``high_mm`` may narrow that range."""
        row = self.rule.key(key)
        return self._measure(replace(row, high=min(row.high, high_mm)), length_mm, default_mm)

    def mass(self, key: str) -> float:
        """A mass of the schema's range, in kilograms."""
        return self._measure(self.rule.key(key), mass_kg, None)

    def _measure(self, row: Key, read: Callable[[str], float], default: float | None) -> float:
        """A number with its unit, of the row's range."""
        key, noun, example = row.name, row.kind.name.lower(), _EXAMPLES[row.unit]
        if not self.has(key):
            usual = row.default if default is None else default
            if usual is None:
                self.fail(key, f"add it as a {noun} with its unit in quotes, like {example}")
            return float(usual)
        value = self.values[key]
        if not isinstance(value, str):
            self.fail(key, f"write a {noun} with its unit in quotes, like {example}")
        try:
            measured = read(value)
        except ValueError as error:
            self.fail(key, f"{error}, like {example}")
        if not row.low <= measured <= row.high:
            self.fail(key, f"must lie from {row.in_unit(row.low)} to {row.in_unit(row.high)}")
        return measured

    def clock(self, key: str) -> dt.time | None:
        """A clock time, or None for the schema's word (dusk, dawn)."""
        word = str(self.rule.key(key).default)
        value = self.values.get(key, word)
        if isinstance(value, str):
            if value.strip().casefold() == word:
                return None
            with suppress(ValueError):
                return dt.datetime.strptime(value.strip(), "%H:%M").time()
        return self.fail(key, f'write "{word}" or a clock time in quotes, like "21:30"')

    def points(self, key: str) -> tuple[tuple[float, float], ...]:
        """Points of (azimuth, altitude), degrees; none where the key is left out."""
        if not self.has(key):
            return ()
        row = self.rule.key(key)
        form = (
            "write points as [[azimuth, altitude], ...], azimuth 0 to 360, "
            f"altitude {row.low:g} to {row.high:g}"
        )
        given = self.values[key]
        if not isinstance(given, list):
            self.fail(key, form)
        return tuple(self._point(row, point, form) for point in given)

    def _point(self, row: Key, point: Any, form: str) -> tuple[float, float]:
        pair = [finite(value) for value in point] if isinstance(point, list) else []
        if len(pair) == 2:
            azimuth, altitude = pair
            if azimuth is not None and altitude is not None:  # noqa: SIM102 - for the type checker
                if 0.0 <= azimuth <= 360.0 and row.low <= altitude <= row.high:
                    return azimuth, altitude
        return self.fail(row.name, f"{shown(point)} is no point; {form}")


def finite(value: Any) -> float | None:
    """A TOML number as a float, or None for anything else, nan and what no float can hold."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None
