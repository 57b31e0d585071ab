"""One block of a kit file, read key by key; every error says where, what and the remedy."""

from __future__ import annotations

import difflib
import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NoReturn

from planner.errors import KitError
from planner.kit.lengths import length_mm

if TYPE_CHECKING:
    from collections.abc import Iterable


@dataclass
class Block:
    """The keys of one TOML table. ``place`` names it to the reader: ``[[eyepiece]] 2``."""

    file: str
    place: str
    values: dict[str, Any]
    asked: set[str] = field(default_factory=set)

    def fail(self, key: str, remedy: str) -> NoReturn:
        """Raise the one error form of this layer."""
        given = f" = {self.values[key]!r}" if key in self.values else " is missing"
        raise KitError(f"{self.file}: {self.place}: {key}{given}: {remedy}")

    def has(self, key: str) -> bool:
        """Whether the key is there; also marks it as known."""
        self.asked.add(key)
        return key in self.values

    def one_of(self, *keys: str) -> str | None:
        """Which one of several keys that exclude one another is given."""
        given = [key for key in keys if self.has(key)]
        if len(given) > 1:
            self.fail(given[1], f"give either {' or '.join(keys)}, not both")
        return given[0] if given else None

    def text(self, key: str, default: str | None = None) -> str:
        """A text that is not empty."""
        if not self.has(key):
            if default is None:
                self.fail(key, 'add it as text in quotes, like name = "mine"')
            return default
        value = self.values[key]
        if not isinstance(value, str) or not value.strip():
            self.fail(key, "write text in quotes")
        return value.strip()

    def choice(self, key: str, words: Iterable[str], default: str | None = None) -> str:
        """One of several words."""
        allowed = list(words)
        if not self.has(key) and default is None:
            self.fail(key, f"choose one of {', '.join(allowed)}")
        value = self.text(key, default)
        if value not in allowed:
            near = difflib.get_close_matches(value.lower(), allowed, n=1)
            hint = f"; did you mean {near[0]!r}?" if near else ""
            self.fail(key, f"choose one of {', '.join(allowed)}{hint}")
        return value

    def number(self, key: str, low: float, high: float, default: float | None = None) -> float:
        """A number from ``low`` to ``high``, both allowed."""
        if not self.has(key):
            if default is None:
                self.fail(key, f"add it as a number from {low:g} to {high:g}")
            return default
        value = self.values[key]
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or not math.isfinite(value)
        ):
            self.fail(key, f"write a plain number from {low:g} to {high:g}")
        if not low <= value <= high:
            self.fail(key, f"must lie from {low:g} to {high:g}")
        return float(value)

    def length(
        self, key: str, low_mm: float, high_mm: float, default_mm: float | None = None
    ) -> float:
        """A length with its unit, in millimetres, from ``low_mm`` to ``high_mm``."""
        if not self.has(key):
            if default_mm is None:
                self.fail(key, 'add it as a length with a unit, like "152 mm" or "6 in"')
            return default_mm
        value = self.values[key]
        if not isinstance(value, str):
            self.fail(key, 'lengths carry a unit in quotes, like "152 mm" or "6 in"')
        try:
            millimetres = length_mm(value)
        except ValueError as error:
            self.fail(key, str(error))
        if not low_mm <= millimetres <= high_mm:
            self.fail(key, f"must lie from {low_mm:g} mm to {high_mm:g} mm")
        return millimetres

    def finish(self) -> None:
        """Refuse keys nobody asked for, with the nearest right one."""
        for key in self.values:
            if key not in self.asked:
                near = difflib.get_close_matches(key, sorted(self.asked), n=1, cutoff=0.5)
                hint = f"did you mean {near[0]!r}?" if near else "remove it"
                known = ", ".join(sorted(self.asked))
                self.fail(key, f"no such key here; {hint} (known: {known})")
