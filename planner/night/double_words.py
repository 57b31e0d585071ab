"""Names and reasons of double stars, in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from planner.verdict.split_criteria import UNEQUAL_FROM_MAG, SplitClass

if TYPE_CHECKING:
    from planner.targets.pairs import Pairs

CLASS_NAMES = {
    SplitClass.NOT_SPLIT: "not split",
    SplitClass.ELONGATED: "elongated",
    SplitClass.NOTCHED: "notched",
    SplitClass.JUST: "just",
    SplitClass.CLEAN: "clean",
}


def pair_name(pairs: Pairs, row: int) -> str:
    """The star's letter or number and its own name; else the discoverer's number."""
    parts = [pairs.name[row] or pairs.discoverer[row], pairs.proper_name[row]]
    words = " ".join(part for part in parts if part)
    components = pairs.components[row]
    if not words:
        words = f"HIP {pairs.hip[row]}" if pairs.hip[row] else pairs.pair_id[row]
    return words if components in ("", "AB") else f"{words} {components}"


def pair_designations(pairs: Pairs, row: int) -> tuple[str, ...]:
    """Every name of a pair."""
    hip = f"HIP {pairs.hip[row]}" if pairs.hip[row] else ""
    wds = f"WDS {pairs.wds[row]}" if pairs.wds[row] else ""
    names = (pairs.proper_name[row], pairs.name[row], pairs.discoverer[row], wds, hip)
    return tuple(str(name) for name in names if name)


def whole_tenths(seeing_arcsec: float) -> float:
    """Worst seeing cut to whole tenths, never rounded up: what is told must still hold."""
    return math.floor(seeing_arcsec * 10.0 + 1e-6) / 10.0


def seeing_words(just: float, notched: float, elongated: float, difference_mag: float) -> str:
    """In which seeing a pair goes, from the worst zenith seeing of each class, 0 for never."""
    if just > 0.0:
        how = "split" if difference_mag < UNEQUAL_FROM_MAG else "companion held"
        return f'{how} in seeing up to about {whole_tenths(just):.1f}"'
    if notched > 0.0:
        return f'at best notched, in seeing up to about {whole_tenths(notched):.1f}"'
    if elongated > 0.0 and difference_mag < UNEQUAL_FROM_MAG:
        return f'at best elongated, in seeing up to about {whole_tenths(elongated):.1f}"'
    return "beyond this telescope in any seeing"
