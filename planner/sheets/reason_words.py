"""Why a look stands where it stands in the evening's order, and why another does not, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.night.evening.reasons import Edge, LeftOut, Why
from planner.sheets.clock_words import clock

if TYPE_CHECKING:
    from planner.night.evening.reasons import Reason

WHY_WORDS = {
    Why.WANTED: "you asked for it",
    Why.MOON_DOWN_FROM: "Moon down from {time}",
    Why.HIGHEST: "at its highest",
    Why.SINKING: "sinking, higher now than later",
    Why.HIGHEST_OF_HOURS: "rising, highest of these hours",
    Why.NEXT_DOOR: "near the one before",
    Why.SAME_EYEPIECE: "same eyepiece",
    Why.ANY_TIME: "as good now as at any hour",
    Why.BEST_USE: "fits here best",
}
OVER_WORDS = {
    Edge.CLOUD: "before the clouds at {time}",
    Edge.LIGHT: "too light for it from {time}",
    Edge.EYEPIECE: "eyepiece too high from {time}",
    Edge.STEEP: "too high to point at from {time}",
    Edge.LOW: "too low from {time}",
    Edge.SHOWN: "no longer shows from {time}",
}
OPEN_WORDS = {
    Edge.CLOUD: "after the clouds, from {time}",
    Edge.LIGHT: "dark enough for it from {time}",
    Edge.EYEPIECE: "eyepiece low enough from {time}",
    Edge.STEEP: "low enough to point at from {time}",
    Edge.LOW: "high enough from {time}",
    Edge.SHOWN: "shows from {time}",
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
    return ", ".join(_words(reason).format(time=clock(reason.time)) for reason in reasons)


def _words(reason: Reason) -> str:
    if reason.edge is None:
        return WHY_WORDS[reason.why]
    return (OVER_WORDS if reason.why is Why.SOON_OVER else OPEN_WORDS)[reason.edge]
