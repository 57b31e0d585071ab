"""The night's list as text for a terminal or a pipe, at most 100 columns."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.sheets.night_words import (
    clock,
    compass_point,
    margin_words,
    night_lines,
    power_words,
    what_it_is,
)

if TYPE_CHECKING:
    from planner.night.plan import Plan, PlannedTarget

COLUMNS = 100
HEADERS = ["", "target", "what", "best", "alt", "where", "eyepiece", "tonight", "margin"]
ALIGN = ("right", "left", "left", "left", "right", "left", "left", "left", "left")


def night_text(plan: Plan) -> str:
    """Header, table, and for targets not shown the reasons."""
    header = [
        line
        for text in night_lines(plan)
        for line in textwrap.wrap(text, COLUMNS, subsequent_indent="  ")
    ]
    shown = [target for target in plan.targets if target.shown]
    hidden = [target for target in plan.targets if not target.shown]
    parts = ["\n".join(header)]
    parts.append(_table(shown) if shown else "Nothing is shown tonight under these conditions.")
    if hidden:
        parts.append("Not shown tonight:\n" + "\n".join(_hidden_line(t) for t in hidden))
    parts.append(
        f"{len(shown)} listed of {plan.shown_count} shown; {plan.considered} were considered."
    )
    return "\n\n".join(parts)


def short_name(target: PlannedTarget, width: int = 22) -> str:
    """The name, cut to a width."""
    return textwrap.shorten(target.name, width, placeholder="...")


def _table(targets: list[PlannedTarget]) -> str:
    rows = [
        [
            number,
            short_name(target),
            what_it_is(target),
            clock(target.best_time),
            "-" if target.altitude_deg is None else f"{target.altitude_deg:.0f}°",
            "-" if target.azimuth_deg is None else compass_point(target.azimuth_deg),
            power_words(target),
            target.verdict,
            margin_words(target),
        ]
        for number, target in enumerate(targets, start=1)
    ]
    return str(tabulate(rows, headers=HEADERS, colalign=ALIGN, disable_numparse=True))


def _hidden_line(target: PlannedTarget) -> str:
    return (
        textwrap.shorten(
            f"  {short_name(target, 24):<24} {what_it_is(target):<18} {target.reason}",
            COLUMNS,
            placeholder="...",
            drop_whitespace=False,
        )
        if len(target.reason) > 54
        else (f"  {short_name(target, 24):<24} {what_it_is(target):<18} {target.reason}")
    )
