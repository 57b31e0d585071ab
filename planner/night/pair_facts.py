"""What is worked out for all pairs of a list at once: orbits ahead, and chance alignments."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import highest_altitude_deg
from planner.importers.library import load_all_orbits
from planner.sky.airmass import airmass
from planner.targets.columns import rows_of
from planner.targets.pairs import NO_ORBIT, Pairs, by_chance, take
from planner.verdict.pairs.outlook import Outlook, OutlookPairs, outlooks

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.judging import Judged

    Ints = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class PairFacts:
    """By row: what the orbit of a pair holds, and whether it is probably by chance."""

    outlook: dict[int, Outlook]
    by_chance: dict[int, bool]


def pair_facts(conditions: Conditions, judged: Judged, numbers: Ints) -> PairFacts:
    """What is worked out for all pairs of the list's targets at once; nothing for other kinds."""
    pairs = judged.targets
    if not isinstance(pairs, Pairs) or not len(numbers):
        return PairFacts({}, {})
    rows = np.concatenate([judged.systems.members(int(number)) for number in numbers])
    chance = dict(zip(rows.tolist(), by_chance(take(pairs, rows)).tolist(), strict=True))
    return PairFacts(_outlooks(conditions, judged, rows), chance)


def _outlooks(conditions: Conditions, judged: Judged, rows: Ints) -> dict[int, Outlook]:
    """What orbits hold for the next twenty years, at each pair's greatest height here, by row."""
    pairs: Pairs = judged.targets
    highest = highest_altitude_deg(conditions.request.site, pairs.dec_deg[rows])
    known = (pairs.orbit_row[rows] != NO_ORBIT) & (highest > 0.0)
    rows, path = rows[known], np.asarray(airmass(highest[known]))
    if not rows.size:
        return {}
    told = OutlookPairs(
        v1=pairs.v1[rows],
        v2=pairs.v2[rows],
        airmass=path,
        dispersion_along_arcsec=np.asarray(judged.judge.air.half_arcsec(path)),
        sky_mag=conditions.request.zenith_sky_mag,
    )
    orbits = load_all_orbits(conditions.request.library_folder)
    found = outlooks(
        judged.judge,
        rows_of(orbits, pairs.orbit_row[rows]),
        told,
        float(conditions.grid.years[0]),
    )
    return dict(zip(rows.tolist(), found, strict=True))
