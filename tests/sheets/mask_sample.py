"""A made-up mask study that the tests of its text, chart and document share."""

from __future__ import annotations

from planner.eye.observer import Observer
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.verdict.scope.mask_study import MaskStep, MaskStudy, mask_study
from planner.verdict.setup import Setup

FULL = (1.10, 2.40, 1.80, 0.0)
ROWS = ((0.0, FULL), (2.0, (1.08, 2.41, 1.70, 0.0)), (4.0, (1.21, 2.43, 1.86, 0.9)),
        (8.0, (1.00, 2.40, 1.80, 0.8)))  # fmt: skip


def step(covered_mm: float, worst: tuple[float, ...]) -> MaskStep:
    """One mask with made-up results."""
    clear = 160.0 - 2.0 * covered_mm
    return MaskStep(
        clear, covered_mm, 35.0 / clear, 0.8, 0.03 * covered_mm, worst, (0.9, 0.95, 0.98)
    )


def sample(
    width_mm: float = 6.0,
    waves: float = 1.0,
    rows: tuple[tuple[float, tuple[float, ...]], ...] = ROWS,
) -> MaskStudy:
    """A study of three masks, of which one serves best."""
    glass = Telescope(
        "Elsa", Design.NEWTONIAN, Mount.HAND_MOVED, 160.0, 152.0, 1040.0, 35.0, 
        Glass(0.05, width_mm, waves), 0.79, 31.75,
    )  # fmt: skip
    setup = Setup(glass, Observer("o", 50.0, 6.0, 2.0, False, 0.5), 21.0, 2.0, 0.2)
    good = step(0.0, (1.3, 2.45, 1.95, 1.0))
    return mask_study(setup, [step(*row) for row in rows], good)
