"""The telescopes and pairs that the tests of splitting share; all invented or from memory."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.figure import Figure
from planner.verdict.pairs.lookup import SplitConditions, StudyPairs, limiting_seeing
from planner.verdict.pairs.tables import SplitInstrument, SplitTables, build_split_tables

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

POWERS = (33.0, 58.0, 104.0, 149.0, 208.0, 260.0)
DEEP_ENOUGH_MAG = 13.0
EXTINCTION_MAG = 0.16


def telescope(**changes: float) -> SplitInstrument:
    """A six-inch reflector: 154 mm clear, obstruction 0.227, 0.055 wave RMS."""
    values = {"clear_aperture_mm": 154.0, "obstruction_ratio": 0.227, **changes}
    return SplitInstrument(figure=Figure(0.055), **values)


@lru_cache(maxsize=8)
def tables_of(instrument: SplitInstrument, powers: tuple[float, ...] = POWERS) -> SplitTables:
    """Tables, built once a test run."""
    return build_split_tables(
        instrument, powers, [instrument.clear_aperture_mm / p for p in powers]
    )


def six_inch() -> SplitTables:
    """Tables of the six-inch in six views."""
    return tables_of(telescope())


def pairs(separation: ArrayLike, v1: ArrayLike, v2: ArrayLike) -> StudyPairs:
    """Pairs from scalars or sequences."""
    columns = np.broadcast_arrays(
        *(np.atleast_1d(np.asarray(a, float)) for a in (separation, v1, v2))
    )
    return StudyPairs(*columns)


def random_pairs(count: int, seed: int = 3) -> StudyPairs:
    """Pairs as a catalogue holds them: 0.4 to 40 arcsec, to 6 mag of difference."""
    rng = np.random.default_rng(seed)
    v1 = rng.uniform(2.0, 8.0, count)
    return StudyPairs(10.0 ** rng.uniform(-0.4, 1.6, count), v1, v1 + rng.uniform(0.0, 6.0, count))


def sky(
    airmass: ArrayLike = 1.0, extinction: float = EXTINCTION_MAG, **more: ArrayLike
) -> SplitConditions:
    """Conditions deep enough that no companion of the tests is too faint."""
    return SplitConditions(airmass, extinction, more.pop("limit", DEEP_ENOUGH_MAG), **more)


def worst_of(
    found: StudyPairs, conditions: SplitConditions | None = None, tables: SplitTables | None = None
) -> NDArray[np.float32]:
    """Worst seeing (P, V, C) in the six-inch unless told otherwise."""
    return limiting_seeing(tables or six_inch(), found, conditions or sky())


# Separation, magnitudes from memory, near 2025
FAMOUS: Sequence[tuple[str, float, float, float]] = (
    ("Castor AB", 5.4, 1.9, 3.0),
    ("Izar", 2.9, 2.6, 4.8),
    ("eps1 Lyr", 2.3, 5.1, 6.0),
    ("eps2 Lyr", 2.4, 5.3, 5.4),
    ("Porrima", 3.0, 3.5, 3.5),
    ("zeta Aqr", 2.4, 4.3, 4.5),
    ("mu Cyg", 1.5, 4.7, 6.1),
    ("36 And", 1.1, 6.1, 6.5),
    ("eps Ari", 1.4, 5.2, 5.5),
    ("del Cyg", 2.75, 2.9, 6.3),
    ("theta Aur", 4.1, 2.7, 7.2),
    ("zeta Her", 1.45, 2.8, 5.5),
    ("Rigel", 9.4, 0.2, 6.7),
    ("Antares", 2.6, 1.0, 5.4),
    ("Sirius", 11.2, -1.46, 8.5),
    ("Polaris", 18.4, 2.0, 9.1),
    ("gam And BC", 0.2, 5.0, 6.0),
    ("eta CrB", 0.45, 5.6, 5.9),
)


def famous() -> StudyPairs:
    """The well-known pairs as arrays."""
    return pairs(*zip(*((s, a, b) for _, s, a, b in FAMOUS), strict=True))
