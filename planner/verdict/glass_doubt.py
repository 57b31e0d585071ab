"""Whether what a mirror test leaves open of the glass matters to a verdict."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.optics.figure import strehl

if TYPE_CHECKING:
    from planner.optics.telescope import Telescope

FELT_STREHL = 0.02  # a smaller doubt moves the worst seeing by under 0.05"; own judgement


def strehl_band(telescope: Telescope) -> tuple[float, float] | None:
    """Strehl ratio of the glass as poor and as good as its test allows; None without a test."""
    if telescope.as_tested is None:
        return None
    low, high = sorted(strehl(each.figure, each.obstruction_ratio) for each in telescope.as_tested)
    return low, high


@dataclass(frozen=True, slots=True)
class DoubtfulGlass:
    """The telescope with its glass as poor, and as good, as tested; None where that is not felt."""

    poor: Telescope | None
    good: Telescope | None

    @property
    def felt(self) -> tuple[Telescope, ...]:
        """Those that are."""
        return tuple(each for each in (self.poor, self.good) if each is not None)


def doubtful_glass(telescope: Telescope) -> DoubtfulGlass:
    """Which end of a mirror test's band makes a difference from the most likely glass."""
    if telescope.as_tested is None:
        return DoubtfulGlass(None, None)
    hole = telescope.obstruction_ratio
    likely = strehl(telescope.figure, hole)
    poor, good = (
        each if abs(strehl(each.figure, hole) - likely) >= FELT_STREHL else None
        for each in telescope.as_tested
    )
    return DoubtfulGlass(poor, good)
