"""Eyepieces, Barlows, filters and finders as their owner describes them."""

from __future__ import annotations

from dataclasses import dataclass

BARREL_SLACK_MM = 0.5  # 32 mm is said for 31.75; common practice, no source


def goes_into(barrel_mm: float, holder_mm: float) -> bool:
    """Whether a barrel goes into a focuser or a Barlow, a reducing ring included."""
    return barrel_mm <= holder_mm + BARREL_SLACK_MM


@dataclass(frozen=True, slots=True)
class Eyepiece:
    """One eyepiece. ``field_stop_mm`` and ``mass_kg`` are None where they are not told."""

    name: str
    focal_length_mm: float
    apparent_field_deg: float
    field_stop_mm: float | None = None
    barrel_mm: float = 31.75
    mass_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Barlow:
    """A negative lens that multiplies the focal length by ``factor`` (above 1).

    ``barrel_mm`` is the barrel of the eyepieces it takes, and its own; ``mass_kg`` None where it
    is not told.
    """

    name: str
    factor: float
    barrel_mm: float = 31.75
    mass_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Filter:
    """A filter: the lines it passes, its bandwidth in nm and its peak transmission, 0..1."""

    name: str
    passes: str
    bandwidth_nm: float
    transmission: float


@dataclass(frozen=True, slots=True)
class Finder:
    """A finder: power, true field in degrees, and how its image stands.

    ``image`` is one of ``upright``, ``inverted`` (turned by 180 degrees), ``mirrored``;
    ``aperture_mm`` is its objective, None where it is not known or there is none.
    """

    name: str
    magnification: float
    true_field_deg: float
    image: str
    aperture_mm: float | None = None
