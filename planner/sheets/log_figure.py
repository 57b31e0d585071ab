"""A page of figures from the log: what was split, and the nights and seeing of the year.

Everything is told by shape and grey, nothing by colour.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.log.outcome import Outcome
from planner.sheets.day_words import MONTHS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from planner.log.record import Record
    from planner.night.split_limit import SplitLimit

MARKS = (  # outcomes, their words, marker, face
    ((Outcome.CLEAN,), "clean", "o", "black"),
    ((Outcome.JUST,), "just", "o", "0.6"),
    ((Outcome.NOTCHED, Outcome.ELONGATED), "notched or elongated", "o", "white"),
    ((Outcome.NOT_SPLIT,), "not split", "x", "black"),
)
SHOWN_ARCSEC, SHOWN_MAG = (0.4, 60.0), (-0.2, 7.0)
LINES = ("-", "--")


def log_figure(looks: Sequence[Record], limits: Sequence[SplitLimit], title: str) -> Figure:
    """The looks that count, and the model's limits in one or two seeings, on one page."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(8.27, 11.0), facecolor="white")
    figure.text(0.08, 0.965, title, fontsize=13, weight="bold")
    _doubles(figure.add_axes((0.1, 0.53, 0.84, 0.39)), looks, limits)
    _year(figure.add_axes((0.1, 0.30, 0.84, 0.15)), looks)
    _seeing(figure.add_axes((0.1, 0.07, 0.84, 0.15)), looks)
    return figure


def _doubles(axes: Axes, looks: Sequence[Record], limits: Sequence[SplitLimit]) -> None:
    pairs = [(look.pair, look.outcome) for look in looks if look.pair and look.outcome]
    for line, limit in zip(LINES, limits, strict=False):
        axes.plot(
            limit.separation_arcsec, limit.difference_mag, line, color="0.35", linewidth=1.4,
            label=f'limit of the model in {limit.seeing_arcsec:g}", first star {limit.v1:.0f} mag',
        )  # fmt: skip
    for outcomes, words, marker, face in MARKS:
        chosen = [pair for pair, outcome in pairs if outcome in outcomes]
        axes.scatter(
            [pair.separation_arcsec for pair in chosen],
            [abs(pair.v2 - pair.v1) for pair in chosen],
            marker=marker, facecolors=face, s=38, linewidths=1.1, zorder=3,
            label=f"{words} ({len(chosen)})", edgecolors=None if marker == "x" else "black",
        )  # fmt: skip
    axes.set_xscale("log")
    axes.set_xlim(*SHOWN_ARCSEC)
    axes.set_ylim(SHOWN_MAG[1], SHOWN_MAG[0])
    ticks = [0.5, 1, 2, 5, 10, 20, 50]
    axes.set_xticks(ticks, [f'{tick:g}"' for tick in ticks])
    axes.minorticks_off()
    axes.set_xlabel("separation")
    axes.set_ylabel("the companion is fainter by, mag")
    axes.set_title("Doubles: right of the line they should part", fontsize=10, loc="left")
    axes.legend(fontsize=8, loc="lower left", frameon=False)
    axes.grid(color="0.9", linewidth=0.6)


def _year(axes: Axes, looks: Sequence[Record]) -> None:
    from matplotlib.ticker import MaxNLocator

    nights = {look.night for look in looks}
    counts = [sum(night.month == month for night in nights) for month in range(1, 13)]
    axes.bar(range(1, 13), counts, color="0.75", edgecolor="black", linewidth=0.8)
    axes.set_title(f"Nights in the log, by month: {len(nights)}", fontsize=10, loc="left")
    axes.set_ylim(0, max(counts, default=0) + 1)
    axes.yaxis.set_major_locator(MaxNLocator(integer=True))
    _months(axes)


def _seeing(axes: Axes, looks: Sequence[Record]) -> None:
    """Each night's middle seeing; several years lie on one another."""
    found: dict[object, list[float]] = {}
    for look in looks:
        if look.seeing_arcsec is not None:
            found.setdefault(look.night, []).append(look.seeing_arcsec)
    middles = [float(np.median(values)) for values in found.values()]
    days = [night.timetuple().tm_yday / 30.437 + 0.5 for night in found]  # type: ignore[attr-defined]
    axes.plot(days, middles, "o", color="black", markersize=4, markerfacecolor="white")
    words = "Seeing by night as you judged it, arcsec"
    if middles:
        words += f": half the nights better than {float(np.median(middles)):.1f}"
    axes.set_title(words, fontsize=10, loc="left")
    axes.set_ylim(0.0, max(5.0, *middles, 0.0) if middles else 5.0)
    _months(axes)


def _months(axes: Axes) -> None:
    axes.set_xlim(0.4, 12.6)
    axes.set_xticks(range(1, 13), MONTHS)
    axes.grid(color="0.9", linewidth=0.6, axis="y")
    axes.set_axisbelow(True)
