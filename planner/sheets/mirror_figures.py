"""The figures a mirror maker reads, on one page: wave, readings, star, contrast, bands."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import numpy as np

from planner.files import write_whole
from planner.mirror.criteria import least_greatest_ratio, tolerances_mm, transverse_ratios
from planner.mirror.grating import ronchi_dark, zone_focus_mm
from planner.mirror.star_test import star_light
from planner.mirror.tester import theory_mm
from planner.mirror.whole import strehl_with_edge, whole_figure
from planner.optics.figure import Figure as Wave
from planner.optics.figure import best_focus_waves, wavefront_error
from planner.optics.image import instrument_mtf

if TYPE_CHECKING:
    from pathlib import Path

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray

    from planner.mirror.reduction import Reduction

    Floats = NDArray[np.float64]

BLACK, SHADE, QUIET = "black", "0.80", "0.45"
DEFOCUS_WAVES = 6.0  # how far out of focus the star is drawn
STAR_PIXELS, BAND_PIXELS = 181, 521
FINE_RADII = np.linspace(0.0, 1.0, 1001)
PAGE_INCHES, ROW_INCHES = 7.8, 2.6  # four rows fit A4 and Letter
SMALL, SMALLEST = 9, 7  # points
POINT_SHARE = 0.1  # of the picture: the bright point in the middle may be as black as its rings
STAR_GAMMA = 0.45  # so that faint rings show on paper
RONCHI_INSIDE_MM = (8.0, -8.0)  # of the middle's focus: both sides, a few bands


def write_mirror_figures(
    found: Reduction, path: Path, lines_per_mm: float | None, secondary_mm: float = 0.0
) -> None:
    """Draw a reduction to a PNG or PDF file, whole or not at all; the same bytes each time."""
    figure = mirror_figure(found, lines_per_mm, secondary_mm)
    buffer = io.BytesIO()
    kind = path.suffix.lower().removeprefix(".")
    told = {"CreationDate": None, "Creator": None, "Producer": None} if kind == "pdf" else {}
    figure.savefig(buffer, format=kind, dpi=130, metadata=told or None)
    write_whole(path, buffer.getvalue())


def mirror_figure(
    found: Reduction, lines_per_mm: float | None = None, secondary_mm: float = 0.0
) -> Figure:
    """Profile, readings, transverse error and contrast; the star; with a grating its bands."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    rows = 3 if lines_per_mm is None else 4
    figure = Figure(figsize=(PAGE_INCHES, ROW_INCHES * rows))
    FigureCanvasAgg(figure)
    inch = 1.0 / (ROW_INCHES * rows)
    grid = figure.add_gridspec(
        rows, 6, left=0.085, right=0.985, top=1.0 - 0.6 * inch, bottom=0.3 * inch,
        hspace=0.38, wspace=1.1,
    )  # fmt: skip
    figure.suptitle(_title(found), y=1.0 - 0.2 * inch, fontsize=10, fontweight="bold",
                    parse_math=False)  # fmt: skip
    share = secondary_mm / found.test.optical_diameter_mm
    _profile(figure.add_subplot(grid[0, :3]), found)
    _readings(figure.add_subplot(grid[0, 3:]), found)
    _transverse(figure.add_subplot(grid[1, :3]), found)
    _contrast(figure.add_subplot(grid[1, 3:]), found, share)
    names = ("inside focus", "in focus", "outside focus")
    for column, (name, defocus) in enumerate(zip(names, (1.0, 0.0, -1.0), strict=True)):
        place = grid[2, 2 * column : 2 * column + 2]
        _star(figure.add_subplot(place), found, (name, defocus * DEFOCUS_WAVES), share)
    if lines_per_mm is not None:
        for column, inside in enumerate(RONCHI_INSIDE_MM):
            place = grid[3, 3 * column : 3 * column + 3]
            _bands(figure.add_subplot(place), found, inside, lines_per_mm)
    return figure


def _title(found: Reduction) -> str:
    told, rms = found.strehl, found.rms_waves
    wave = f"at most {rms.high:.3f}" if found.is_upper_limit else f"{rms.value:.3f}"
    title = (
        f"{found.test.name}: {wave} wave RMS, Strehl {told.value:.2f} "
        f"({told.low:.2f} to {told.high:.2f})"
    )
    whole = strehl_with_edge(found)
    return title if whole is None else f"{title}; {whole:.2f} with its turned edge"


def _named(axes: Axes, title: str, across: str, up: str) -> None:
    axes.set_title(title, fontsize=SMALL)
    axes.set_xlabel(across, fontsize=SMALL)
    axes.set_ylabel(up, fontsize=SMALL)
    axes.tick_params(labelsize=SMALLEST)


def _profile(axes: Axes, found: Reduction) -> None:
    radius = found.rho * found.test.optical_diameter_mm / 2.0
    axes.fill_between(radius, found.low, found.high, color=SHADE, label="90 % band")
    axes.plot(radius, found.wave, color=BLACK, label="most likely")
    if found.test.edge_waves:
        shares, waves = np.array(whole_figure(found, found.wave).profile).T
        rim = shares * radius[-1] >= radius[-1] - found.test.edge_width_mm
        axes.plot(shares[rim] * radius[-1], waves[rim], ":", color=BLACK, label="turned edge")
    axes.axhline(0.0, color=QUIET, linewidth=0.6)
    for inner, outer in found.test.zones:
        axes.axvspan(inner, outer, ymax=0.02, color=QUIET if inner == 0.0 else BLACK, alpha=0.5)
    _named(axes, "The wave at best focus", "mm from the middle", "waves of 550 nm")
    axes.legend(frameon=False, fontsize=SMALLEST)


def _readings(axes: Axes, found: Reduction) -> None:
    test = found.test
    _, constant = least_greatest_ratio(test)
    radius, off = test.rms_radii_mm, found.averaged.readings_mm - theory_mm(test) + constant
    room = tolerances_mm(test)
    axes.fill_between(radius, -room, room, color=SHADE, label="one Airy radius")
    means = np.array(test.runs).mean(axis=0)
    for number, run in enumerate(np.array(test.runs)):
        spread = run - means
        spread = spread - float(spread @ radius**2 / (radius**2).sum())
        axes.plot(radius, off + spread, ".", color=QUIET, label="" if number else "runs")
    axes.plot(radius, off, "o-", color=BLACK, label="mean")
    _named(axes, "Readings less the paraboloid's", "mm from the middle", "mm")
    axes.legend(frameon=False, fontsize=SMALLEST)


def _transverse(axes: Axes, found: Reduction) -> None:
    _, constant = least_greatest_ratio(found.test)
    ratios = -transverse_ratios(found.test, constant)  # above 0 as the readings' own departure
    axes.bar(np.arange(1, len(ratios) + 1), ratios, color=SHADE, edgecolor=BLACK)
    for edge in (-1.0, 1.0):
        axes.axhline(edge, color=BLACK, linestyle="--", linewidth=0.8)
    axes.axhline(0.0, color=BLACK, linewidth=0.6)
    _named(axes, "Transverse error", "window", "Airy radii")
    axes.set_xticks(np.arange(1, len(ratios) + 1))


def _contrast(axes: Axes, found: Reduction, share: float) -> None:
    """Contrast transfer of the most likely and the band's waves against a perfect mirror."""
    frequency = np.linspace(0.005, 1.0, 120)

    def transfer(wave: Floats) -> Floats:
        return instrument_mtf(frequency, share, whole_figure(found, wave))

    poor, good = transfer(found.poor), transfer(found.good)
    axes.fill_between(frequency, np.minimum(poor, good), np.maximum(poor, good), color=SHADE,
                      label="as your test allows")  # fmt: skip
    axes.plot(frequency, transfer(found.wave), color=BLACK, label="this mirror")
    perfect = instrument_mtf(frequency, share, Wave())
    axes.plot(frequency, perfect, "--", color=QUIET, label="perfect mirror")
    beside = "no secondary" if share == 0.0 else f"a secondary of {share:.0%}"
    _named(axes, f"Contrast transfer, {beside}", "fineness, share of the finest", "contrast left")
    axes.set_ylim(0.0, 1.02)
    axes.legend(frameon=False, fontsize=SMALLEST)


def _star(axes: Axes, found: Reduction, what: tuple[str, float], share: float) -> None:
    """The star's picture, dark where it is bright, its faint light strengthened for paper."""
    name, defocus = what
    whole = whole_figure(found, found.wave)
    focus = best_focus_waves(whole, share)
    reach = 4.0 * abs(defocus) + 5.0
    line = np.linspace(0.0, 1.45 * reach, 400)
    light = star_light(FINE_RADII, wavefront_error(whole, FINE_RADII), focus + defocus, line, share)
    side = np.linspace(-reach, reach, STAR_PIXELS)
    radius = np.hypot(side[:, None], side[None, :])
    full = light.max() if defocus == 0.0 else light[line > POINT_SHARE * reach].max()
    shade = np.clip(np.interp(radius, line, light) / full, 0.0, 1.0) ** STAR_GAMMA
    axes.imshow(1.0 - shade, cmap="gray", vmin=0.0, vmax=1.0, interpolation="bilinear")
    axes.set_xticks([])
    axes.set_yticks([])
    told = f"by {abs(defocus):g} waves" if defocus else "(light in black)"
    axes.set_title(f"Star {name} {told}", fontsize=SMALL)


def _bands(axes: Axes, found: Reduction, inside_mm: float, lines_per_mm: float) -> None:
    """Ronchi bands over the face of the mirror, the grating inside or outside the focus."""
    test = found.test
    rim = test.optical_diameter_mm / 2.0
    side = np.linspace(-rim, rim, BAND_PIXELS)
    x, y = np.meshgrid(side, side)
    radius = np.hypot(x, y)
    stands_off = inside_mm * (1.0 if test.fixed_source else 2.0)
    dark = ronchi_dark(x, zone_focus_mm(found, radius), test.radius_mm, stands_off, lines_per_mm)
    face = np.where((radius <= rim) & dark, 0.25, 1.0)
    extent = (-rim, rim, -rim, rim)
    axes.imshow(face, cmap="gray", vmin=0.0, vmax=1.0, interpolation="nearest", extent=extent)
    turn = np.linspace(0.0, 2.0 * np.pi, 200)
    axes.plot(rim * np.cos(turn), rim * np.sin(turn), color=BLACK)
    axes.set(xticks=[], yticks=[], xlim=(-1.02 * rim, 1.02 * rim), ylim=(-1.02 * rim, 1.02 * rim))
    where = "inside" if inside_mm > 0.0 else "outside"
    axes.set_title(
        f"{lines_per_mm:g} lines a mm, {abs(inside_mm):g} mm {where} the middle's focus",
        fontsize=SMALL,
    )
