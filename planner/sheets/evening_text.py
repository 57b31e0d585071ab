"""The evening's order as text for a terminal or a pipe, at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.angles import compass_point
from planner.sheets.clock_words import clock
from planner.sheets.hop_words import CLOCK_NOTE, hop_words
from planner.sheets.night_words import (
    LEGEND,
    cut,
    name_within,
    night_lines,
    power_words,
    what_it_is,
)
from planner.sheets.page_text import wrapped
from planner.sheets.reason_words import LEFT_OUT_WORDS, why_words
from planner.sheets.seen_words import seen_words
from planner.sheets.verdict_words import verdict_words

if TYPE_CHECKING:
    from planner.night.evening.evening import Evening, Look

LONGEST_NAME = 24
LONGEST_POWER = 12
LONGEST_VERDICT = 18
LEFT_OUT_NAMED = 8
INDENT = 7  # of what is told below a line: as far as the target's name
HEADERS = ["from", "target", "con", "what", "where", "power", "expect"]


def evening_text(evening: Evening) -> str:
    """Header, the looks in their order with reasons and hops, and what is left out."""
    parts = ["\n".join(wrapped(line) for line in night_lines(evening.plan))]
    parts.append(wrapped(score_words(evening), 0))
    if evening.unmet:
        parts.append("\n".join(wrapped(line, 2) for line in unmet_lines(evening)))
    if evening.looks:
        parts += [_lines(evening.looks), "\n".join(map(wrapped, (LEGEND[1], CLOCK_NOTE)))]
    if evening.left_out:
        parts.append(_left_out(evening))
    return "\n\n".join(parts)


def score_words(evening: Evening) -> str:
    """How good the order is, in a sentence."""
    looks = sum(look.target is not None for look in evening.looks)
    if not looks:
        return "Nothing can be put in order: nothing is shown long enough for a look."
    share = evening.score / evening.bound if evening.bound > 0.0 else 1.0
    return (
        f"{looks} looks, {evening.score:.0f} points of worth less costs: this order holds at least "
        f"{int(100 * share)} % of what any could; {evening.idle_minutes} minutes are free."
    )


def unmet_lines(evening: Evening) -> list[str]:
    """What the observer wants and cannot have, each with its reason."""
    return [
        f"You asked for {item.name}, but it is not in the order: {LEFT_OUT_WORDS[item.why]}."
        for item in evening.unmet
    ]


def _lines(looks: tuple[Look, ...]) -> str:
    """The table, with reasons and hop under each line."""
    table = str(
        tabulate([_row(look) for look in looks], HEADERS, tablefmt="plain", disable_numparse=True)
    ).splitlines()
    lines = [table[0].rstrip()]
    for row, look in zip(table[1:], looks, strict=True):
        lines.append(row.rstrip())
        if look.target is not None:
            lines += [wrapped(" " * INDENT + part, INDENT) for part in below(look)]
    return "\n".join(lines)


def below(look: Look) -> list[str]:
    """What is told under the line of a look: why it stands there, and the way to it."""
    words = [why_words(look.why)]
    if look.eyepiece_height_m is not None:
        words.append(f"eyepiece at {look.eyepiece_height_m:.2f} m")
    if look.target is not None and look.target.seen is not None:
        words.append(seen_words(look.target.seen))
    parts = ["; ".join(words)]
    if look.hop is not None:
        parts += hop_words(look.hop)
    return parts


def _row(look: Look) -> list[str]:
    target = look.target
    if target is None:
        return [clock(look.start), "a break", "", f"until {clock(look.end)}", "", "", ""]
    assert target.altitude_deg is not None and target.azimuth_deg is not None
    return [
        clock(look.start),
        name_within(target, LONGEST_NAME),
        target.constellation,
        what_it_is(target),
        f"{target.altitude_deg:2.0f}° {compass_point(target.azimuth_deg)}",
        cut(power_words(target), LONGEST_POWER),
        cut(verdict_words(target), LONGEST_VERDICT),
    ]


def _left_out(evening: Evening) -> str:
    lines = ["Left out, the worthiest first:"]
    for item in evening.left_out[:LEFT_OUT_NAMED]:
        lines.append(
            f"  {cut(item.name, LONGEST_NAME):<{LONGEST_NAME}}  {LEFT_OUT_WORDS[item.why]}"
        )
    more = len(evening.left_out) - LEFT_OUT_NAMED
    if more > 0:
        lines.append(f"  and {more} more (--format json has them all)")
    return "\n".join(lines)
