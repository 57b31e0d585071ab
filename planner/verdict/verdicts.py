"""The one shape of every verdict: can this instrument show a target, how surely, what limits it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum, StrEnum
from typing import TYPE_CHECKING, Generic, TypeVar

import numpy as np

from planner.targets.columns import rows_of, with_rows

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Bools = NDArray[np.bool_]
    Codes = NDArray[np.int8]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

NO_VIEW = -1
NO_FILTER = -1
FARTHEST_INSIDE = 10.0  # uncertainties; beyond it nobody can tell the difference

Detail = TypeVar("Detail")


class Limit(IntEnum):
    """What stands between a target and a better view of it."""

    NOTHING = 0
    COMPANION_TOO_FAINT = 1
    POWER_TOO_LOW = 2
    ALTITUDE = 3
    SEEING = 4
    GLARE = 5
    RESOLUTION = 6
    MOON = 7
    TWILIGHT = 8
    HAZE = 9
    SKY_GLOW = 10
    FAINTNESS = 11
    SPREAD_LIGHT = 12
    SMALLNESS = 13
    UNKNOWN_BRIGHTNESS = 14


class MarginUnit(StrEnum):
    """What margins are counted in: magnitudes in hand, or seeing worse than tonight's."""

    MAGNITUDES = "mag"
    SEEING = "arcsec of seeing"


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """Margins of targets, and the view and filter that give them: arrays of one shape.

    (N, T) for N targets at T moments, (N,) for each at one moment.

    ``margin`` is NaN where it is unknown, infinite for the Moon; ``view`` is ``NO_VIEW`` for none.
    """

    margin: Floats
    view: Ints
    filter_index: Ints


@dataclass(frozen=True, slots=True, eq=False)
class Verdicts(Generic[Detail]):
    """N targets of one kind, each judged at one moment; arrays are (N,).

    ``step`` and ``limit`` are numbers of ``Step`` and ``Limit``. ``shown`` says whether the
    target is worth a look. ``margin`` is how far it is inside, in ``unit``, negative for short of
    it, NaN unknown, and ``uncertainty`` about one standard error of the models, in the same unit.
    ``view`` and ``filter_index`` count in the views and filters judged for, -1 none.
    ``detail`` is a table of the same N rows with what only this kind of target has.
    """

    step: Codes
    shown: Bools
    limit: Codes
    margin: Floats
    uncertainty: Floats
    unit: MarginUnit
    view: Ints
    filter_index: Ints
    detail: Detail

    @property
    def inside(self) -> Floats:
        """How far inside, on one scale for all kinds: margins over uncertainties, -10..10.

        0 is an even chance, 1 about 5 to 1 on; NaN where the margin is unknown.
        """
        with np.errstate(invalid="ignore"):
            share = self.margin / self.uncertainty
        return np.asarray(np.clip(share, -FARTHEST_INSIDE, FARTHEST_INSIDE))

    def rows(self, rows: ArrayLike) -> Verdicts[Detail]:
        """Some of the targets (integers or a mask), in the order given."""
        chosen = np.asarray(rows)
        columns = {name: getattr(self, name)[chosen] for name in _COLUMNS}
        return replace(self, **columns, detail=rows_of(self.detail, chosen))

    def with_rows(self, rows: ArrayLike, values: Verdicts[Detail]) -> Verdicts[Detail]:
        """The same with some rows (integers) replaced by those of another table."""
        chosen = np.asarray(rows)
        columns = {}
        for name in _COLUMNS:
            columns[name] = getattr(self, name).copy()
            columns[name][chosen] = getattr(values, name)
        return replace(self, **columns, detail=with_rows(self.detail, chosen, values.detail))


_COLUMNS = ("step", "shown", "limit", "margin", "uncertainty", "view", "filter_index")
