"""The night's list as text for a terminal or a pipe, at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.angles import compass_point
from planner.night.plan import BodyDetail
from planner.sheets.feature_words import shown_words
from planner.sheets.listing import Order, listing
from planner.sheets.night_words import (
    EVEN_NOTE,
    LEGEND,
    MARGIN_NOTE,
    TIME_NOTE,
    class_seeing_words,
    cut,
    margin_words,
    name_within,
    night_lines,
    nothing_words,
    power_words,
    what_it_is,
    when_words,
)
from planner.sheets.page_text import PAGE_COLUMNS, wrapped
from planner.sheets.seen_words import MARK, seen_how_words
from planner.sheets.verdict_words import reason_words, verdict_words

if TYPE_CHECKING:
    from planner.night.plan import Plan, PlannedTarget

LONGEST_NAME = 26
LONGEST_POWER = 10  # with the filter's name
LONGEST_VERDICT = 15
REASON_INDENT = 50  # of the reason why a target is not shown
AMPLE_MAG = 5.0  # no one counts beyond; own judgement
GAP = "  "  # between columns, as tabulate sets them
HARD_SPACE = "\u00a0"  # at which no line is broken
NAME = 1  # the column that gives way when the line gets too long
HEADERS = ["", "target", "con", "what", "when", "where", "power", "tonight", "margin"]
ALIGN = ("right", "left", "left", "left", "left", "left", "left", "left", "left")


def night_text(plan: Plan, order: Order = Order.WORTH) -> str:
    """Header, table, eyepieces, and for targets not shown the reasons; ranks by worth."""
    entries = listing(plan, order)
    shown = [(rank, target) for rank, target in entries if target.shown]
    hidden = [target for _, target in entries if not target.shown]
    parts = ["\n".join(wrapped(line) for line in night_lines(plan))]
    if shown:
        notes = [_eyepiece_note([target for _, target in shown]), MARGIN_NOTE, *LEGEND]
        notes += [EVEN_NOTE] if any(target.even_start for _, target in shown) else []
        notes += [TIME_NOTE] if order is Order.TIME else []
        features = _feature_lines([target for _, target in shown])
        parts += [
            _table(shown),
            *_seen_block(shown),
            *features,
            "\n".join(map(wrapped, notes)).replace(HARD_SPACE, " "),
        ]
    else:
        parts.append(nothing_words(plan))
    if hidden:
        parts.append("Not shown tonight:\n" + "\n".join(_hidden_line(t) for t in hidden))
    parts.append(wrapped(_count_words(plan, len(shown), len(hidden)), 0))
    return "\n\n".join(parts)


def _feature_lines(targets: list[PlannedTarget]) -> list[str]:
    """What the planets of the list show, a line each, in one block; none without planets."""
    lines = []
    for target in targets:
        detail = target.detail
        words = shown_words(detail.features) if isinstance(detail, BodyDetail) else ""
        if words:
            lines.append(wrapped(f"{target.name} shows {words}"))
    return ["\n".join(lines)] if lines else []


def _no_mark(entries: list[tuple[int, PlannedTarget]]) -> str:
    """What stands for the mark beside unmarked ranks, so that the numbers stay in line."""
    return " " * len(MARK) if any(target.seen for _, target in entries) else ""


def _seen_block(entries: list[tuple[int, PlannedTarget]]) -> list[str]:
    """What of the list the log has already and how it looked, in one block; none for nothing."""
    marks = [
        f"{rank} {seen_how_words(target.seen)}".replace(" ", HARD_SPACE)
        for rank, target in entries
        if target.seen is not None
    ]
    line = f"{MARK} by your log: {', '.join(marks)}"
    return [wrapped(line).replace(HARD_SPACE, " ")] if marks else []


def _count_words(plan: Plan, shown: int, hidden: int) -> str:
    """How much of what there is stands in the list, and how to get the rest."""
    words = f"{shown} listed of {plan.shown_count} shown"
    cut_off = shown < plan.shown_count
    if hidden:
        words += f", {hidden} of {plan.hidden_count} not shown"
        cut_off = cut_off or hidden < plan.hidden_count
    more = " More: --limit N, or --format csv for every one." if hidden and cut_off else ""
    return f"{words}.{more} Looked at: {plan.considered}, each pair of a multiple star counted."


def _table(entries: list[tuple[int, PlannedTarget]]) -> str:
    rows = [
        [
            f"{rank}{MARK if target.seen else _no_mark(entries)}",
            target.name,
            target.constellation,
            what_it_is(target),
            when_words(target),
            _where(target),
            cut(power_words(target), LONGEST_POWER),
            _short_verdict(verdict_words(target)),
            _short_margin(target),
        ]
        for rank, target in entries
    ]
    columns = [list(column) for column in zip(HEADERS, *rows, strict=True)]
    widths = [max(map(len, column)) for column in columns]
    room = PAGE_COLUMNS - sum(widths) + widths[NAME] - len(GAP) * (len(widths) - 1)
    names = (name_within(target, min(LONGEST_NAME, room)) for _, target in entries)
    columns[NAME] = [HEADERS[NAME], *names]
    widths[NAME] = max(map(len, columns[NAME]))
    columns = [
        [cells[0], "-" * width, *cells[1:]] for cells, width in zip(columns, widths, strict=True)
    ]
    text = tabulate(
        list(zip(*columns, strict=True)), tablefmt="plain", colalign=ALIGN, disable_numparse=True
    )
    return "\n".join(line.rstrip() for line in str(text).splitlines())


def _where(target: PlannedTarget) -> str:
    """Height and direction, the degrees of one and two digits below each other."""
    if target.altitude_deg is None or target.azimuth_deg is None:
        return "-"
    return f"{target.altitude_deg:2.0f}° {compass_point(target.azimuth_deg)}"


def _short_verdict(verdict: str) -> str:
    """The first words of a verdict; that it is the companion's goes without saying here."""
    if verdict.startswith("stars "):
        return "stars only"
    words = verdict.split(",")[0].removeprefix("companion ").removeprefix("seen ")
    words = words.removesuffix(" steadily")
    return cut(words.removesuffix(" split") if words != "not split" else words, LONGEST_VERDICT)


def _eyepiece_note(targets: list[PlannedTarget]) -> str:
    """Which eyepiece gives each power of the table, the lowest power first."""
    views = {target.view for target in targets if target.view and target.view.eyepiece}
    names: dict[str, list[str]] = {}
    for view in sorted(views, key=lambda v: (v.magnification, v.name)):
        names.setdefault(f"{view.magnification:.0f}x", []).append(view.name)
    entries = (f"{power} = {' or '.join(same)}" for power, same in names.items())
    return "Eyepieces: " + ", ".join(entry.replace(" ", HARD_SPACE) for entry in entries)


def _short_margin(target: PlannedTarget) -> str:
    """The margin in one narrow cell: magnitudes in hand, or the worst seeing of a double."""
    if target.double is None:
        if target.margin is not None and target.margin >= AMPLE_MAG:
            return "ample"
        return margin_words(target)
    return class_seeing_words(target.double) or "-"


def _hidden_line(target: PlannedTarget) -> str:
    line = (
        f"  {name_within(target, 24):<24} {target.constellation:<3} {what_it_is(target):<18} "
        f"{reason_words(target)}"
    )
    return wrapped(line, REASON_INDENT)
