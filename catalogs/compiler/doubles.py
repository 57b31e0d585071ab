"""The table of double stars: measured pairs, the hand table, kinship, names, one row a pair."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from catalogs.compiler import typed as hand
from catalogs.compiler.chance import HOPELESS, chance_fraction
from catalogs.compiler.colours import with_colours
from catalogs.compiler.constellation import constellations
from catalogs.compiler.motion import physical
from catalogs.compiler.pairs import measured_pairs
from catalogs.compiler.place_ids import place_ids
from catalogs.compiler.relative_motion import relative_motion
from catalogs.compiler.systems import with_systems

if TYPE_CHECKING:
    from numpy.typing import NDArray

COLUMNS = [
    "pair_id", "system_id", "ra_deg", "dec_deg", "pm_ra_mas_yr", "pm_dec_mas_yr",
    "motion_ra_mas_yr", "motion_dec_mas_yr", "v1", "v2", "separation_arcsec",
    "position_angle_deg", "epoch_yr", "components", "name", "proper_name", "discoverer", "wds",
    "place_id", "hip", "hip_secondary", "colour1_bv", "colour2_bv", "constellation", "chance",
    "physical", "source", "note",
]  # fmt: skip
DECIMALS = {
    "ra_deg": 6, "dec_deg": 6, "pm_ra_mas_yr": 2, "pm_dec_mas_yr": 2,
    "motion_ra_mas_yr": 2, "motion_dec_mas_yr": 2, "v1": 2, "v2": 2,
    "separation_arcsec": 3, "position_angle_deg": 2, "epoch_yr": 2, "colour1_bv": 2,
    "colour2_bv": 2, "chance": 2,
}  # fmt: skip
MEASURED = "Gaia DR3 positions 2016.0"
MEASURED_HIPPARCOS = "Hipparcos and Gaia DR3 positions 2016.0"


@dataclass(frozen=True, slots=True)
class Typed:
    """The hand tables that pairs are made with: pairs, and colours (None: there is none)."""

    pairs: pd.DataFrame
    colours: pd.DataFrame | None = None


def doubles_table(
    stars: pd.DataFrame, hipparcos: pd.DataFrame, by_hand: Typed, names: dict[int, Any]
) -> tuple[pd.DataFrame, pd.DataFrame, list[str]]:
    """All pairs as they are shipped (``COLUMNS``), the star list, and what found no place.

    The star list comes back with HIP numbers moved where the hand table calls another star A.

    ``stars`` as ``stars.star_list`` gives them, ``names`` as ``designations.short_names``.
    """
    sky = hand.sky(stars)
    pairs = measured_pairs(stars)
    from_gaia = stars["gaia"].to_numpy(bool)
    old = ~from_gaia[pairs["star1"]] & ~from_gaia[pairs["star2"]]
    pairs = pairs[~old].reset_index(drop=True)  # alpha Cen: 25 years of orbit are not straight
    pairs["chance"] = chance_fraction(pairs, stars)
    pairs = hand.apply(pairs, by_hand.pairs, sky)
    pairs["star1"], pairs["star2"] = pairs["star1"].astype(int), pairs["star2"].astype(int)
    stars = stars.assign(hip=sky.hip)
    pairs["physical"] = physical(pairs, stars, hipparcos)
    hopeless = (pairs["chance"] > HOPELESS) & (pairs["physical"] != "yes") & ~pairs["typed"]
    pairs = with_systems(pairs[~hopeless], sky)
    decided = (pairs["physical"] != "") | pairs["typed"].astype(bool)
    pairs.loc[decided, "chance"] = np.nan
    entries = _numbered(pairs, stars, hipparcos)
    lost = with_colours(pairs, stars, entries, by_hand.colours)
    told = [f"pairs_typed.csv: {text}" for text in sky.warnings]
    told += [f"colours_typed.csv: {text}" for text in lost]
    return _finished(pairs, stars, names), stars, told


def _numbered(pairs: pd.DataFrame, stars: pd.DataFrame, hipparcos: pd.DataFrame) -> pd.DataFrame:
    """Fill in HIP numbers, motions and identifiers; returns the primaries' Hipparcos rows."""
    one, two = pairs["star1"].to_numpy(), pairs["star2"].to_numpy()
    numbers = stars["hip"].to_numpy()
    hip1, hip2 = (np.where(rows >= 0, numbers[rows], 0) for rows in (one, two))
    entries = hipparcos.set_index("hip").reindex(np.where(hip1 > 0, hip1, -1))
    pairs["hip"], pairs["hip_secondary"] = hip1, hip2
    pairs["pm_ra_mas_yr"] = entries["pmra"].to_numpy(float)
    pairs["pm_dec_mas_yr"] = entries["pmdec"].to_numpy(float)
    motions = relative_motion(pairs, stars, hipparcos)
    pairs["motion_ra_mas_yr"] = motions.east_mas_yr
    pairs["motion_dec_mas_yr"] = motions.north_mas_yr
    pairs["place_id"] = place_ids(pairs)
    return entries


def _finished(pairs: pd.DataFrame, stars: pd.DataFrame, names: dict[int, Any]) -> pd.DataFrame:
    """Names, constellation and source of rows that have their letters."""
    one, two = pairs["star1"].to_numpy(), pairs["star2"].to_numpy()
    hip1, hip2 = pairs["hip"].to_numpy(), pairs["hip_secondary"].to_numpy()
    pairs["constellation"] = constellations(pairs["ra_deg"], pairs["dec_deg"])
    for column, place in (("name", 0), ("proper_name", 1)):
        by_hand = pairs[pairs[column] != ""].drop_duplicates("star1").set_index("star1")[column]
        others = [by_hand.get(star, "") if star >= 0 else "" for star in one]
        pairs[column] = np.where(pairs[column] != "", pairs[column], others)
        known = [_name(names, a, b, place) for a, b in zip(hip1, hip2, strict=True)]
        pairs[column] = np.where(pairs[column] != "", pairs[column], known)
    pairs["source"] = np.where(pairs["source"] != "", pairs["source"], _origin(stars, one, two))
    pairs["typed"] = pairs["typed"].astype(bool)
    return pairs.round(DECIMALS)[COLUMNS]


def _name(names: dict[int, Any], hip1: int, hip2: int, place: int) -> str:
    """Designation (0) or proper name (1) of the primary, else of the companion."""
    nothing = ("", "")
    return str(names.get(int(hip1), nothing)[place] or names.get(int(hip2), nothing)[place])


def _origin(stars: pd.DataFrame, one: NDArray[np.int64], two: NDArray[np.int64]) -> NDArray[Any]:
    """Where a measured pair comes from: Gaia alone, or with a star of Hipparcos."""
    from_gaia = stars["gaia"].to_numpy(bool)
    both = np.where(one >= 0, from_gaia[one], False) & np.where(two >= 0, from_gaia[two], False)
    return np.where(both, MEASURED, MEASURED_HIPPARCOS)
