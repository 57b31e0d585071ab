"""What a kit file may say of one key: a row of the schema."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from planner.kit.lengths import UNIT_KG, UNIT_MM


class Kind(Enum):
    """What stands behind the equals sign."""

    TEXT = "text"
    ZONE = "name of a time zone, in quotes"
    CHOICE = "one of several words"
    NUMBER = "plain number"
    LENGTH = "length with its unit, in quotes"
    MASS = "mass with its unit, in quotes"
    POINTS = "list of [azimuth, altitude]"
    CLOCK = "time of day, in quotes"


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a block.

    ``low`` and ``high`` bound a number (both allowed), a length in millimetres, a mass in
    kilograms, or the altitudes of points in degrees. ``unit`` is what is said of a length (mm, m)
    or a mass (g, kg). ``default`` stands where the key is left out (millimetres for a length,
    kilograms for a mass, a word for a clock time); None with
    ``required`` false means that the reader works it out, as ``default_words`` tell.
    ``instead_of`` is the key that this one excludes and replaces. ``meaning`` is one line for
    docs/formats.md, ``range_words`` its range where the reader narrows it. ``example`` is shown
    to who leaves out a text.
    """

    name: str
    kind: Kind
    meaning: str
    low: float = 0.0
    high: float = 0.0
    unit: str = "mm"
    default: float | str | None = None
    required: bool = False
    choices: tuple[str, ...] = ()
    instead_of: str = ""
    default_words: str = ""
    range_words: str = ""
    example: str = "mine"

    def range_text(self) -> str:
        """The range as docs/formats.md tells it; empty where there is none."""
        if self.range_words or self.kind not in (Kind.NUMBER, Kind.LENGTH, Kind.MASS):
            return self.range_words
        if self.kind is Kind.NUMBER:
            return f"{self.low:g} to {self.high:g}"
        return f"{self.in_unit(self.low)} to {self.in_unit(self.high)}"

    def default_text(self) -> str:
        """The default as docs/formats.md tells it."""
        if self.default_words or self.required:
            return self.default_words or "required"
        if isinstance(self.default, str):
            return f"`{self.default}`"
        if self.default is None:
            return ""
        return f"{self.default:g}" if self.kind is Kind.NUMBER else self.in_unit(self.default)

    def in_unit(self, value: float) -> str:
        """A length in millimetres or a mass in kilograms, in the unit that is said of the key."""
        units = UNIT_KG if self.kind is Kind.MASS else UNIT_MM
        return f"{value / units[self.unit]:g} {self.unit}"


@dataclass(frozen=True, slots=True)
class BlockRule:
    """One kind of block: its name, how often it may stand, a line on it, its keys in order."""

    name: str
    many: bool
    required: bool
    about: str
    keys: tuple[Key, ...]

    @property
    def heading(self) -> str:
        """The name in its brackets."""
        return f"[[{self.name}]]" if self.many else f"[{self.name}]"

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its keys, in order."""
        return tuple(key.name for key in self.keys)

    def key(self, name: str) -> Key:
        """The row of one key."""
        return next(key for key in self.keys if key.name == name)

    def group(self, name: str) -> tuple[str, ...]:
        """The key and those that may stand instead of it."""
        return (name, *(key.name for key in self.keys if key.instead_of == name))
