"""The mask study as a chart: worst seeing against the ring covered, black on white."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.sheets.mask_text import has_own_mask
from planner.sheets.mask_words import edge_words, finding_words, pair_name
from planner.verdict.scope.mask_study import NOTICED_SHARE

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from planner.verdict.scope.mask_study import MaskStudy

    Floats = NDArray[np.float64]

STYLES = (  # line, marker and grey: each pair can be told by any one of them
    ("-", "o", "0.0"),
    ("--", "s", "0.0"),
    ("-.", "^", "0.3"),
    (":", "D", "0.3"),
)
GOOD_EDGE_SHARE = 0.05  # length of a good edge's line, share of the axis
LABEL_GAP = 0.095  # least distance of two labels, share of the axis


def mask_chart(study: MaskStudy) -> Figure:
    """The study as a figure: a line for each pair, its best mask ringed, the zone shaded."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(9.6, 6.4), facecolor="white")
    axes = figure.add_axes((0.075, 0.255, 0.73, 0.585))
    rings = np.array([step.covered_mm for step in study.steps])
    worst = np.array([step.limiting_seeing_arcsec for step in study.steps])
    worst = np.where(worst > 0.0, worst, np.nan)
    _shade_zone(axes, study, float(rings[-1]))
    for row, finding in enumerate(study.findings):
        line, marker, grey = STYLES[row]
        axes.plot(
            rings, worst[:, row], line, marker=marker, color=grey, markersize=5, linewidth=1.6,
            label=pair_name(finding), clip_on=False,
        )  # fmt: skip
        axes.plot(
            rings[finding.best_step], worst[finding.best_step, row], "o", markersize=13,
            markerfacecolor="none", markeredgecolor="black", markeredgewidth=1.0, clip_on=False,
        )  # fmt: skip
    if study.telescope.glass.has_turned_edge:
        _mark_good_edge(axes, study, float(rings[-1]))
    if has_own_mask(study):
        _mark_own_mask(axes, study, float(rings[-1]))
    _dress(axes, study, rings)
    _label_lines(axes, study, worst)
    _words(figure, study)
    return figure


def _shade_zone(axes: Axes, study: MaskStudy, widest: float) -> None:
    if not study.telescope.glass.has_turned_edge:
        return
    width = study.telescope.glass.edge_width_mm
    axes.axvspan(0.0, min(width, widest), color="0.92", zorder=0, linewidth=0)
    axes.text(
        min(width, widest) - 0.01 * widest, 0.985, "turned zone", ha="right",
        va="top", fontsize=8, color="0.35", transform=axes.get_xaxis_transform(),
    )  # fmt: skip


def _mark_good_edge(axes: Axes, study: MaskStudy, widest: float) -> None:
    """What a good edge would reach without a mask: at the left, in each pair's line and mark."""
    for row, seeing in enumerate(study.good_edge.limiting_seeing_arcsec):
        line, marker, grey = STYLES[row]
        if seeing > 0.0:
            axes.plot(
                [0.0, GOOD_EDGE_SHARE * widest], [seeing, seeing], line, marker=marker,
                markevery=[0], markerfacecolor="white", markersize=6, color=grey, linewidth=1.2,
                clip_on=False, zorder=3,
            )  # fmt: skip


def _mark_own_mask(axes: Axes, study: MaskStudy, widest: float) -> None:
    """A line where the observer's own mask stands."""
    telescope = study.telescope
    ring = (telescope.aperture_mm - telescope.clear_aperture_mm) / 2.0
    axes.axvline(ring, color="0.55", linewidth=0.9, zorder=1)
    axes.text(
        ring, 0.015, f" your mask, {telescope.clear_aperture_mm:g} mm clear ", fontsize=8,
        color="0.35", ha="left" if ring < 0.6 * widest else "right", va="bottom",
        transform=axes.get_xaxis_transform(),
    )  # fmt: skip


def _dress(axes: Axes, study: MaskStudy, rings: Floats) -> None:
    widest = float(rings[-1])
    axes.set_xlim(0.0, 1.02 * widest)
    low, high = axes.get_ylim()
    axes.set_ylim(max(0.0, low - 0.04 * (high - low)), high + 0.04 * (high - low))
    axes.set_xlabel("ring covered by the mask, mm")
    axes.set_ylabel("worst zenith seeing, FWHM in arcsec")
    axes.grid(True, color="0.87", linewidth=0.6)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    full = study.telescope.aperture_mm

    def clear_of(ring: Any) -> Any:
        return full - 2.0 * ring

    def ring_of(clear: Any) -> Any:
        return (full - clear) / 2.0

    above = axes.secondary_xaxis("top", functions=(clear_of, ring_of))
    above.set_xlabel("clear aperture left, mm")


def _label_lines(axes: Axes, study: MaskStudy, worst: Floats) -> None:
    """Each line's name at its right end, moved apart where lines end close together."""
    low, high = axes.get_ylim()
    rows = [row for row in range(len(study.findings)) if np.isfinite(worst[:, row]).any()]
    ends = [float(worst[np.isfinite(worst[:, row]), row][-1]) for row in rows]
    for row, place in zip(rows, _apart([(end - low) / (high - low) for end in ends]), strict=True):
        finding = study.findings[row]
        axes.text(
            1.015, place,
            f'{pair_name(finding)}\n{finding.separation_arcsec:.1f}", '
            f"{finding.pair.difference_mag:.1f} mag",
            transform=axes.transAxes, va="center", fontsize=9, color=STYLES[row][2],
        )  # fmt: skip


def _apart(places: list[float]) -> list[float]:
    """Places on an axis of length 1, moved as little as keeps them a label's height apart."""
    order = sorted(range(len(places)), key=places.__getitem__)
    moved = list(places)
    for _ in range(50):
        for below, above in pairwise(order):
            push = (LABEL_GAP - (moved[above] - moved[below])) / 2.0
            if push > 0.0:
                moved[below] -= push
                moved[above] += push
    return moved


def _words(figure: Figure, study: MaskStudy) -> None:
    telescope = study.telescope
    figure.text(
        0.075, 0.955, f"Does a mask over the edge pay?  {telescope.name}, {telescope.aperture_mm:g}"
        " mm glass", fontsize=13, fontweight="bold", parse_math=False,
    )  # fmt: skip
    figure.text(
        0.075, 0.92, f"{edge_words(telescope)}; just split or companion held, at "
        f"{study.view.magnification:.0f}x", fontsize=9.5, color="0.25",
    )  # fmt: skip
    lines = [f"{pair_name(f)}: {finding_words(study, f)}" for f in study.findings]
    figure.text(0.075, 0.165, "\n".join(lines), fontsize=9, va="top", linespacing=1.35)
    notes = ["large ring: the narrowest mask with nine tenths of the best gain"]
    if telescope.glass.has_turned_edge:
        notes.append("hollow marks at the left: the full glass with a good edge")
    notes.append(f"differences below {NOTICED_SHARE:.0%} are not noticed")
    figure.text(0.075, 0.015, "; ".join(notes), fontsize=7.5, color="0.35")
