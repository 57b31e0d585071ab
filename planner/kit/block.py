"""One block of a kit file, read key by key; every error says where, what and the remedy."""

from __future__ import annotations

import difflib
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NoReturn

from planner.errors import KitError
from planner.kit.lengths import UNIT_MM, length_mm
from planner.kit.likely import key_meant
from planner.kit.shown import shown, shown_key

if TYPE_CHECKING:
    from collections.abc import Iterable

LONGEST_TEXT = 40  # so that tables stay within the page
_LENGTH_EXAMPLES = {"mm": '"152 mm" or "6 in"', "m": '"870 m" or "2850 ft"'}


@dataclass(frozen=True, slots=True)
class Block:
    """The keys of one TOML table. ``place`` names it to the reader: ``[[eyepiece]] 2``."""

    file: str
    place: str
    values: dict[str, Any]

    def fail(self, key: str, remedy: str) -> NoReturn:
        """Raise the one error form of this layer."""
        given = f" = {shown(self.values[key])}" if key in self.values else " is missing"
        raise KitError(f"{self.file}: {self.place}: {shown_key(key)}{given}: {remedy}")

    def only(self, known: Iterable[str]) -> None:
        """Refuse keys that are not known, with the nearest right one."""
        allowed = sorted(known)
        for key in self.values:
            if key not in allowed:
                near = self._likely(key, allowed)
                hint = f"did you mean {near!r}?" if near else "remove it"
                self.fail(key, f"no such key here; {hint} (known: {', '.join(allowed)})")

    def _likely(self, key: str, allowed: list[str]) -> str | None:
        """The right name of a key: another word for one that is missing, else one spelt alike."""
        missing = [name for name in allowed if name not in self.values]
        return (
            key_meant(key, missing)
            or nearest(key, allowed, cutoff=0.75)
            or key_meant(key, allowed)
            or nearest(key, allowed, cutoff=0.5)
        )

    def has(self, key: str) -> bool:
        """Whether the key is there."""
        return key in self.values

    def one_of(self, *keys: str) -> str | None:
        """Which one of several keys that exclude one another is given."""
        given = [key for key in keys if self.has(key)]
        if len(given) > 1:
            self.fail(given[1], f"give only one of {', '.join(keys)}; {given[0]} is there too")
        return given[0] if given else None

    def text(self, key: str, default: str | None = None, example: str = "mine") -> str:
        """A text of one line that is not empty."""
        if not self.has(key):
            if default is None:
                self.fail(key, f'add it as text in quotes, like {key} = "{example}"')
            return default
        value = self.values[key]
        if not isinstance(value, str) or not value.strip():
            self.fail(key, f'write text in quotes, like {key} = "{example}"')
        value = value.strip()
        if not value.isprintable():
            self.fail(key, "write it on one line, without tabs or other hidden characters")
        if len(value) > LONGEST_TEXT:
            self.fail(key, f"write at most {LONGEST_TEXT} characters")
        return value

    def choice(self, key: str, words: Iterable[str], default: str | None = None) -> str:
        """One of several words, in capitals or not."""
        allowed = {word.casefold(): str(word) for word in words}
        listed = ", ".join(f'"{word}"' for word in allowed.values())
        if not self.has(key):
            if default is None:
                self.fail(key, f"add it as one of {listed}")
            return default
        value = self.values[key]
        if not isinstance(value, str):
            self.fail(key, f"choose one of {listed}")
        if value.strip().casefold() not in allowed:
            near = nearest(value, list(allowed.values()), cutoff=0.6)
            self.fail(
                key, f"choose one of {listed}" + (f"; did you mean {near!r}?" if near else "")
            )
        return allowed[value.strip().casefold()]

    def number(self, key: str, low: float, high: float, default: float | None = None) -> float:
        """A number from ``low`` to ``high``, both allowed."""
        if not self.has(key):
            if default is None:
                self.fail(key, f"add it as a number from {low:g} to {high:g}")
            return default
        value = finite(self.values[key])
        if value is None:
            self.fail(key, f"write a plain number, without quotes, from {low:g} to {high:g}")
        if not low <= value <= high:
            self.fail(key, f"must lie from {low:g} to {high:g}")
        return value

    def length(
        self,
        key: str,
        low_mm: float,
        high_mm: float,
        default_mm: float | None = None,
        unit: str = "mm",
    ) -> float:
        """A length with its unit, in millimetres; ``unit`` (mm or m) is what errors speak in."""
        example = _LENGTH_EXAMPLES[unit]
        if not self.has(key):
            if default_mm is None:
                self.fail(key, f"add it as a length with its unit in quotes, like {example}")
            return default_mm
        value = self.values[key]
        if not isinstance(value, str):
            self.fail(key, f"write a length with its unit in quotes, like {example}")
        try:
            millimetres = length_mm(value)
        except ValueError as error:
            self.fail(key, f"{error}, like {example}")
        if not low_mm <= millimetres <= high_mm:
            scale = UNIT_MM[unit]
            self.fail(key, f"must lie from {low_mm / scale:g} {unit} to {high_mm / scale:g} {unit}")
        return millimetres


def finite(value: Any) -> float | None:
    """A TOML number as a float, or None for anything else, nan and what no float can hold."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None


def nearest(text: str, words: Iterable[str], cutoff: float) -> str | None:
    """The word most like a text, in capitals or not, or None."""
    by_lower = {word.casefold(): word for word in words}
    near = difflib.get_close_matches(text.casefold(), list(by_lower), n=1, cutoff=cutoff)
    return by_lower[near[0]] if near else None
