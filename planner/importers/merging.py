"""Which pairs of an outside file are known already, and what a known pair gains from them."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.importers.tracks import (
    Spots,
    apart_arcsec,
    companions_of,
    near_tracks,
    spots_of,
    tracks_of,
)
from planner.targets.columns import frozen, rows_of
from planner.targets.measure import Measures, Motions, carried, other_stands
from planner.targets.pairs import combined_magnitude

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.pairs import Pairs

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

UNKNOWN = -1
# Beyond this a place alone tells no pair, and with the discoverer's number it need be no better:
# a unit of 0.1 minute of time and of one minute of arc.
COARSEST_ARCSEC = 110.0
FARTHEST_ARCSEC = 3600.0  # a place to whole degrees, with the discoverer's number
# How well two entries of one pair agree; own judgement, after the age of many measures.
SEPARATION_ARCSEC, SEPARATION_SHARE = 1.0, 0.2
CLOSE_ARCSEC = 3.0  # closer pairs may have turned since an old measure
TURN_DEG = 25.0
NEARER_DEG = 90.0  # of a pair found by its designation; it may have turned far since
BRIGHTNESS_MAG = 1.2
EQUAL_MAG = 0.5  # so near in brightness, A and B may be swapped between catalogs
KEPT_SOURCE = "Orbit"  # no measure replaces the place that an orbit gives
# Standard errors of the companion's place, arcsec. Differences of Gaia's positions of resolved
# stars, with what their light does to each other; all others like a measure by eye, of unknown
# make, rounded to 0.1" and a whole degree. Own judgement.
SATELLITE_SOURCE, SATELLITE_ARCSEC = "Gaia", 0.02
BY_EYE_ARCSEC, BY_EYE_SHARE = 0.1, 0.02


@dataclass(frozen=True, slots=True)
class Known:
    """For each incoming pair the row of the known pair that it is (-1: new), and whether A and B
    are swapped in it; ``repeated`` are pairs that another one of the same file stands for."""

    row: Integers
    swapped: Bools
    repeated: Bools


@dataclass(frozen=True, slots=True)
class _Candidates:
    """Rows of the incoming and of the known pairs, how badly they agree (0 best), and whether A
    and B are swapped."""

    mine: Integers
    theirs: Integers
    score: Floats
    swapped: Bools


def known_rows(
    known: Pairs, incoming: Pairs, place_error_arcsec: Floats, dated: Bools | None = None
) -> Known:
    """Find the incoming pairs among the known ones; each known pair is found once at the most.

    First by WDS identifier, discoverer and components; then by discoverer and a coarse place, or
    by place alone (``place_error_arcsec`` (N,) for the incoming), where separation, brightness
    and, unless close, position angle agree too. A known pair is carried by its proper motion to
    the epoch of the incoming place; where that epoch is not stated (not ``dated``; all are
    unless given), its whole way from 1991 to 2025 counts. Pairs that differ both in discoverer
    and in components are not the same, however near.
    """
    dated = np.ones(len(incoming), dtype=bool) if dated is None else dated
    row = _by_designation(known, incoming)
    swapped = _turned(known, incoming, np.arange(len(incoming)), row, NEARER_DEG)
    swapped &= row != UNKNOWN
    taken_by = np.full(len(known), UNKNOWN)
    taken_by[row[row != UNKNOWN]] = np.flatnonzero(row != UNKNOWN)
    found = _candidates(known, incoming, spots_of(incoming, place_error_arcsec, dated))
    found = rows_of(found, np.argsort(found.score, kind="stable"))
    for own, other, turned in zip(
        found.mine.tolist(), found.theirs.tolist(), found.swapped.tolist(), strict=True
    ):
        if row[own] == UNKNOWN and taken_by[other] == UNKNOWN:
            row[own], taken_by[other], swapped[own] = other, own, turned
    return Known(row, swapped, _repeated(incoming, row, found, taken_by))


def turned_round(pairs: Pairs, swapped: Bools) -> Pairs:
    """The pairs with the position angle of the swapped ones seen from the other star."""
    angle = np.where(swapped, pairs.position_angle_deg + 180.0, pairs.position_angle_deg)
    return replace(pairs, position_angle_deg=frozen(angle % 360.0))


def enriched(known: Pairs, gains: Pairs) -> tuple[Pairs, Bools]:
    """Known pairs with what they gain from the same pairs in another catalog, row by row.

    A known pair takes the other measure where that is newer and the pair has moved, by more
    than its known motion and the errors of both explain, or where the newer one is as accurate:
    see ``measure.other_stands``. It keeps the place that an orbit gives, and gains designations,
    name, bond, motion and position angle where it had none. With the discoverer come the letters
    of the components. Also says which took the newer measure.
    """
    nameless = (known.discoverer == "") & (gains.discoverer != "")
    newer = _newer_stands(known, gains)
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


def _newer_stands(known: Pairs, gains: Pairs) -> Bools:
    """Pairs for which the other measure stands from now on; the newer one is nearer to any night.

    What is compared is where the known motion has carried the companion at the other's epoch.
    """
    by_eye = BY_EYE_ARCSEC + BY_EYE_SHARE * known.separation_arcsec
    before, after = _measures(known, by_eye), _measures(gains, by_eye)
    motions = Motions(known.motion_ra_mas_yr, known.motion_dec_mas_yr)
    separation, angle, _ = carried(before, motions, after.epoch_yr)
    expected = replace(before, separation_arcsec=separation, position_angle_deg=angle)
    newest = np.fmax(before.epoch_yr, after.epoch_yr)
    orbit = np.array([KEPT_SOURCE in text for text in known.measure_source.tolist()], dtype=bool)
    return np.asarray(other_stands(expected, after, newest) & ~orbit)


def _measures(pairs: Pairs, by_eye_arcsec: Floats) -> Measures:
    """The measures of a table, with their errors by where they come from."""
    satellite = [SATELLITE_SOURCE in text for text in pairs.measure_source.tolist()]
    error = np.where(np.array(satellite, dtype=bool), SATELLITE_ARCSEC, by_eye_arcsec)
    return Measures(
        pairs.separation_arcsec, pairs.position_angle_deg, pairs.measure_epoch_yr, error
    )


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
        (wds, _label(discoverer), parts or "AB")
        for wds, discoverer, parts in zip(*columns, strict=True)
    ]


def _candidates(known: Pairs, incoming: Pairs, spots: Spots) -> _Candidates:
    """What agrees in place, discoverer and numbers with what."""
    first, second = tracks_of(known), companions_of(known)
    near = replace(spots, error_arcsec=np.minimum(spots.error_arcsec, COARSEST_ARCSEC))
    found = []
    for points, swapped in ((first, False), (second, True)):
        mine, theirs, apart = near_tracks(near, points)
        score = apart / near.error_arcsec[mine]
        found.append(_agreeing(known, incoming, mine, theirs, _Looked(score, swapped, False)))
    mine, theirs = _same_discoverer(known, incoming)
    reach = np.clip(spots.error_arcsec, COARSEST_ARCSEC, FARTHEST_ARCSEC)[mine]
    apart = apart_arcsec(spots, first, mine, theirs)
    mine, theirs = mine[apart <= reach], theirs[apart <= reach]
    named = _Looked(np.zeros(len(mine)), swapped=False, named=True)
    found.append(_agreeing(known, incoming, mine, theirs, named))
    names = [field.name for field in fields(_Candidates)]
    return _Candidates(*(np.concatenate([getattr(each, n) for each in found]) for n in names))


def _same_discoverer(known: Pairs, incoming: Pairs) -> tuple[Integers, Integers]:
    """Rows of the incoming and the known pairs that have discoverer and number in common."""
    rows: dict[str, list[int]] = {}
    for row, text in enumerate(known.discoverer.tolist()):
        if text:
            rows.setdefault(_label(text), []).append(row)
    found = [
        (own, other)
        for own, text in enumerate(incoming.discoverer.tolist())
        for other in rows.get(_label(text), ())
    ]
    both = np.array(found, dtype=np.int64).reshape(-1, 2)
    return both[:, 0], both[:, 1]


def _label(discoverer: str) -> str:
    return discoverer.replace(" ", "").lower()


@dataclass(frozen=True, slots=True)
class _Looked:
    """How candidates were found: how far off, at the companion's place, by discoverer."""

    score: Floats
    swapped: bool
    named: bool


def _agreeing(
    known: Pairs, incoming: Pairs, mine: Integers, theirs: Integers, looked: _Looked
) -> _Candidates:
    """The candidates that agree in all but the place."""
    separation = known.separation_arcsec[theirs]
    off = np.abs(incoming.separation_arcsec[mine] - separation)
    off = off / (SEPARATION_ARCSEC + SEPARATION_SHARE * separation)
    light = combined_magnitude(incoming.v1[mine], incoming.v2[mine])
    light = np.abs(light - combined_magnitude(known.v1[theirs], known.v2[theirs]))
    same = _between_deg(known, incoming, mine, theirs)
    turned = _turned(known, incoming, mine, theirs, TURN_DEG)
    close = separation <= CLOSE_ARCSEC
    fits = turned if looked.swapped else ~(same > TURN_DEG) | turned | close
    both = (known.discoverer[theirs] != "") & (incoming.discoverer[mine] != "")
    alike = incoming.components[mine] == known.components[theirs]
    alike |= (incoming.discoverer[mine] == known.discoverer[theirs]) | looked.named
    good = fits & (off <= 1.0) & ~(light > BRIGHTNESS_MAG) & (alike | ~both)
    total = looked.score + off + np.nan_to_num(light)
    return _Candidates(mine[good], theirs[good], total[good], turned[good])


def _between_deg(known: Pairs, incoming: Pairs, mine: Integers, theirs: Integers) -> Floats:
    """How far apart the position angles of two entries are, 0..180 degrees."""
    between = incoming.position_angle_deg[mine] - known.position_angle_deg[theirs]
    return np.asarray(np.abs((between + 180.0) % 360.0 - 180.0))


def _turned(
    known: Pairs, incoming: Pairs, mine: Integers, theirs: Integers, within_deg: float
) -> Bools:
    """Pairs of nearly equal stars that are entered from the other star."""
    opposite = 180.0 - _between_deg(known, incoming, mine, theirs)
    equal = np.abs(known.v1[theirs] - known.v2[theirs]) <= EQUAL_MAG
    return np.asarray((opposite < within_deg) & equal)


def _repeated(incoming: Pairs, row: Integers, found: _Candidates, taken_by: Integers) -> Bools:
    """Pairs without a known one of their own that are the same as another in their file.

    They agree with a known pair that the other one is, and nothing in their designations says
    that they differ.
    """
    other = taken_by[found.theirs]
    asked = (row[found.mine] == UNKNOWN) & (other != UNKNOWN)
    mine, other = found.mine[asked], other[asked]
    same = incoming.components[mine] == incoming.components[other]
    for column in (incoming.discoverer, incoming.wds):
        same &= (column[mine] == column[other]) | (column[mine] == "") | (column[other] == "")
    repeated = np.zeros(len(incoming), dtype=bool)
    repeated[mine[same.astype(bool)]] = True
    return repeated
