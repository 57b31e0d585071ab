"""The night's list as text for a terminal or a pipe, at most 100 columns."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.sheets.night_words import (
    clock,
    compass_point,
    cut,
    margin_words,
    night_lines,
    power_words,
    what_it_is,
)

if TYPE_CHECKING:
    from planner.night.plan import Plan, PlannedTarget

COLUMNS = 100
LONGEST_NAME = 26
LONGEST_POWER = 16  # with the filter's name
REASON_INDENT = 46  # of the reason why a target is not shown
GAP = "  "  # between columns, as tabulate sets them
NAME = 1  # the column that gives way when the line gets too long
HEADERS = ["", "target", "what", "best", "alt", "in", "power", "tonight", "margin"]
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


def _table(targets: list[PlannedTarget]) -> str:
    rows = [
        [
            f"{number}",
            target.name,
            what_it_is(target),
            clock(target.best_time),
            "-" if target.altitude_deg is None else f"{target.altitude_deg:.0f}°",
            "-" if target.azimuth_deg is None else compass_point(target.azimuth_deg),
            cut(power_words(target), LONGEST_POWER),
            target.verdict.split(",")[0],
            _short_margin(target),
        ]
        for number, target in enumerate(targets, start=1)
    ]
    columns = [list(column) for column in zip(HEADERS, *rows, strict=True)]
    widths = [max(map(len, column)) for column in columns]
    room = COLUMNS - sum(widths) + widths[NAME] - len(GAP) * (len(widths) - 1)
    names = [HEADERS[NAME], *(cut(target.name, min(LONGEST_NAME, room)) for target in targets)]
    columns[NAME] = names
    widths[NAME] = max(map(len, names))
    columns = [
        [cells[0], "-" * width, *cells[1:]] for cells, width in zip(columns, widths, strict=True)
    ]
    text = tabulate(
        list(zip(*columns, strict=True)), tablefmt="plain", colalign=ALIGN, disable_numparse=True
    )
    return "\n".join(line.rstrip() for line in str(text).splitlines())


def _short_margin(target: PlannedTarget) -> str:
    """The margin in one narrow cell: magnitudes in hand, or the worst seeing of a double."""
    double = target.double
    if double is None or double.worst_seeing_arcsec is None:
        return margin_words(target)
    return f'to ≈{double.worst_seeing_arcsec:.1f}"'


def _hidden_line(target: PlannedTarget) -> str:
    line = f"  {cut(target.name, 24):<24} {what_it_is(target):<18} {target.reason}"
    return textwrap.fill(line, COLUMNS, subsequent_indent=" " * REASON_INDENT)
