"""How much a target is worth going out for tonight: 0 to about 100.

Every number here is our own judgement, not a measurement; it decides only the order of a list.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.targets.kind import Kind
from planner.verdict.pairs.criteria import SplitClass

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.systems import Systems
    from planner.targets.deepsky import DeepSky
    from planner.targets.pairs import Pairs

    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]

CLASS_WORTH = {
    SplitClass.NOT_SPLIT: 0.0,
    SplitClass.ELONGATED: 10.0,
    SplitClass.NOTCHED: 26.0,
    SplitClass.JUST: 40.0,
    SplitClass.CLEAN: 46.0,
}
BODY_WORTH = {
    "Moon": 84.0, "Jupiter": 95.0, "Saturn": 97.0, "Mars": 70.0, "Venus": 72.0,
    "Mercury": 55.0, "Uranus": 58.0, "Neptune": 52.0,
}  # fmt: skip
KIND_WORTH = {  # few planetaries and bright nebulae, many open clusters
    Kind.PLANETARY_NEBULA: 6.0, Kind.NEBULA: 12.0, Kind.GALAXY: 2.0, Kind.GLOBULAR_CLUSTER: -1.0,
    Kind.OPEN_CLUSTER: -6.0,
}  # fmt: skip
NEBULA_UNKNOWN_WORTH = -30.0
COLOUR_CONTRAST_BV = 0.5
MULTIPLE_WORTH = 3.0  # for every further pair of the system that shows
WIDE_ARCSEC = (40.0, 120.0)  # from here on two stars rather than a pair, each step once more


def pair_worth(
    pairs: Pairs,
    split_class: NDArray[np.int8],
    altitude_deg: Floats,
    chance_alignment: NDArray[np.bool_],
) -> Floats:
    """Worth of pairs (P,): how well split, bright, named, coloured and high they are."""
    worth = np.array([CLASS_WORTH[SplitClass(c)] for c in range(5)])[split_class]
    worth = worth + np.clip(2.0 * (8.0 - pairs.v1), 0.0, 12.0)
    worth = worth + np.clip(3.0 * (9.5 - pairs.v2), 0.0, 15.0)
    worth = worth + 4.0 * (pairs.proper_name != "") + 5.0 * (pairs.name != "")
    contrast = np.abs(pairs.colour2_bv - pairs.colour1_bv) > COLOUR_CONTRAST_BV
    worth = worth + 7.0 * contrast
    wide = sum(12.0 * (pairs.separation_arcsec > limit) for limit in WIDE_ARCSEC)
    worth = worth - wide - 20.0 * chance_alignment
    return np.asarray(worth + _height(altitude_deg))


def deepsky_worth(
    objects: DeepSky, margin_mag: Floats, altitude_deg: Floats, by_stars: NDArray[np.bool_]
) -> Floats:
    """Worth of deep-sky objects (N,): how surely seen, bright, large, known, rare and high.

    ``by_stars`` marks what is judged by its stars: a nebula among them may not show itself.
    """
    known = np.array([_renown(names) for names in objects.names], dtype=float)
    margin = np.nan_to_num(margin_mag, nan=-1.0)
    bright = np.nan_to_num(np.clip(2.5 * (8.5 - objects.v_mag), 0.0, 10.0))
    kind = np.array([KIND_WORTH.get(kind, 0.0) for kind in objects.kind], dtype=float)
    kind = np.where(by_stars & (objects.kind == Kind.NEBULA), NEBULA_UNKNOWN_WORTH, kind)
    large = 2.0 * np.clip(np.log2(np.fmax(objects.major_arcmin, 1.0)), 0.0, 3.0)
    worth = 16.0 + 9.0 * np.clip(margin, -1.0, 4.0) + bright + large + known + kind
    worth = worth + 6.0 * (objects.common_name != "")
    return np.asarray(np.maximum(worth + _height(altitude_deg), 0.0))


def body_worth(names: Texts, altitude_deg: Floats, diameter_arcsec: Floats) -> Floats:
    """Worth of the Moon and planets (N,); Mars by the size of its disc."""
    worth = np.array([BODY_WORTH[name] for name in names], dtype=float)
    mars = np.clip(2.5 * (diameter_arcsec - 10.0), -25.0, 25.0)
    return np.asarray(worth + np.where(names == "Mars", mars, 0.0) + _height(altitude_deg))


def system_worth(systems: Systems, shown: NDArray[np.bool_], worth: Floats) -> Floats:
    """Worth of each system (S,): of its leading pair, and more for further pairs that show.

    ``shown`` and ``worth`` are those of the pairs, (N,).
    """
    before = np.append(0, np.cumsum(shown[systems.rows]))
    further = np.clip(np.diff(before[systems.starts]) - 1.0, 0.0, 3.0)
    return np.asarray(worth[systems.lead] + MULTIPLE_WORTH * further)


def _renown(names: str) -> float:
    listed = names.split("|")
    if any(name.startswith("M ") for name in listed):
        return 18.0
    return 12.0 if any(name.startswith("Caldwell ") for name in listed) else 0.0


def _height(altitude_deg: Floats) -> Floats:
    """Up to ten points for height: all from 60 degrees, none at 15."""
    return np.asarray(10.0 * np.clip((np.nan_to_num(altitude_deg) - 15.0) / 45.0, 0.0, 1.0))
