"""The night's list on paper: black on white, a box to tick and room for a note."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.files import write_whole
from planner.sheets.clock_words import clock, span
from planner.sheets.listing import Order, listing
from planner.sheets.night_words import (
    LEGEND,
    MARGIN_NOTE,
    SPAN_NOTE,
    TIME_NOTE,
    compass_point,
    cut,
    eyepiece_words,
    margin_words,
    night_lines,
    nothing_words,
    position,
    short_name,
    what_it_is,
    when_words,
)
from planner.sheets.page_text import wrapped
from planner.sheets.verdict_words import verdict_words

if TYPE_CHECKING:
    from pathlib import Path

    from matplotlib.figure import Figure

    from planner.night.plan import Plan, PlannedTarget

POINTS_PER_INCH = 72.0
MARGIN_PT = 42.0
ROW_PT = 58.0
FOOT_PT = 30.0
SECOND_PT = 208.0  # where the columns of a target begin, from the first
THIRD_PT = 327.0
GUTTER_PT = 6.0  # left free between columns
NAME_SIZES = (10.5, 9.5, 8.5)  # a long name is set smaller before it is cut
HEADER_COLUMNS = 108
CAUTION_COLUMNS = 125
TITLE_PT = 780.0  # size times characters that fill the width
CAUTION = (
    "Never point the telescope or a finder at or near the Sun. Mind dark, uneven ground and heavy "
    "parts; keep lasers away from aircraft and people, and follow your local rules."
)


@dataclass(frozen=True, slots=True)
class Page:
    """A page size in points."""

    width_pt: float
    height_pt: float


PAGES = {"a4": Page(595.28, 841.89), "letter": Page(612.0, 792.0)}


def write_paper(plan: Plan, path: Path, page_name: str = "a4", order: Order = Order.WORTH) -> int:
    """Write the plan as a PDF file and return its number of pages.

    ``page_name`` is ``a4`` or ``letter``. The file appears whole or not at all.
    """
    import io

    from matplotlib.backends.backend_pdf import PdfPages

    figures = draw_pages(plan, PAGES[page_name], order)
    buffer = io.BytesIO()
    with PdfPages(buffer, metadata={"Title": f"Observing list {plan.night.date}"}) as pdf:
        for figure in figures:
            pdf.savefig(figure)
    write_whole(path, buffer.getvalue())
    return len(figures)


def draw_pages(plan: Plan, page: Page, order: Order = Order.WORTH) -> list[Figure]:
    """Every page as a figure; the numbers are the ranks by worth."""
    notes = [f"{MARGIN_NOTE} {SPAN_NOTE}", " ".join(LEGEND)]
    notes += [TIME_NOTE] if order is Order.TIME else []
    header = [
        line
        for text in [*night_lines(plan), *(notes if plan.shown_count else ())]
        for line in wrapped(text, 3, width=HEADER_COLUMNS).splitlines()
    ]
    targets = [entry for entry in listing(plan, order) if entry[1].shown]
    first_top = page.height_pt - MARGIN_PT - 20.0 - 12.5 * len(header)
    first = max(1, int((first_top - MARGIN_PT - FOOT_PT) // ROW_PT))
    other = int((page.height_pt - 2 * MARGIN_PT - FOOT_PT - 14.0) // ROW_PT)
    groups = [targets[:first]]
    groups += [targets[i : i + other] for i in range(first, len(targets), other)]
    figures = []
    for index, group in enumerate(groups):
        sheet = _Sheet(page)
        top = sheet.header(header) if index == 0 else page.height_pt - MARGIN_PT - 14.0
        for number, target in group:
            sheet.target(target, number, top)
            top -= ROW_PT
        if not targets:
            sheet.text(MARGIN_PT, top - 20, nothing_words(plan), 11)
        sheet.foot(f"{plan.night.date} {plan.site.name}", index + 1, len(groups))
        figures.append(sheet.figure)
    return figures


def _fitted(
    words: str, width_pt: float, sizes: tuple[float, ...], weight: str = "normal"
) -> tuple[str, float]:
    """The words and the largest size at which they fit a column; cut where even the least fails."""
    for size in sizes:
        if _width_pt(words, size, weight) <= width_pt - GUTTER_PT:
            return words, size
    length = len(words)
    while length > 1 and _width_pt(cut(words, length), sizes[-1], weight) > width_pt - GUTTER_PT:
        length -= 1
    return cut(words, length), sizes[-1]


def _when_and_where(target: PlannedTarget) -> str:
    """The best time and place with the usable span, or from when to when it is as good."""
    where = (
        "" if target.altitude_deg is None or target.azimuth_deg is None
        else f"{target.altitude_deg:.0f}° high in the {compass_point(target.azimuth_deg)}"
    )  # fmt: skip
    if target.even_start is not None:
        return f"any time {when_words(target)}, {where}"
    usable = span(target.window_start, target.window_end)
    return f"best {clock(target.best_time)}, {where} ({usable})"


def _width_pt(words: str, size: float, weight: str) -> float:
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import text_to_path

    font = FontProperties(size=size, weight=weight)
    return float(text_to_path.get_text_width_height_descent(words, font, ismath=False)[0])


class _Sheet:
    """One page being drawn; coordinates in points from the lower left corner."""

    def __init__(self, page: Page) -> None:
        from matplotlib.figure import Figure

        self.page = page
        self.figure = Figure(
            figsize=(page.width_pt / POINTS_PER_INCH, page.height_pt / POINTS_PER_INCH)
        )
        self.axes = self.figure.add_axes((0.0, 0.0, 1.0, 1.0))
        self.axes.set_xlim(0, page.width_pt)
        self.axes.set_ylim(0, page.height_pt)
        self.axes.axis("off")

    def text(self, x: float, y: float, words: str, size: float, weight: str = "normal") -> None:
        self.axes.text(
            x, y, words, fontsize=size, fontweight=weight, color="black", va="baseline",
            parse_math=False,
        )  # fmt: skip

    def line(self, x1: float, x2: float, y: float, width: float = 0.5) -> None:
        self.axes.plot([x1, x2], [y, y], color="black", linewidth=width)

    def header(self, lines: list[str]) -> float:
        """Draw the night's header and return the height below it."""
        y = self.page.height_pt - MARGIN_PT - 8.0
        self.text(MARGIN_PT, y, lines[0], min(13.0, TITLE_PT / len(lines[0])), "bold")
        for words in lines[1:]:
            y -= 12.5
            self.text(MARGIN_PT, y, words, 8.5)
        y -= 8.0
        self.line(MARGIN_PT, self.page.width_pt - MARGIN_PT, y, 1.0)
        return y - 4.0

    def target(self, target: PlannedTarget, number: int, top: float) -> None:
        """One target: box, what and where, the verdict, and two lines for a note."""
        left, right = MARGIN_PT, self.page.width_pt - MARGIN_PT
        self.axes.plot(
            [left, left + 11, left + 11, left, left],
            [top - 15, top - 15, top - 4, top - 4, top - 15],
            color="black",
            linewidth=0.9,
        )
        x = left + 20
        for words in (target.name, short_name(target)):
            name, size = _fitted(f"{number}. {words}", SECOND_PT, NAME_SIZES, "bold")
            if name.endswith(words):
                break
        self.text(x, top - 13, name, size, "bold")
        self.text(x + SECOND_PT, top - 13, what_it_is(target), 9)
        self.text(x + THIRD_PT, top - 13, f"{target.constellation}  {position(target)}", 8.5)
        when, size = _fitted(_when_and_where(target), SECOND_PT, (8.5, 7.5))
        self.text(x, top - 26, when, size)
        view, size = _fitted(eyepiece_words(target), THIRD_PT - SECOND_PT, (8.5, 7.5))
        self.text(x + SECOND_PT, top - 26, view, size)
        words = verdict_words(target).split(",")[0].removeprefix("companion ")
        verdict = f"{words}, {margin_words(target)}".removesuffix(", -")
        verdict, size = _fitted(verdict, right - x - THIRD_PT + GUTTER_PT, (8.5, 7.5))
        self.text(x + THIRD_PT, top - 26, verdict, size)
        self.text(x, top - 42, "seen with:", 7)
        self.line(x + 36, x + SECOND_PT - 12, top - 43)
        self.text(x + SECOND_PT, top - 42, "note:", 7)
        self.line(x + SECOND_PT + 21, right, top - 43)
        self.line(x, right, top - 54, 0.25)

    def foot(self, words: str, number: int, count: int) -> None:
        """Cautions and the page number."""
        y = MARGIN_PT - 8.0
        for index, part in enumerate(wrapped(CAUTION, 0, width=CAUTION_COLUMNS).splitlines()):
            self.text(MARGIN_PT, y + 12.0 - 9.0 * index, part, 7)
        self.text(MARGIN_PT, y - 12.0, f"{words}   page {number} of {count}", 7)
