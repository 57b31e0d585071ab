"""The change of a site's clocks to or from summer time, where it falls into a night."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from zoneinfo import ZoneInfo

_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class ClockChange:
    """Clocks that would show ``old`` are set to ``new``, naive datetimes on the clock's face.

    ``old_name`` and ``new_name`` are the zone's short names of the two times, like CEST and CET.
    """

    old: datetime
    new: datetime
    old_name: str
    new_name: str

    @property
    def back(self) -> bool:
        """Whether the hands go back, so that some clock times come twice."""
        return self.new < self.old


def clock_change(zone: ZoneInfo, start: datetime, end: datetime) -> ClockChange | None:
    """The change of a zone's clocks between two aware datetimes, to the minute, or None.

    Of a change that is undone within the same stretch nothing is told.
    Source: the rules of the IANA time zone database.
    """
    first = start.astimezone(UTC).replace(second=0, microsecond=0)
    low, high = 0, -((first - end.astimezone(UTC)) // _MINUTE)

    def local(minutes: int) -> datetime:
        return (first + minutes * _MINUTE).astimezone(zone)

    old_offset = local(low).utcoffset()
    if local(high).utcoffset() == old_offset:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if local(middle).utcoffset() == old_offset else (low, middle)
    last, new = local(low), local(high)
    return ClockChange(
        old=last.replace(tzinfo=None) + _MINUTE,
        new=new.replace(tzinfo=None, fold=0),
        old_name=last.tzname() or "",
        new_name=new.tzname() or "",
    )


def comes_twice(moment: datetime) -> bool:
    """Whether the clock shows an aware datetime's time twice, as clocks are set back."""
    first, second = (moment.replace(fold=fold).utcoffset() for fold in (0, 1))
    return first is not None and second is not None and first > second
