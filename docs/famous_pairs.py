"""Write the table of well-known pairs in docs/models.md, for the example telescope.

The pairs are those of the planner's own catalog, so that the table says what the commands say.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from generated import with_part, write_or_check

from planner.importers.library import load_all_orbits, load_all_pairs
from planner.kit.reading import load_kit
from planner.targets.pairs import at_epoch, take
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.judge import judge_pairs, split_conditions, split_instrument
from planner.verdict.pairs.lookup import limiting_seeing
from planner.verdict.pairs.tables import build_split_tables
from planner.verdict.setup import Setup

if TYPE_CHECKING:
    from planner.targets.pairs import Pairs

PAGE = Path(__file__).with_name("models.md")
PART = "famous pairs"
YEAR = 2027.0
PAIRS = {  # discoverer and components: how the table calls the pair
    ("STF 1110", "AB"): "Castor AB",
    ("STF 1877", "AB"): "Izar",
    ("STF 2382", "AB"): "eps1 Lyr",
    ("STF 2383", "CD"): "eps2 Lyr",
    ("STF 1670", "AB"): "Porrima",
    ("STF 2909", "AB"): "zeta Aqr",
    ("STF 2822", "AB"): "mu Cyg",
    ("STF 73", "AB"): "36 And",
    ("STF 333", "AB"): "eps Ari",
    ("STF 2579", "AB"): "delta Cyg",
    ("STT 545", "AB"): "theta Aur",
    ("STF 2084", "AB"): "zeta Her",
    ("STF 668", "A,BC"): "Rigel",
    ("GNT 1", "AB"): "Antares",
    ("AGC 1", "AB"): "Sirius",
    ("STF 93", "AB"): "Polaris",
    ("STF 1865", "AB"): "zeta Boo",
    ("STF 1937", "AB"): "eta CrB",
}
CLASSES = (SplitClass.NOTCHED, SplitClass.JUST, SplitClass.CLEAN)


def table() -> str:
    """Worst zenith seeing of each pair overhead, for each class in the view that suits it best."""
    kit = load_kit()
    place = kit.site()
    setup = Setup(
        telescope=kit.telescope(),
        observer=kit.observer,
        zenith_sky_mag=place.zenith_sky_mag,
        seeing_arcsec=place.seeing_arcsec,
        extinction_mag=place.extinction_mag,
    )
    liked = [
        view
        for view in kit.views(setup.telescope)
        if view.exit_pupil_mm >= kit.observer.least_exit_pupil_mm
    ]
    powers = [view.magnification for view in liked]
    tables = build_split_tables(
        split_instrument(setup), powers, [view.exit_pupil_mm for view in liked]
    )
    pairs, ones = _pairs(), np.ones(len(PAIRS))
    overhead = split_conditions(setup, liked, ones, setup.zenith_sky_mag * ones, 0.0 * ones)
    worst = limiting_seeing(tables, pairs, overhead)
    chosen = judge_pairs(setup, liked, tables, pairs, overhead).view
    lines = [
        "| pair | separation | V | notched or glimpsed | just or held | clean or plain | power |",
        "|---|---|---|---|---|---|---|",
    ]
    columns = (pairs.separation_arcsec, pairs.v1, pairs.v2, worst.max(axis=1), chosen)
    for name, separation, v1, v2, best, view in zip(PAIRS.values(), *columns, strict=True):
        cells = [name, f'{separation:.1f}"', f"{v1:.1f} + {v2:.1f}"]
        cells += [_seeing(best[split_class - 1]) for split_class in CLASSES]
        cells.append(f"{powers[view]:.0f}x" if best.max() > 0.0 else "-")
        lines.append(f"| {' | '.join(cells)} |")
    return "\n".join(lines)


def _pairs() -> Pairs:
    """The table's pairs in its order, where they stand in ``YEAR``."""
    known, orbits = load_all_pairs(None), load_all_orbits(None)
    names = list(zip(known.discoverer, known.components, strict=True))
    rows = np.array([names.index(pair) for pair in PAIRS])
    chosen = take(known, rows)
    return at_epoch(chosen, orbits, YEAR)


def _seeing(arcsec: float) -> str:
    return f'{arcsec:.1f}"' if arcsec > 0.0 else "-"


if __name__ == "__main__":
    text = PAGE.read_text(encoding="utf-8")
    write_or_check(PAGE, with_part(text, PART, table()), "famous_pairs.py")
