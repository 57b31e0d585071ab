"""One group of judged targets, ready to be ranked against the others."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    import numpy as np
    from numpy.typing import NDArray

    from planner.night.course import Course
    from planner.night.plan import PlannedTarget


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """N targets of one group: whether each is shown, its worth, and how to write it out.

    ``considered`` counts the targets looked at, with those left out at once as hopeless;
    ``ids`` are those of the planned targets.
    ``worth`` runs from 0 to about 100; ``write`` makes the planned target of one index, so
    that only the targets listed are written out, and ``course`` its way through the night.
    """

    considered: int
    ids: NDArray[np.object_]
    shown: NDArray[np.bool_]
    worth: NDArray[np.float64]
    write: Callable[[int], PlannedTarget]
    course: Callable[[int], Course]

    def __len__(self) -> int:
        """Number of targets."""
        return len(self.shown)
