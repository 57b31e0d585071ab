"""Writes a scene as SVG: black on white as it stands, and easily turned by a page's own style.

Lines and dots have the class ``ink``, soft ones ``soft`` too, surfaces ``ground``, ``shade``,
``paper`` or ``lit``, words ``word``; colours are presentation attributes, which any style sheet
overrides.
There is no ``style`` and no id, so a strict policy takes it and two charts fit one page.
"""

from __future__ import annotations

import base64
from itertools import groupby
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

from planner.charts.grey_png import ink_png, light_png
from planner.charts.scene import GREYS, STROKES, Anchor, Face, Pen, Tone

if TYPE_CHECKING:
    from planner.charts.scene import Ellipse, Point, Raster, Scene, Words

HALO_PT = 0.55
FONT = "DejaVu Sans, Verdana, sans-serif"
SOFT = (Pen.SOFT_RIM, Pen.FIGURE, Pen.FAINT)
ANCHORS = {Anchor.START: "start", Anchor.MIDDLE: "middle", Anchor.END: "end"}


def svg_element(scene: Scene, description: str = "", red: int = 0) -> str:
    """One ``<svg>`` element without an XML declaration, to stand in a page.

    Its box is the circle and ``scene.room_pt`` around it, in points. ``description`` is read
    aloud after the title; both are escaped. With ``red`` (0..255) a picture that has its light too
    stands twice: of the class ``day`` as ink on paper, and of the class ``night`` as light of that
    red; the page's style shows one of them.
    """
    half = scene.radius_pt + scene.room_pt
    box = f"{_n(-half)} {_n(-half)} {_n(2 * half)} {_n(2 * half)}"
    body = [*_areas(scene), *_rasters(scene, red), *_lines(scene), *_ellipses(scene), *_dots(scene)]
    if scene.rim is not None:
        body.append(f'<circle r="{_n(scene.radius_pt)}"{_pen(scene.rim)}/>')
    body += [_words(words) for words in scene.words]
    title = f"<title>{escape(scene.title)}</title>" if scene.title else ""
    words = f"<desc>{escape(description)}</desc>" if description else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" role="img" '
        f'font-family="{FONT}">{title}{words}{"".join(body)}</svg>'
    )


def svg_file(scene: Scene, description: str = "") -> str:
    """A whole file: white paper, the circle, and title and notes below it."""
    half = scene.radius_pt + scene.room_pt
    lines = [scene.title, *scene.notes]
    height = 2.0 * half + 12.0 * len(lines) + 6.0
    below = [
        f'<text x="{_n(half)}" y="{_n(2.0 * half + 10.0 + 12.0 * number)}" text-anchor="middle" '
        f'font-size="{9 if number == 0 else 8}"{_weight(number == 0)}>{escape(line)}</text>'
        for number, line in enumerate(lines)
    ]
    inner = svg_element(scene, description).replace(
        "<svg ", f'<svg width="{_n(2 * half)}" height="{_n(2 * half)}" ', 1
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(4 * half)}" '
        f'height="{_n(2 * height)}" viewBox="0 0 {_n(2 * half)} {_n(height)}" '
        f'font-family="{FONT}"><rect width="100%" height="100%" fill="#fff"/>{inner}'
        f"{''.join(below)}</svg>\n"
    )


def _weight(bold: bool) -> str:
    return ' font-weight="bold"' if bold else ""


def _areas(scene: Scene) -> list[str]:
    return [
        f'<path class="{area.tone.name.lower()}" fill={quoteattr(_fill(area.tone))} '
        f'd="{_path(area.points)}z"/>'
        for area in scene.areas
    ]


def _rasters(scene: Scene, red: int) -> list[str]:
    found = []
    for raster in scene.rasters:
        found.append(_raster(raster, "light day", ink_png(raster)))
        if red and raster.light:
            found.append(_raster(raster, "light night", light_png(raster, red)))
    return found


def _raster(raster: Raster, kind: str, picture: bytes) -> str:
    data = base64.b64encode(picture).decode("ascii")
    half = raster.half_width_pt
    return (
        f'<image class="{kind}" x="{_n(raster.x - half)}" y="{_n(-raster.y - half)}" '
        f'width="{_n(2 * half)}" height="{_n(2 * half)}" href="data:image/png;base64,{data}"/>'
    )


def _lines(scene: Scene) -> list[str]:
    """One path a pen, in the order of the pens."""
    ordered = sorted(scene.lines, key=lambda line: line.pen.value)
    return [
        f'<path{_pen(pen)} d="{"".join(_path(line.points) for line in group)}"/>'
        for pen, group in groupby(ordered, key=lambda line: line.pen)
    ]


def _ellipses(scene: Scene) -> list[str]:
    return [_ellipse(ellipse) for ellipse in scene.ellipses]


def _ellipse(ellipse: Ellipse) -> str:
    along, across = ellipse.half_axes_pt
    x, y = _n(ellipse.x), _n(-ellipse.y)
    if along == across:
        return f'<circle cx="{x}" cy="{y}" r="{_n(along)}"{_pen(ellipse.pen)}/>'
    turn = f' transform="rotate({_n(-ellipse.angle_deg)} {x} {y})"'
    return (
        f'<ellipse cx="{x}" cy="{y}" rx="{_n(along)}" ry="{_n(across)}"{turn}{_pen(ellipse.pen)}/>'
    )


def _dots(scene: Scene) -> list[str]:
    """All halos, then all dots of a size in one path of no length with round ends."""
    ordered = sorted(scene.dots, key=lambda dot: (dot.diameter_pt, dot.x, dot.y))
    groups = [
        (size, "".join(f"M{_n(dot.x)} {_n(-dot.y)}h0" for dot in group))
        for size, group in groupby(ordered, key=lambda dot: dot.diameter_pt)
    ]
    halos = [
        f'<path class="paper" d="{path}" stroke="#fff" stroke-width="{_n(size + 2 * HALO_PT)}"/>'
        for size, path in groups
    ]
    inks = [
        f'<path class="ink" d="{path}" stroke="currentColor" stroke-width="{_n(size)}"/>'
        for size, path in groups
    ]
    both = "".join(halos + inks)
    return [f'<g fill="none" stroke-linecap="round">{both}</g>'] if both else []


def _words(words: Words) -> str:
    face = _weight(words.face is Face.BOLD)
    face += ' font-style="oblique"' if words.face is Face.OBLIQUE else ""
    shown = "" if words.anchor is Anchor.START else f' text-anchor="{ANCHORS[words.anchor]}"'
    place = f'x="{_n(words.x)}" y="{_n(-words.y)}" font-size="{_n(words.size_pt)}"{shown}{face}'
    clear = (
        ' class="word clears" paint-order="stroke" stroke="#fff" stroke-width="2" '
        'stroke-linejoin="round"' if words.clears else ' class="word"'
    )  # fmt: skip
    return f'<text {place}{clear} fill="currentColor">{escape(words.text)}</text>'


def _pen(pen: Pen) -> str:
    stroke = STROKES[pen]
    dashes = (
        f' stroke-dasharray="{" ".join(_n(dash) for dash in stroke.dashes_pt)}"'
        if stroke.dashes_pt else ""
    )  # fmt: skip
    kind = "ink soft" if pen in SOFT else "ink"
    return (
        f' class="{kind}" fill="none" stroke="currentColor" '
        f'stroke-width="{_n(stroke.width_pt)}"{dashes}'
    )


def _fill(tone: Tone) -> str:
    if tone is Tone.INK:
        return "currentColor"
    level = round(255 * GREYS[tone])
    return f"#{level:02x}{level:02x}{level:02x}"


def _path(points: tuple[Point, ...]) -> str:
    first, *rest = points
    more = "".join(f"L{_n(x)} {_n(-y)}" for x, y in rest)
    return f"M{_n(first[0])} {_n(-first[1])}{more}"


def _n(value: float) -> str:
    """A length to a twentieth of a millimetre's fraction: two digits, and no minus nought."""
    short = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if short in ("-0", "") else short
