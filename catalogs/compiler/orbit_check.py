"""The typed orbits against the measures of 2016: which of them to doubt."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from planner.constants import GAIA_DR3_YEAR, J2000_YEAR
from planner.targets.catalog import load_orbits, load_pairs
from planner.targets.columns import rows_of
from planner.targets.orbit import Orbits, apparent_places, position_angle_shift_deg
from planner.targets.pairs import NO_ORBIT, Pairs, at_epoch, match_orbits, places_at, take

ROUGH_GRADE = 4  # 4 preliminary, 5 indeterminate, of the Sixth Catalog of Orbits
OFF_ARCSEC, OFF_SHARE = 0.1, 0.1  # a rough orbit this far from the measure is listed
MEASURE = "Gaia DR3"  # in the source of a measure


@dataclass(frozen=True, slots=True)
class Compared:
    """One orbit beside the measure of its pair: places (arcsec, deg), and how far apart."""

    label: str
    grade: int
    orbit: tuple[float, float]
    measure: tuple[float, float]
    off_arcsec: float

    @property
    def doubtful(self) -> bool:
        """Whether a rough orbit misses the measure by more than 0.1" and a tenth of it."""
        allowed = max(OFF_ARCSEC, OFF_SHARE * self.measure[0])
        return self.grade >= ROUGH_GRADE and self.off_arcsec > allowed


def compared(pairs: Pairs, orbits: Orbits, year: float = GAIA_DR3_YEAR) -> list[Compared]:
    """Every orbit whose pair Gaia measured, the farthest off first."""
    row = match_orbits(pairs, orbits)
    from_gaia = np.array([MEASURE in text for text in pairs.source.tolist()], dtype=bool)
    chosen = np.flatnonzero((row != NO_ORBIT) & from_gaia)
    measured, used = take(pairs, chosen), rows_of(orbits, row[chosen])
    separation, angle = apparent_places(used, year)
    equinox = used.node_equinox_yr
    angle = angle + position_angle_shift_deg(measured.ra_deg, measured.dec_deg, equinox)
    turn = np.radians(angle - measured.position_angle_deg)
    own = measured.separation_arcsec
    off = np.sqrt(separation**2 + own**2 - 2.0 * separation * own * np.cos(turn))
    found = [
        Compared(
            f"{used.discoverer[k]} {used.components[k]} {used.name[k]}".strip(),
            int(used.grade[k]),
            (float(separation[k]), float(angle[k] % 360.0)),
            (float(own[k]), float(measured.position_angle_deg[k])),
            float(off[k]),
        )
        for k in range(len(used))
    ]
    return sorted(found, key=lambda item: -item.off_arcsec)


def carried(table: pd.DataFrame, year: float) -> pd.DataFrame:
    """The shipped pairs as their orbits put them in a year, at their places of J2000.

    ``table`` holds rows of the shipped file under their numbers. Tables give places of J2000,
    whatever the date of a measure.
    """
    shipped = load_pairs()
    then = at_epoch(shipped, load_orbits(), year)
    ra_deg, dec_deg = places_at(shipped, J2000_YEAR)
    columns = {
        "ra_deg": ra_deg,
        "dec_deg": dec_deg,
        "separation_arcsec": then.separation_arcsec,
        "position_angle_deg": then.position_angle_deg,
    }
    rows = table.index.to_numpy()
    return table.assign(**{name: values[rows] for name, values in columns.items()})


def orbit_report(rows: list[Compared], whole: bool = False) -> str:
    """The figures as printed: the doubtful orbits, or all of them."""
    doubtful = [row for row in rows if row.doubtful]
    off = np.array([row.off_arcsec for row in rows])
    lines = [
        f"typed orbits against Gaia at {GAIA_DR3_YEAR:g}: {len(rows)} compared, median "
        f'{np.median(off):.3f}" apart; rough and far off: {len(doubtful)}'
    ]
    for row in rows if whole else doubtful:
        lines.append(
            f'  {row.label} (grade {row.grade}): orbit {row.orbit[0]:.3f}" {row.orbit[1]:.1f} deg,'
            f' measure {row.measure[0]:.3f}" {row.measure[1]:.1f} deg, {row.off_arcsec:.3f}" apart'
            + (" - look at it" if row.doubtful and whole else "")
        )
    return "\n".join(lines)


def shipped_report(whole: bool) -> str:
    """The report on the catalogs as they are shipped."""
    return orbit_report(compared(load_pairs(), load_orbits()), whole)
