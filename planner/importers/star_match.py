"""What the star catalogs add to an outside pair: Hipparcos number, names, colour of its primary."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors
from planner.constants import ARCSEC_PER_RADIAN, GAIA_DR3_YEAR
from planner.importers.near import near_places
from planner.targets.columns import frozen, objects
from planner.targets.pairs import combined_magnitude, places_at

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.name_sources import Designations
    from planner.targets.pairs import Pairs
    from planner.targets.stars import StarField

    Integers = NDArray[np.int64]

REACH_ARCSEC = 5.0  # as far as a precise place may be off
BRIGHTNESS_MAG = 0.8  # between a pair's magnitude and V of the star; own judgement
NO_STAR = -1


def named_by_stars(pairs: Pairs, stars: StarField, designations: Designations) -> Pairs:
    """The pairs with HIP number, B-V, letter or number and proper name of their primary.

    What a pair has already stays. The star is the nearest within 5" whose V is that of the
    primary or of both stars together.
    """
    row = star_rows(pairs, stars)
    found = row != NO_STAR
    hip = np.where(found & (pairs.hip == 0), stars.hip[row], pairs.hip)
    colour = np.where(found & np.isnan(pairs.colour1_bv), stars.bv[row], pairs.colour1_bv)
    names, proper = _names(designations)
    return replace(
        pairs,
        hip=frozen(hip),
        colour1_bv=frozen(colour),
        name=_filled(pairs.name, hip, names),
        proper_name=_filled(pairs.proper_name, hip, proper),
    )


def star_rows(pairs: Pairs, stars: StarField) -> Integers:
    """For each pair the row of its primary in the star catalog, or -1."""
    places = unit_vectors(*places_at(pairs, GAIA_DR3_YEAR))
    field = unit_vectors(stars.ra_deg, stars.dec_deg)
    mine, theirs = near_places(places, field, REACH_ARCSEC / ARCSEC_PER_RADIAN)
    apart = np.linalg.norm(places[mine] - field[theirs], axis=1) * ARCSEC_PER_RADIAN
    both = combined_magnitude(pairs.v1, pairs.v2)[mine]
    v = stars.v_mag[theirs]
    off = np.fmin(np.abs(v - pairs.v1[mine]), np.abs(v - both))
    good = (apart <= REACH_ARCSEC) & (off <= BRIGHTNESS_MAG)
    mine, theirs, apart = mine[good], theirs[good], apart[good]
    order = np.argsort(-apart, kind="stable")
    row = np.full(len(pairs), NO_STAR, dtype=np.int64)
    row[mine[order]] = theirs[order]
    return row


def _names(stars: Designations) -> tuple[dict[int, str], dict[int, str]]:
    """Letter or number with constellation, and proper name, by Hipparcos number."""
    columns = (stars.hip, stars.bayer, stars.flamsteed, stars.constellation, stars.proper_name)
    names, proper = {}, {}
    for hip, bayer, flamsteed, sky, own in zip(*columns, strict=True):
        if hip and (bayer or flamsteed):
            names[hip] = f"{bayer or flamsteed} {sky}"
        if hip and own:
            proper[hip] = own
    return names, proper


def _filled(
    texts: NDArray[np.object_], hip: Integers, by_hip: dict[int, str]
) -> NDArray[np.object_]:
    pairs = zip(texts.tolist(), hip.tolist(), strict=True)
    return objects(tuple(text or by_hip.get(number, "") for text, number in pairs))
