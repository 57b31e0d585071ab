"""Writes scenes and words on a page of matplotlib: PDF and PNG."""

from __future__ import annotations

import io
from collections import defaultdict
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.charts.clip import ellipse_points
from planner.charts.letters import CAP_HEIGHT_EM, font, width_pt
from planner.charts.scene import GREYS, STROKES, Anchor, Pen, Tone, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from planner.charts.scene import Point, Raster, Scene

HALO_PT = 0.55
CLEAR_PT = 0.7  # paper around words that clear what lies below
SHARES = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}
RIM_STEPS = 180
CLEAR_METADATA = {"CreationDate": None, "Creator": None, "Producer": None}


class Canvas:
    """One page, measured in points from its lower left corner; ``figure()`` at the end."""

    def __init__(self, width_pt: float, height_pt: float) -> None:
        self.size = (width_pt, height_pt)
        self._areas: dict[Tone, list[Any]] = defaultdict(list)
        self._lines: dict[Pen, list[Any]] = defaultdict(list)
        self._dots: dict[float, list[Point]] = defaultdict(list)
        self._words: list[Words] = []
        self._rasters: list[tuple[float, float, Raster]] = []

    def words(self, *words: Words) -> None:
        """Lines of words."""
        self._words += words

    def line(self, points: Sequence[Point], pen: Pen) -> None:
        """A line of straight pieces."""
        self._lines[pen].append(points)

    def area(self, points: Sequence[Point], tone: Tone) -> None:
        """A filled polygon."""
        self._areas[tone].append(points)

    def scene(self, scene: Scene, x: float, y: float) -> None:
        """A scene with its centre at a place; title and notes are the caller's."""
        for area in scene.areas:
            self.area(_moved(area.points, x, y), area.tone)
        for line in scene.lines:
            self.line(_moved(line.points, x, y), line.pen)
        for ellipse in scene.ellipses:
            self.line(_moved(ellipse_points(ellipse), x, y), ellipse.pen)
        for dot in scene.dots:
            self._dots[dot.diameter_pt].append((dot.x + x, dot.y + y))
        for raster in scene.rasters:
            self._rasters.append((x, y, raster))
        if scene.rim is not None:
            turns = np.linspace(0.0, 2.0 * np.pi, RIM_STEPS + 1)
            circle = np.stack([np.cos(turns), np.sin(turns)], axis=1) * scene.radius_pt + (x, y)
            self.line([(float(a), float(b)) for a, b in circle], scene.rim)
        self._words += [_word_moved(words, x, y) for words in scene.words]

    def figure(self) -> Figure:
        """The page as a figure; every kind of line is one collection."""
        from matplotlib.collections import LineCollection, PolyCollection
        from matplotlib.figure import Figure
        from matplotlib.lines import Line2D

        width, height = self.size
        figure = Figure(figsize=(width / 72.0, height / 72.0), facecolor="white")
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_xlim(0.0, width)
        axes.set_ylim(0.0, height)
        axes.axis("off")
        for tone in sorted(self._areas, key=lambda tone: tone.value):
            order = 5.0 if tone is Tone.INK else 1.0
            axes.add_collection(
                PolyCollection(self._areas[tone], facecolors=str(GREYS[tone]), linewidths=0.0,
                               zorder=order), autolim=False,
            )  # fmt: skip
        self._draw_rasters(axes)
        for pen in sorted(self._lines, key=lambda pen: pen.value):
            stroke = STROKES[pen]
            dashes = (0.0, _dashes(stroke)) if stroke.dashes_pt else "solid"
            axes.add_collection(
                LineCollection(self._lines[pen], colors="black", linewidths=stroke.width_pt,
                               linestyles=[dashes], zorder=2.0), autolim=False,
            )  # fmt: skip
        clears = [_clear_box(words) for words in self._words if words.clears]
        if clears:
            axes.add_collection(
                PolyCollection(clears, facecolors="white", linewidths=0.0, zorder=3.0),
                autolim=False,
            )  # fmt: skip
        for size in sorted(self._dots):
            x, y = zip(*self._dots[size], strict=True)
            axes.add_line(
                Line2D(x, y, linestyle="none", marker="o", color="black", markersize=size + HALO_PT,
                       markeredgecolor="white", markeredgewidth=HALO_PT, zorder=4.0)
            )  # fmt: skip
        axes.add_artist(_page_words(self._words))
        return figure

    def _draw_rasters(self, axes: Any) -> None:
        width, height = self.size
        for x, y, raster in self._rasters:
            half = raster.half_width_pt
            ink = np.frombuffer(raster.ink, dtype=np.uint8).reshape(raster.side, raster.side)
            axes.imshow(
                255 - ink, cmap="gray", vmin=0, vmax=255, zorder=1.5, interpolation="nearest",
                extent=(x + raster.x - half, x + raster.x + half,
                        y + raster.y - half, y + raster.y + half),
            )  # fmt: skip
            axes.set_xlim(0.0, width)  # imshow moves the limits
            axes.set_ylim(0.0, height)
            axes.set_aspect("auto")


def page_bytes(canvases: Sequence[Canvas], title: str) -> bytes:
    """Pages as a PDF without dates or names of programs: the same for the same input."""
    from matplotlib.backends.backend_pdf import PdfPages

    buffer = io.BytesIO()
    with PdfPages(buffer, metadata={"Title": title, **CLEAR_METADATA}) as pdf:
        for canvas in canvases:
            pdf.savefig(canvas.figure())
    return buffer.getvalue()


def png_bytes(canvas: Canvas, dots_per_inch: int = 200) -> bytes:
    """One page as a PNG without the name of a program."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    figure, buffer = canvas.figure(), io.BytesIO()
    FigureCanvasAgg(figure)
    figure.savefig(buffer, format="png", dpi=dots_per_inch, metadata={"Software": None})
    return buffer.getvalue()


def chart_canvas(scene: Scene) -> Canvas:
    """A page that holds one scene with its title and notes below."""
    half = scene.radius_pt + scene.room_pt
    lines = [scene.title, *scene.notes]
    foot = 12.0 * len(lines) + 8.0
    width = max(2.0 * half, *(width_pt(line, 9.0) + 20.0 for line in lines))
    canvas = Canvas(width, 2.0 * half + foot)
    canvas.scene(scene, width / 2.0, half + foot)
    canvas.words(*caption(scene, width / 2.0, foot - 6.0))
    return canvas


def caption(scene: Scene, x: float, top: float, size_pt: float = 9.0) -> list[Words]:
    """Title and notes of a scene, the first baseline at ``top``, each line centred."""
    from planner.charts.scene import Face

    title = Words(x, top, scene.title, size_pt, Anchor.MIDDLE, Face.BOLD)
    notes = [
        Words(x, top - 10.0 * (number + 1), note, 7.5, Anchor.MIDDLE)
        for number, note in enumerate(scene.notes)
    ]
    return [title, *notes]


def _page_words(words: Sequence[Words]) -> Any:
    """One artist for all words of a page: an artist for each costs over a millisecond."""
    from matplotlib.artist import Artist

    class PageWords(Artist):
        def draw(self, renderer: Any) -> None:
            graphics = renderer.new_gc()
            graphics.set_foreground("black")
            scale = renderer.points_to_pixels(1.0)
            _, height = renderer.get_canvas_width_height()
            for line in words:
                left = line.x - SHARES[line.anchor] * width_pt(line.text, line.size_pt, line.face)
                y = height - line.y * scale if renderer.flipy() else line.y * scale
                renderer.draw_text(
                    graphics, left * scale, y, line.text, font(line.face, line.size_pt), 0.0,
                    ismath=False,
                )  # fmt: skip
            graphics.restore()

    artist = PageWords()
    artist.set_zorder(6.0)
    return artist


def _dashes(stroke: Any) -> tuple[float, ...]:
    """matplotlib counts dashes in widths of the line."""
    return tuple(dash / stroke.width_pt for dash in stroke.dashes_pt)


def _clear_box(words: Words) -> list[Point]:
    width = width_pt(words.text, words.size_pt, words.face)
    left = words.x - SHARES[words.anchor] * width - CLEAR_PT
    right = left + width + 2.0 * CLEAR_PT
    low, high = words.y - CLEAR_PT, words.y + CAP_HEIGHT_EM * words.size_pt + CLEAR_PT
    return [(left, low), (right, low), (right, high), (left, high)]


def _moved(points: Sequence[Point], x: float, y: float) -> list[Point]:
    return [(a + x, b + y) for a, b in points]


def _word_moved(words: Words, x: float, y: float) -> Words:
    return Words(
        words.x + x, words.y + y, words.text, words.size_pt, words.anchor, words.face, words.clears
    )
