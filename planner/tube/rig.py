"""What the maker tells of the tube and what carries it: parts, cradle, base."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.tube.balance import Load
    from planner.tube.bearing import Bearing
    from planner.tube.cooling import MirrorGlass
    from planner.tube.standing import Footing


class Role(StrEnum):
    """What a part does: it stays, eyepieces hang in it, or it comes off at times."""

    FIXED = "fixed"
    FOCUSER = "focuser"
    LOOSE = "loose"


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the tube, its weight and its place."""

    name: str
    load: Load
    role: Role = Role.FIXED


@dataclass(frozen=True, slots=True)
class Shell:
    """The tube's own lengths in mm; None where they are not told.

    ``inner_mm`` its inner diameter, ``wall_mm``, ``length_mm`` from the mirror's face to its
    front end, ``focuser_mm`` the height of the focuser racked in, ``spare_mm`` what the focus
    shall lie above that, ``mirror_mm`` the thickness of the mirror's rim.
    """

    inner_mm: float | None = None
    wall_mm: float | None = None
    length_mm: float | None = None
    focuser_mm: float | None = None
    spare_mm: float = 0.0
    mirror_mm: float | None = None
    glass: MirrorGlass | None = None
    open_back: bool = True

    @property
    def outside_mm(self) -> float | None:
        """From the tube's middle out to the focuser's foot, None where not told."""
        if self.inner_mm is None or self.wall_mm is None:
            return None
        return self.inner_mm / 2.0 + self.wall_mm

    @property
    def least_path_mm(self) -> float | None:
        """From the diagonal to the top of the focuser racked in, None where not told."""
        if self.outside_mm is None or self.focuser_mm is None:
            return None
        return self.outside_mm + self.focuser_mm


@dataclass(frozen=True, slots=True)
class Cradle:
    """What the tube lies in: its altitude axis, its bearings.

    ``axis`` is the axis's place on the tube, its mass that of rings and bearings that turn with
    the tube about their own middle. ``assumed`` are the names of keys left at the usual value.
    """

    axis: Load
    bearing: Bearing | None
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Base:
    """What stands on the ground: mass in kg, of it what turns with the tube, feet and bearing."""

    mass_kg: float
    turning_kg: float
    footing: Footing | None
    bearing: Bearing | None


@dataclass(frozen=True, slots=True)
class Rig:
    """All of it. ``telescope`` is the name of the one it carries, None for the kit's first."""

    telescope: str | None = None
    shell: Shell | None = None
    parts: tuple[Part, ...] = ()
    cradle: Cradle | None = None
    base: Base | None = None
