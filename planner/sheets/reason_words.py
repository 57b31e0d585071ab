"""Why a look stands where it stands in the evening's order, and why another does not, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.night.evening.reasons import LeftOut, Why
from planner.sheets.clock_words import clock

if TYPE_CHECKING:
    from planner.night.evening.reasons import Reason

WHY_WORDS = {
    Why.WANTED: "you asked for it",
    Why.GOES_AT: "goes at {time}",
    Why.LIGHT_FROM: "too light for it from {time}",
    Why.REACHED_FROM: "within reach from {time}",
    Why.DARK_FROM: "dark enough for it from {time}",
    Why.MOON_DOWN_FROM: "Moon down from {time}",
    Why.HIGHEST: "at its highest",
    Why.NEXT_DOOR: "near the one before",
    Why.SAME_EYEPIECE: "same eyepiece",
    Why.BEST_USE: "fits here best",
}
LEFT_OUT_WORDS = {
    LeftOut.NO_ROOM: "no room: others are worth more, or lie better on the way",
    LeftOut.TOO_SHORT: "never long enough within reach in these hours for a look",
    LeftOut.CLOUDED: "only under the clouds you named",
    LeftOut.OUT_OF_REACH: "the eyepiece stands too high for somebody whenever it shows",
    LeftOut.DONE: "done",
    LeftOut.SKIPPED: "left out by you",
    LeftOut.NOT_SHOWN: "not shown tonight: planner target tells why",
    LeftOut.CROSSED: "does not fit beside the others you asked for",
    LeftOut.NO_TIME: "does not fit into these hours",
}


def why_words(reasons: tuple[Reason, ...]) -> str:
    """The reasons of one look."""
    return ", ".join(WHY_WORDS[r.why].format(time=clock(r.time)) for r in reasons)
