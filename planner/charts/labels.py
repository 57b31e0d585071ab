"""Puts names beside dots: one after another, each where it costs least."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, hypot
from typing import TYPE_CHECKING

import numpy as np

from planner.charts.letters import CAP_HEIGHT_EM, width_pt
from planner.charts.scene import Anchor, Dot, Face, Pen, Polyline, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

Box = tuple[float, float, float, float]  # left, bottom, right, top

# All own judgement, in points or in cost.
RINGS_PT = (1.2, 4.0, 9.0)  # how far from the dot; the last with a leader, for the required only
APART_PT = 2.2
BIG_DOT_PT = 1.1  # a dot of this diameter may not be covered
PLACE_COST, RING_COST, DOT_COST, LINE_COST, MOST_LINE_COST = 0.12, 0.9, 1.5, 1.0, 6.0
SAMPLE_PT = 2.5
FORBIDDEN = 1e3
PLACES = ((1, 0), (1, 1), (1, -1), (-1, 0), (-1, 1), (-1, -1), (0, 1), (0, -1))


@dataclass(frozen=True, slots=True)
class Label:
    """Words wanted at a place; the lower ``priority`` is placed first.

    ``clear_pt`` is the radius that stays free around the place. ``required`` ones always stand,
    the others are left out where no free place is left.
    """

    x: float
    y: float
    text: str
    priority: int
    size_pt: float = 8.0
    face: Face = Face.PLAIN
    clear_pt: float = 1.0
    required: bool = False


@dataclass(frozen=True, slots=True)
class _Ground:
    """What should not be covered: dots (3, D) as x, y, diameter, and points on lines (2, S)."""

    radius_pt: float
    dots: Floats
    samples: Floats


def placed_labels(
    labels: Sequence[Label],
    radius_pt: float,
    dots: Sequence[Dot],
    lines: Sequence[Polyline],
    taken: Sequence[Box] = (),
) -> tuple[list[Words], list[Polyline]]:
    """The words that find a place, and the leaders of those that stand apart.

    ``dots`` and ``lines`` are what they should not cover, ``taken`` boxes they may not touch.
    """
    ground = _Ground(
        radius_pt,
        np.array([(dot.x, dot.y, dot.diameter_pt) for dot in dots], dtype=float).reshape(-1, 3).T,
        np.array(_samples(lines), dtype=float).reshape(-1, 2).T,
    )
    boxes = list(taken)
    words: list[Words] = []
    leaders: list[Polyline] = []
    order = sorted(range(len(labels)), key=lambda i: (labels[i].priority, i))
    for label in (labels[i] for i in order):
        best = min(
            ((_cost(label, ring, place, ground, boxes), ring, place)
             for ring in range(len(RINGS_PT) if label.required else 2)
             for place in range(len(PLACES))),
        )  # fmt: skip
        cost, ring, place = best
        if cost >= FORBIDDEN and not label.required:
            continue
        box = _box(label, ring, place)
        boxes.append(box)
        words.append(_words(label, box, place))
        if ring == len(RINGS_PT) - 1:
            leaders.append(_leader(label, box))
    return words, leaders


def _box(label: Label, ring: int, place: int) -> Box:
    side, height = PLACES[place]
    width = width_pt(label.text, label.size_pt, label.face)
    tall = CAP_HEIGHT_EM * label.size_pt
    reach = label.clear_pt + RINGS_PT[ring]
    share = 0.75 if side and height else 1.0
    x = label.x + side * reach * share
    left = x if side > 0 else x - width if side < 0 else x - width / 2.0
    middle = label.y + height * (reach * share + tall / 2.0)
    return left, middle - tall / 2.0, left + width, middle + tall / 2.0


def _cost(label: Label, ring: int, place: int, ground: _Ground, boxes: Sequence[Box]) -> float:
    box = _box(label, ring, place)
    cost = PLACE_COST * place + RING_COST * ring
    left, low, right, high = box
    corner = max(hypot(x, y) for x in (left, right) for y in (low, high))
    cost += FORBIDDEN * (1.0 + corner / ground.radius_pt) * (corner > ground.radius_pt - 1.0)
    cost += 3.0 * FORBIDDEN * sum(_touch(box, other) for other in boxes)
    x, y, diameter = ground.dots
    for covered_pt in diameter[_over(box, x, y, diameter / 2.0)].tolist():
        cost += FORBIDDEN if covered_pt >= BIG_DOT_PT else DOT_COST
    crossed = int(np.count_nonzero(_over(box, ground.samples[0], ground.samples[1], 0.0)))
    return cost + min(MOST_LINE_COST, LINE_COST * crossed)


def _touch(box: Box, other: Box) -> bool:
    return (
        box[0] < other[2] + APART_PT
        and other[0] < box[2] + APART_PT
        and box[1] < other[3] + APART_PT
        and other[1] < box[3] + APART_PT
    )


def _over(box: Box, x: Floats, y: Floats, radius: Floats | float) -> NDArray[np.bool_]:
    beside = (box[0] - radius < x) & (x < box[2] + radius)
    return np.asarray(beside & (box[1] - radius < y) & (y < box[3] + radius))


def _words(label: Label, box: Box, place: int) -> Words:
    side = PLACES[place][0]
    anchor = (Anchor.MIDDLE, Anchor.START, Anchor.END)[side]
    x = (box[0] + box[2]) / 2.0 if side == 0 else box[0] if side > 0 else box[2]
    return Words(x, box[1], label.text, label.size_pt, anchor, label.face, clears=True)


def _leader(label: Label, box: Box) -> Polyline:
    x = min(max(label.x, box[0]), box[2])
    y = min(max(label.y, box[1]), box[3])
    return Polyline(((label.x, label.y), (x, y)), Pen.FAINT)


def _samples(lines: Sequence[Polyline]) -> list[tuple[float, float]]:
    found = []
    for line in lines:
        for (x1, y1), (x2, y2) in zip(line.points[:-1], line.points[1:], strict=True):
            steps = max(1, ceil(hypot(x2 - x1, y2 - y1) / SAMPLE_PT))
            found += [(x1 + (x2 - x1) * k / steps, y1 + (y2 - y1) * k / steps)
                      for k in range(steps)]  # fmt: skip
    return found
