"""Names and reasons of double stars, in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from planner.targets.place_name import place_name
from planner.verdict.split_criteria import UNEQUAL_FROM_MAG, SplitClass

if TYPE_CHECKING:
    from planner.targets.pairs import Pairs

BAD_SEEING_ARCSEC = 5.0  # nobody observes in worse; common practice, no source
OVER = f'over {BAD_SEEING_ARCSEC:.0f}"'
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
        place = place_name(pairs.constellation[row], pairs.ra_deg[row], pairs.dec_deg[row])
        words = place or pairs.pair_id[row]
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


def seeing_told(seeing_arcsec: float) -> str:
    """Worst seeing for a reader: to a tenth, and no number where no night is so bad."""
    if seeing_arcsec > BAD_SEEING_ARCSEC:
        return OVER
    return f'about {whole_tenths(seeing_arcsec):.1f}"'


def seeing_words(just: float, notched: float, elongated: float, difference_mag: float) -> str:
    """In which seeing a pair goes, from the worst zenith seeing of each class, 0 for never."""
    unequal = difference_mag >= UNEQUAL_FROM_MAG
    if just > 0.0:
        how, seeing = "companion held" if unequal else "split", just
    elif notched > 0.0:
        how, seeing = "companion at best glimpsed," if unequal else "at best notched,", notched
    elif elongated > 0.0 and not unequal:
        how, seeing = "at best elongated,", elongated
    else:
        return "beyond this telescope in any seeing"
    if seeing > BAD_SEEING_ARCSEC:
        return f"{how} even in seeing {OVER}"
    return f"{how} in seeing up to {seeing_told(seeing)}"
