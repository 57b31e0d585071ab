"""What the observer asks of an evening, beside what is asked of its night."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import datetime as dt

    from planner.eye.observer import Companion
    from planner.night.evening.order_file import FiledOrder
    from planner.night.evening.session import Gap
    from planner.night.request import Request

MOST_CANDIDATES = 300  # the three hundredth is seldom reached; own judgement


@dataclass(frozen=True, slots=True)
class EveningRequest:
    """One evening to put in order.

    ``night`` says which night, telescope and targets. ``must`` are ids that the order has to
    hold, ``done`` and ``skip`` those it must not; ``clouds`` are gaps without sky and ``breaks``
    times without a look. ``companions`` must reach the eyepiece too, ``most`` is the greatest
    number of looks to choose from. ``before`` is an earlier order, of which as much as possible is
    kept; ``here`` is the id of the target now in the eyepiece, empty for none.
    """

    night: Request
    most: int | None = None
    companions: tuple[Companion, ...] = ()
    must: tuple[str, ...] = ()
    done: tuple[str, ...] = ()
    skip: tuple[str, ...] = ()
    clouds: tuple[Gap, ...] = ()
    breaks: tuple[Gap, ...] = ()
    before: FiledOrder | None = None
    here: str = ""

    def from_time(self, begin: dt.datetime) -> EveningRequest:
        """The same for an evening that begins so late: looks of ``before`` that are over are done.

        The last of them is still in the eyepiece.
        """
        if self.before is None:
            return self
        looks = self.before.looks
        past = tuple(look.target_id for look in looks if look.target_id and look.end <= begin)
        rest = tuple(look for look in looks if look.end > begin)
        return replace(
            self,
            before=replace(self.before, looks=rest),
            done=self.done + past,
            here=past[-1] if past else self.here,
        )
