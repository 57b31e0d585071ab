"""The hours in which the owner usually observes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.ephemeris.clock_hours import comes_before

if TYPE_CHECKING:
    from datetime import time


@dataclass(frozen=True, slots=True)
class Hours:
    """Usual hours of a night, as the site's clock shows them.

    ``begin`` is None for dusk, ``end`` None for dawn; an ``end`` before ``begin`` is after
    midnight.
    """

    begin: time | None = None
    end: time | None = None

    def with_asked(self, begin: time | None, end: time | None) -> Hours:
        """The hours of one night: those asked for, and the usual ones for a side left open.

        A usual side that would leave nothing is open: who asks for hours after the usual end
        stays until dawn.
        """
        usual_begin, usual_end = self.begin, self.end
        if begin is not None and usual_end is not None and not comes_before(begin, usual_end):
            usual_end = None
        if end is not None and usual_begin is not None and not comes_before(usual_begin, end):
            usual_begin = None
        return Hours(usual_begin if begin is None else begin, usual_end if end is None else end)
