"""A drawing in a circle as plain shapes, before any writer: what tests look at.

Lengths are points (1/72 inch) from the circle's centre, x to the right and y up. Everything is
clipped when the scene is built, so a writer draws what it finds. Pens and tones are names; how
wide and how dark they are stands in one table here, the same for every writer.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum, auto

Point = tuple[float, float]


class Pen(Enum):
    """What a line means; never told by colour."""

    RIM = auto()  # the edge of a field that the eye sees as an edge
    SOFT_RIM = auto()  # the edge of a cut-out of the sky
    FIGURE = auto()  # a line of a constellation's figure
    FIELD = auto()  # the ring of another instrument's field
    LEG = auto()  # a leg of the way to the target
    RING = auto()  # around a star of the way
    MARK = auto()  # bars at the target, ticks of signs
    SOLID = auto()  # outline of a galaxy, a globular cluster, a disc
    DOTTED = auto()  # outline of an open cluster
    DASHED = auto()  # outline of a nebula
    HORIZON = auto()  # roofs and trees
    TICK = auto()  # north, east, scale and drift at the rim
    FAINT = auto()  # the finest line: leaders of labels, features of a disc


@dataclass(frozen=True, slots=True)
class Stroke:
    """Width and dashes (on, off, ...) of a pen, points; no dashes for an unbroken line."""

    width_pt: float
    dashes_pt: tuple[float, ...] = ()


STROKES = {  # unbroken black and no grey: a printer of two tones breaks grey into specks
    Pen.RIM: Stroke(1.1),
    Pen.SOFT_RIM: Stroke(0.4),
    Pen.FIGURE: Stroke(0.4),
    Pen.FIELD: Stroke(0.8, (3.4, 2.2)),
    Pen.LEG: Stroke(1.1),
    Pen.RING: Stroke(0.9),
    Pen.MARK: Stroke(1.3),
    Pen.SOLID: Stroke(0.6),
    Pen.DOTTED: Stroke(0.8, (0.8, 1.5)),
    Pen.DASHED: Stroke(0.6, (2.4, 1.5)),
    Pen.HORIZON: Stroke(0.9),
    Pen.TICK: Stroke(0.9),
    Pen.FAINT: Stroke(0.3),
}


class Tone(Enum):
    """How a surface is filled."""

    INK = auto()
    GROUND = auto()  # below the local horizon
    SHADE = auto()  # the dark side of a disc, a dark plain of the Moon
    PAPER = auto()  # as the sheet: covers what lies below
    LIT = auto()  # the lit face of a disc: white on paper, light on a dark page


GREYS = {Tone.INK: 0.0, Tone.GROUND: 0.86, Tone.SHADE: 0.72, Tone.PAPER: 1.0, Tone.LIT: 1.0}


class Face(Enum):
    """How words are set."""

    PLAIN = auto()
    BOLD = auto()
    OBLIQUE = auto()


class Anchor(Enum):
    """Which part of the words stands at their place."""

    START = auto()
    MIDDLE = auto()
    END = auto()


@dataclass(frozen=True, slots=True)
class Dot:
    """A star: its place and the diameter of its dot, points."""

    x: float
    y: float
    diameter_pt: float


@dataclass(frozen=True, slots=True)
class Polyline:
    """Two or more points joined by straight lines; the last is not joined to the first."""

    points: tuple[Point, ...]
    pen: Pen


@dataclass(frozen=True, slots=True)
class Ellipse:
    """A whole ellipse; ``angle_deg`` turns its first half axis counter-clockwise from x."""

    x: float
    y: float
    half_axes_pt: tuple[float, float]
    angle_deg: float
    pen: Pen


@dataclass(frozen=True, slots=True)
class Area:
    """A filled polygon of three or more points."""

    points: tuple[Point, ...]
    tone: Tone


@dataclass(frozen=True, slots=True)
class Words:
    """One line of words; ``y`` is the baseline. ``clears`` takes the lines below them away."""

    x: float
    y: float
    text: str
    size_pt: float
    anchor: Anchor = Anchor.START
    face: Face = Face.PLAIN
    clears: bool = False


@dataclass(frozen=True, slots=True)
class Raster:
    """A square picture about a place: rows from the top, 0 paper to 255 full ink, a byte each.

    ``light`` is the same for a dark page: 0 dark to 255 full light; empty where there is none.
    """

    x: float
    y: float
    half_width_pt: float
    side: int
    ink: bytes
    light: bytes = b""

    def __post_init__(self) -> None:
        """Refuse a picture whose bytes do not fill its square."""
        if len(self.ink) != self.side**2:
            raise ValueError(f"{len(self.ink)} bytes do not fill a square of side {self.side}")


@dataclass(frozen=True, slots=True)
class Scene:
    """One circle. Drawn in this order: areas, rasters, lines, ellipses, dots, words.

    ``rim`` is the pen of the circle itself, None where none is drawn. ``title`` names the view,
    ``notes`` are the lines under it: how it is turned, how wide it is, how faint its stars are.
    ``room_pt`` is how far marks outside the rim may reach.
    """

    radius_pt: float
    rim: Pen | None = Pen.RIM
    areas: tuple[Area, ...] = ()
    rasters: tuple[Raster, ...] = ()
    lines: tuple[Polyline, ...] = ()
    ellipses: tuple[Ellipse, ...] = ()
    dots: tuple[Dot, ...] = ()
    words: tuple[Words, ...] = ()
    title: str = ""
    notes: tuple[str, ...] = field(default_factory=tuple)
    room_pt: float = 14.0
