"""Which pairs of an outside file are known already, and what a known pair gains from them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.angles import longitude_latitude_deg, unit_vectors
from planner.constants import ARCSEC_PER_RADIAN, GAIA_DR3_YEAR
from planner.targets.columns import frozen
from planner.targets.outside.incoming import COARSE_ARCSEC
from planner.targets.outside.near import near_places
from planner.targets.pairs import combined_magnitude, places_at

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.pairs import Pairs

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

UNKNOWN = -1
# How well two entries of one pair agree; own judgement, after the age of many measures.
SEPARATION_ARCSEC, SEPARATION_SHARE = 1.0, 0.2
CLOSE_ARCSEC = 3.0  # closer pairs may have turned since an old measure
TURN_DEG = 25.0
BRIGHTNESS_MAG = 1.2
EQUAL_MAG = 0.5  # so near in brightness, A and B may be swapped between catalogs
# Measures that a newer one of unknown make does not replace: differences of space positions,
# and orbits.
KEPT_SOURCES = ("Gaia", "Hipparcos", "Orbit")


@dataclass(frozen=True, slots=True)
class Known:
    """For each incoming pair the row of the known pair that it is (-1: new), and whether A and B
    are swapped in it."""

    row: Integers
    swapped: Bools


def known_rows(known: Pairs, incoming: Pairs, place_error_arcsec: Floats) -> Known:
    """Find the incoming pairs among the known ones; each known pair is found once at the most.

    First by WDS identifier, discoverer and components; then by place (``place_error_arcsec``
    (N,) for the incoming), separation, brightness and, unless close, position angle. Pairs that
    differ both in discoverer and in components are not the same, however near.
    """
    row = _by_designation(known, incoming)
    swapped = np.zeros(len(incoming), dtype=bool)
    open_rows = np.flatnonzero(row == UNKNOWN)
    taken = np.zeros(len(known), dtype=bool)
    taken[row[row != UNKNOWN]] = True
    mine, theirs, score, turned = _by_place(known, incoming, place_error_arcsec)
    fresh = np.isin(mine, open_rows) & ~taken[theirs]
    for one in np.flatnonzero(fresh)[np.argsort(score[fresh], kind="stable")].tolist():
        own, other = mine[one], theirs[one]
        if row[own] == UNKNOWN and not taken[other]:
            row[own], taken[other], swapped[own] = other, True, turned[one]
    return Known(row, swapped)


def turned_round(pairs: Pairs, swapped: Bools) -> Pairs:
    """The pairs with the position angle of the swapped ones seen from the other star."""
    angle = np.where(swapped, pairs.position_angle_deg + 180.0, pairs.position_angle_deg)
    return replace(pairs, position_angle_deg=frozen(angle % 360.0))


def enriched(known: Pairs, gains: Pairs) -> tuple[Pairs, Bools]:
    """Known pairs with what they gain from the same pairs in another catalog, row by row.

    A known pair keeps its measure where that comes from Gaia, Hipparcos or an orbit, or is not
    older; it gains designations, name, bond, motion and position angle where it had none. With
    the discoverer come the letters of the components. Also says which took the newer measure.
    """
    nameless = (known.discoverer == "") & (gains.discoverer != "")
    newer = ~_kept(known) & ~np.isnan(gains.epoch_yr)
    newer &= ~(known.measure_epoch_yr >= gains.epoch_yr)
    angle = newer & ~np.isnan(gains.position_angle_deg)
    angle |= np.isnan(known.position_angle_deg)

    def chosen(name: str, where: Bools) -> NDArray[Any]:
        return frozen(np.where(where, getattr(gains, name), getattr(known, name)))

    moving = np.isnan(known.pm_ra_mas_yr) | np.isnan(known.pm_dec_mas_yr)
    columns = {
        "discoverer": nameless,
        "components": nameless,
        "wds": nameless | (known.wds == ""),
        "name": known.name == "",
        "physical": known.physical == "",
        "pm_ra_mas_yr": moving,
        "pm_dec_mas_yr": moving,
        "position_angle_deg": angle,
        "separation_arcsec": newer,
        "epoch_yr": newer,
        "measure_epoch_yr": newer,
        "measure_source": newer,
        "source": newer,
    }
    return replace(known, **{name: chosen(name, where) for name, where in columns.items()}), newer


def _kept(known: Pairs) -> Bools:
    """Pairs whose measure stays whatever comes."""
    sources = known.measure_source.tolist()
    return np.array([any(word in text for word in KEPT_SOURCES) for text in sources], dtype=bool)


def _by_designation(known: Pairs, incoming: Pairs) -> Integers:
    rows: dict[tuple[str, str, str], int] = {}
    for row, key in enumerate(_designations(known)):
        if key[0] and key[1]:
            rows.setdefault(key, row)
    found = [rows.get(key, UNKNOWN) for key in _designations(incoming)]
    return np.array(found, dtype=np.int64)


def _designations(pairs: Pairs) -> list[tuple[str, str, str]]:
    columns = (pairs.wds.tolist(), pairs.discoverer.tolist(), pairs.components.tolist())
    return [
        (wds, discoverer.replace(" ", "").lower(), parts or "AB")
        for wds, discoverer, parts in zip(*columns, strict=True)
    ]


def _by_place(
    known: Pairs, incoming: Pairs, error_arcsec: Floats
) -> tuple[Integers, Integers, Floats, Bools]:
    """Incoming rows, known rows, how badly they agree (0 best), and whether A and B are swapped."""
    place = unit_vectors(*places_at(incoming, GAIA_DR3_YEAR))
    first = unit_vectors(*places_at(known, GAIA_DR3_YEAR))
    second = unit_vectors(*_companions(known))
    coarse = error_arcsec > COARSE_ARCSEC / 2.0
    found = []
    for rows in (np.flatnonzero(~coarse), np.flatnonzero(coarse)):
        reach = error_arcsec[rows].max(initial=0.0)
        for points, swapped in ((first, False), (second, True)):
            if len(rows):
                own, other = near_places(place[rows], points, reach / ARCSEC_PER_RADIAN)
                apart = np.linalg.norm(place[rows[own]] - points[other], axis=1)
                apart_arcsec = apart * ARCSEC_PER_RADIAN
                near = apart_arcsec <= error_arcsec[rows[own]]
                agreed = rows[own[near]], other[near], apart_arcsec[near] / reach
                found.append(_agreeing(known, incoming, *agreed, swapped))
    if not found:
        none = np.empty(0, np.int64)
        return none, none, np.empty(0), np.empty(0, bool)
    mine, theirs, score, turned = (np.concatenate(column) for column in zip(*found, strict=True))
    return mine, theirs, score, turned


def _agreeing(
    known: Pairs, incoming: Pairs, mine: Integers, theirs: Integers, score: Floats, swapped: bool
) -> tuple[Integers, Integers, Floats, Bools]:
    """The candidates that agree in all but the place."""
    separation = known.separation_arcsec[theirs]
    off = np.abs(incoming.separation_arcsec[mine] - separation)
    off = off / (SEPARATION_ARCSEC + SEPARATION_SHARE * separation)
    light = combined_magnitude(incoming.v1[mine], incoming.v2[mine])
    light = np.abs(light - combined_magnitude(known.v1[theirs], known.v2[theirs]))
    between = incoming.position_angle_deg[mine] - known.position_angle_deg[theirs]
    same = np.abs((between + 180.0) % 360.0 - 180.0)
    opposite = 180.0 - same
    equal = np.abs(known.v1[theirs] - known.v2[theirs]) <= EQUAL_MAG
    turned = (opposite <= TURN_DEG) & equal
    fits = turned if swapped else ~(same > TURN_DEG) | turned | (separation <= CLOSE_ARCSEC)
    both = (known.discoverer[theirs] != "") & (incoming.discoverer[mine] != "")
    alike = incoming.components[mine] == known.components[theirs]
    alike |= incoming.discoverer[mine] == known.discoverer[theirs]
    good = fits & (off <= 1.0) & ~(light > BRIGHTNESS_MAG) & (alike | ~both)
    total = score + off + np.nan_to_num(light)
    return mine[good], theirs[good], total[good], turned[good]


def _companions(pairs: Pairs) -> tuple[Floats, Floats]:
    """Where the companions stand, degrees; the primary's place where the angle is unknown."""
    ra, dec = places_at(pairs, GAIA_DR3_YEAR)
    angle = np.radians(np.nan_to_num(pairs.position_angle_deg))
    step = np.where(np.isnan(pairs.position_angle_deg), 0.0, pairs.separation_arcsec)
    step = step / ARCSEC_PER_RADIAN
    place = unit_vectors(ra, dec)
    east, north = unit_vectors(ra + 90.0, np.zeros_like(dec)), unit_vectors(ra, dec + 90.0)
    along = np.sin(angle)[:, None] * east + np.cos(angle)[:, None] * north
    return longitude_latitude_deg(place + step[:, None] * along)
