"""Days as a reader says them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import datetime as dt

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(day: dt.date) -> str:
    """A date like ``3 Nov 2026``, whatever the system's language."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
