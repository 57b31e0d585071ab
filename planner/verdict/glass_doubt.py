"""Whether what a mirror test leaves open of the glass matters to a verdict."""

from __future__ import annotations

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


def doubtful_glass(telescope: Telescope) -> tuple[Telescope, ...]:
    """The telescope with its glass as poor and as good as tested, where that is felt; else none."""
    band = strehl_band(telescope)
    if band is None or telescope.as_tested is None or band[1] - band[0] < FELT_STREHL:
        return ()
    return telescope.as_tested
