"""Which known pair an imported orbit belongs to where no identifier says so: by its place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.angles import unit_vectors
from planner.constants import J2000_YEAR
from planner.importers.incoming import COARSE_ARCSEC
from planner.importers.merging import BRIGHTNESS_MAG, EQUAL_MAG, UNKNOWN
from planner.importers.tracks import Spots, near_tracks, tracks_of
from planner.targets.columns import frozen, objects, rows_of
from planner.targets.orbit import Orbits, apparent_places, position_angle_shift_deg
from planner.targets.pairs import (
    AGREEMENT_ARCSEC,
    AGREEMENT_SHARE,
    NO_ORBIT,
    Pairs,
    combined_magnitude,
    match_orbits,
    take,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Fitted:
    """Orbits beside the pairs they belong to.

    ``orbits`` bear the identifier and components of their pairs. ``gains_from`` (N,) is the
    identifier of a pair that has no WDS identifier and gains the orbit's, empty elsewhere.
    ``unused`` (N,) are orbits that fit no known pair.
    """

    orbits: Orbits
    gains_from: NDArray[np.object_]
    unused: Bools


def fitted(pairs: Pairs, orbits: Orbits, ra_deg: Floats, dec_deg: Floats) -> Fitted:
    """Give each orbit to its pair: by identifier, Hipparcos number, or place (J2000, degrees).

    By place a pair is believed within 75" (the motion of a pair without Hipparcos number is not
    known) when the orbit agrees with its measure as a point, in brightness, and in discoverer or
    components unless the pair has no designation.
    """
    by_name = match_orbits(pairs, orbits)
    unused = np.ones(len(orbits), dtype=bool)
    unused[by_name[by_name != NO_ORBIT]] = False
    row = np.full(len(orbits), UNKNOWN)
    free = np.flatnonzero(unused)
    without = np.flatnonzero(by_name == NO_ORBIT)
    mine, theirs, off = _agreeing(pairs, orbits, (free, without), (ra_deg, dec_deg))
    taken: set[int] = set()
    for one in np.argsort(off, kind="stable").tolist():
        own, other = int(mine[one]), int(theirs[one])
        if row[own] == UNKNOWN and other not in taken:
            row[own] = other
            taken.add(other)
    found = np.flatnonzero(row != UNKNOWN)
    unused[found] = False
    own_names = take(pairs, row[found])
    nameless = own_names.wds == ""
    gains = objects(("",) * len(orbits)).copy()
    gains[found[nameless]] = own_names.pair_id[nameless]
    return Fitted(_renamed(orbits, found, own_names), frozen(gains), unused)


def named_by_orbits(pairs: Pairs, rows: Integers, orbits: Orbits) -> Pairs:
    """Pairs of some rows with the identifier of their orbits (one for each row).

    With it come discoverer and components where the pair has no discoverer. What a pair has
    already stays.
    """
    wanting = pairs.wds[rows] == ""
    nameless = wanting & (pairs.discoverer[rows] == "")
    changed: dict[str, Any] = {}
    for name, where in (("wds", wanting), ("discoverer", nameless), ("components", nameless)):
        column = getattr(pairs, name).copy()
        column[rows[where]] = getattr(orbits, name)[where]
        changed[name] = frozen(column)
    return replace(pairs, **changed)


def _agreeing(
    pairs: Pairs,
    orbits: Orbits,
    asked: tuple[Integers, Integers],
    place_deg: tuple[Floats, Floats],
) -> tuple[Integers, Integers, Floats]:
    """Rows of the orbits and of the pairs that agree, out of those asked for; how far off."""
    free, without = asked
    some, count = take(pairs, without), len(free)
    year = np.full(count, J2000_YEAR)
    spots = Spots(
        place=unit_vectors(place_deg[0][free], place_deg[1][free]),
        motion=np.full((count, 3), np.nan),
        first_yr=year,
        last_yr=year,
        error_arcsec=np.full(count, COARSE_ARCSEC),
    )
    own, other, _ = near_tracks(spots, tracks_of(some))
    mine, theirs = free[own], without[other]
    pair, orbit = take(pairs, theirs), rows_of(orbits, mine)
    off = _off_arcsec(pair, orbit)
    light = np.abs(combined_magnitude(orbit.v1, orbit.v2) - combined_magnitude(pair.v1, pair.v2))
    alike = (pair.wds == "") & (pair.discoverer == "")
    alike |= (pair.discoverer == orbit.discoverer) | (pair.components == orbit.components)
    alike &= (pair.wds != orbit.wds) | (pair.discoverer == orbit.discoverer)
    allowed = AGREEMENT_ARCSEC + AGREEMENT_SHARE * pair.separation_arcsec
    good = (off <= allowed) & ~(light > BRIGHTNESS_MAG) & alike.astype(bool)
    return mine[good], theirs[good], off[good]


def _off_arcsec(pairs: Pairs, orbits: Orbits) -> Floats:
    """How far each orbit misses its pair's measure on the sky; NaN without a year of it.

    Without a position angle only the separations are compared; a pair of equal stars may be
    seen from either.
    """
    separation, angle = apparent_places(orbits, pairs.epoch_yr)
    angle = angle + position_angle_shift_deg(pairs.ra_deg, pairs.dec_deg, orbits.node_equinox_yr)
    measured = pairs.separation_arcsec
    turn = np.nan_to_num(np.cos(np.radians(angle - pairs.position_angle_deg)), nan=1.0)
    equal = np.abs(pairs.v1 - pairs.v2) <= EQUAL_MAG
    turn = np.where(equal, np.abs(turn), turn)
    square = separation**2 + measured**2 - 2.0 * separation * measured * turn
    return np.asarray(np.sqrt(np.maximum(square, 0.0)))


def _renamed(orbits: Orbits, rows: Integers, pairs: Pairs) -> Orbits:
    """The orbits with the identifiers and components of the pairs that some of them belong to.

    A pair without a designation will bear the orbit's, see ``named_by_orbits``.
    """
    wds, components = orbits.wds.copy(), orbits.components.copy()
    wds[rows] = np.where(pairs.wds == "", wds[rows], pairs.wds)
    nameless = (pairs.wds == "") & (pairs.discoverer == "")
    components[rows] = np.where(nameless, components[rows], pairs.components)
    return replace(orbits, wds=frozen(wds), components=frozen(components))
