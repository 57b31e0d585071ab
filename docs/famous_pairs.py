"""Write the table of well-known pairs in docs/models.md, for the example telescope.

Separations (about 2025) and magnitudes are from memory, for this table alone: the planner's
own catalog is not asked, so that the table shows the image model and nothing else.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from generated import with_part, write_or_check

from planner.kit.reading import load_kit
from planner.verdict.doubles import split_instrument, zenith_limits_mag
from planner.verdict.instrument import Setup
from planner.verdict.split_choice import choose_view
from planner.verdict.split_criteria import SplitClass
from planner.verdict.split_lookup import PairInput, SplitConditions, worst_seeing
from planner.verdict.split_tables import build_split_tables

if TYPE_CHECKING:
    from numpy.typing import NDArray

PAGE = Path(__file__).with_name("models.md")
PART = "famous pairs"
PAIRS = (  # name, separation in arcsec, V of both: from memory
    ("Castor AB", 5.4, 1.9, 3.0),
    ("Izar", 2.9, 2.5, 4.7),
    ("eps1 Lyr", 2.3, 5.0, 6.1),
    ("eps2 Lyr", 2.4, 5.3, 5.4),
    ("Porrima", 3.0, 3.5, 3.5),
    ("zeta Aqr", 2.4, 4.3, 4.5),
    ("mu Cyg", 1.5, 4.8, 6.2),
    ("36 And", 1.1, 6.1, 6.5),
    ("eps Ari", 1.4, 5.2, 5.5),
    ("delta Cyg", 2.75, 2.9, 6.3),
    ("theta Aur", 4.1, 2.7, 7.2),
    ("zeta Her", 1.45, 2.9, 5.6),
    ("Rigel", 9.4, 0.3, 6.8),
    ("Antares", 2.6, 1.0, 5.4),
    ("Sirius", 11.2, -1.5, 8.5),
    ("Polaris", 18.4, 2.0, 9.1),
    ("gamma And BC", 0.2, 5.0, 6.0),
    ("eta CrB", 0.45, 5.6, 5.9),
)
CLASSES = (SplitClass.NOTCHED, SplitClass.JUST, SplitClass.CLEAN)


def table() -> str:
    """Worst zenith seeing of each pair overhead, for each class in the view that suits it best."""
    kit = load_kit()
    place = kit.place()
    setup = Setup(
        telescope=kit.telescope(),
        observer=kit.observer,
        sky_mag=place.zenith_sky_mag,
        seeing_arcsec=place.seeing_arcsec,
        extinction_mag=place.extinction_mag,
    )
    liked = [
        view
        for view in kit.views(setup.telescope)
        if view.exit_pupil_mm >= kit.observer.least_exit_pupil_mm
    ]
    powers = np.array([view.magnification for view in liked])
    exit_pupils = np.array([view.exit_pupil_mm for view in liked])
    worst = _worst_overhead(setup, powers, exit_pupils)
    chosen = choose_view(worst, powers, exit_pupils, setup.observer.least_exit_pupil_mm)
    lines = [
        "| pair | separation | V | notched or glimpsed | just or held | clean or plain | power |",
        "|---|---|---|---|---|---|---|",
    ]
    for (name, separation, v1, v2), best, view in zip(
        PAIRS, worst.max(axis=1), chosen, strict=True
    ):
        cells = [name, f'{separation:g}"', f"{v1:.1f} + {v2:.1f}"]
        cells += [_seeing(best[split_class - 1]) for split_class in CLASSES]
        cells.append(f"{powers[view]:.0f}x" if best.max() > 0.0 else "-")
        lines.append(f"| {' | '.join(cells)} |")
    return "\n".join(lines)


def _worst_overhead(
    setup: Setup, powers: NDArray[np.float64], exit_pupils_mm: NDArray[np.float64]
) -> NDArray[np.float32]:
    """Worst zenith seeing (pairs, views, classes) at the zenith of the example's sky."""
    separation, v1, v2 = (np.array(column) for column in list(zip(*PAIRS, strict=True))[1:])
    overhead = SplitConditions(
        airmass=1.0,
        extinction_mag=setup.extinction_mag,
        limiting_mag=zenith_limits_mag(setup, exit_pupils_mm, np.full(len(PAIRS), setup.sky_mag)),
        dispersion_along_arcsec=0.0,
    )
    tables = build_split_tables(split_instrument(setup), list(powers), list(exit_pupils_mm))
    return worst_seeing(tables, PairInput(separation, v1, v2), overhead)


def _seeing(arcsec: float) -> str:
    return f'{arcsec:.1f}"' if arcsec > 0.0 else "-"


if __name__ == "__main__":
    text = PAGE.read_text(encoding="utf-8")
    write_or_check(PAGE, with_part(text, PART, table()), "famous_pairs.py")
