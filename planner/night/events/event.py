"""One event of the sky, as this site sees it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime

    from planner.optics.view import View


class EventKind(StrEnum):
    """What happens."""

    LUNAR_ECLIPSE = "lunar eclipse"
    OCCULTATION = "occultation"
    CONJUNCTION = "conjunction"
    BY_THE_MOON = "by the Moon"
    DOUBLE_SHADOW = "double shadow"
    ALGOL = "minimum of Algol"
    OPPOSITION = "opposition"
    ELONGATION = "greatest elongation"


@dataclass(frozen=True, slots=True)
class Contact:
    """One step of an event: its time, how high the body stands, and whether the site sees it."""

    name: str
    time: datetime
    altitude_deg: float
    seen: bool


@dataclass(frozen=True, slots=True)
class Event:
    """One event: ``time`` is its middle, ``best_time`` when this site sees most of it.

    ``start`` and ``end`` where it has them. ``bodies`` are its names. ``separation_deg`` is that at
    the best time, else in the middle; ``altitude_deg`` and ``azimuth_deg`` of the first body belong
    to the best time. ``seen`` tells whether the site sees any of it: bodies above its horizon with
    the Sun safely down; an opposition or elongation is always told. ``view`` holds all of it in
    one field. ``magnitude`` is an eclipse's in the umbra. ``good_to_min`` is how far the times may
    be out.
    """

    kind: EventKind
    bodies: tuple[str, ...]
    time: datetime
    seen: bool
    start: datetime | None = None
    end: datetime | None = None
    best_time: datetime | None = None
    separation_deg: float | None = None
    altitude_deg: float | None = None
    azimuth_deg: float | None = None
    magnitude: float | None = None
    view: View | None = None
    good_to_min: float | None = None
    contacts: tuple[Contact, ...] = ()

    @property
    def when(self) -> datetime:
        """The time to be at the telescope."""
        return self.best_time or self.time
