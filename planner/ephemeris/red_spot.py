"""Jupiter's Red Spot: where the observer last read it, and when it passes the middle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import datetime as dt

_MONTH_DAYS = 30.4375


@dataclass(frozen=True, slots=True)
class RedSpot:
    """The spot's longitude in System II on a date, degrees, and its drift in degrees a month.

    It wanders by some ten or twenty degrees a year, so an old reading is soon worth little: each
    degree is 1.7 minutes.
    """

    longitude_deg: float
    date: dt.date
    drift_deg_per_month: float = 0.0

    def longitude_at(self, date: dt.date) -> float:
        """The longitude on another date, 0..360."""
        months = (date - self.date).days / _MONTH_DAYS
        return (self.longitude_deg + self.drift_deg_per_month * months) % 360.0
