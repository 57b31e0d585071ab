"""One star list: Gaia to G = 10 with Hipparcos numbers, and Hipparcos where Gaia has no star."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from catalogs.compiler import photometry
from catalogs.compiler.sphere import moved, neighbours

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

YEARS = 2016.0 - 1991.25
ATTACH_RADIUS_ARCSEC = 5.0  # binary motion moves a Hipparcos entry this far from its Gaia star
COST_ARCSEC_PER_MAG = 1.5  # one magnitude of disagreement counts like this much distance
NEAR_ARCSEC, NEAR_MAG, FAR_MAG = 1.0, 2.5, 1.2  # magnitudes believed near by and farther out
BRIGHT_G = 4.0  # Gaia saturates above: V comes from Hp there
BLEND_ARCSEC = 10.0  # Hipparcos measured the light of both stars of a closer pair
OLD_RADIUS_ARCSEC, OLD_MAG = 3.0, 3.5  # second try, at 1991.25
VARIABLE_ARCSEC = 0.7  # so near it is the same star, however different: a Mira star
# Stars Gaia lacks although it has their companion: theta Aur, alpha Her. Every other unattached
# entry of Hp < 8 was looked at: each is a component whose entry is wrong, not a missing star.
ADDED = (28380, 84345)
SURE_BV = 0.1  # mag
GROUND_HP = 4.0  # brighter: B-V from the ground, good although its error is given as 0.4 or so
COMPANION_MATTERS_MAG = 3.0  # a neighbour fainter by more does not spoil the colour
V_BY_HAND = {
    32349: -1.46,  # Sirius; Hp is wrong by 0.4 (Bright Star Catalogue 5th ed., from memory)
    71681: 1.33,  # alpha Cen B; Hp holds some light of A (Bright Star Catalogue, from memory)
}


def star_list(gaia: pd.DataFrame, hipparcos: pd.DataFrame) -> pd.DataFrame:
    """The star list, sorted by declination.

    Columns: ra_deg, dec_deg (ICRS, epoch 2016.0), v, bv (mag; bv NaN when unknown), hip (0 for
    none), gaia (whether Gaia measured it). ``gaia`` and ``hipparcos`` as ``sources`` reads them.
    """
    real = _with_v(gaia[gaia["id"] > 0].reset_index(drop=True))
    hip = _with_hp_v(hipparcos)
    lacking = hip["hip"].isin([*-gaia.loc[gaia["id"] < 0, "id"], *ADDED])
    rest = hip[~lacking]
    row_of_hip = attach(rest, real)
    attached = row_of_hip >= 0
    real["hip"] = 0
    real.loc[row_of_hip[attached], "hip"] = rest["hip"].to_numpy()[attached]
    added = hip.loc[lacking, ["ra_deg", "dec_deg", "v", "hip"]].assign(g=np.nan, bv=np.nan)
    stars = pd.concat([real, added], ignore_index=True)
    stars = _finished(stars, hip.set_index("hip"))
    order = np.lexsort((stars["ra_deg"], stars["dec_deg"]))
    return stars.iloc[order].reset_index(drop=True)


def _with_v(gaia: pd.DataFrame) -> pd.DataFrame:
    """Gaia stars with V and, where the colour is that of the star alone, B-V."""
    colour = (gaia["bp"] - gaia["rp"]).to_numpy()
    excess = photometry.corrected_flux_excess(gaia["g"], gaia["bp"], gaia["rp"])
    clean = np.isfinite(colour) & (np.abs(excess) <= photometry.CLEAN_EXCESS)
    blended = np.clip(colour, *photometry.BLENDED_COLOUR)
    used = np.where(clean, colour, np.where(np.isfinite(colour), blended, np.nan))
    used = np.where(np.isfinite(used), used, photometry.TYPICAL_COLOUR)
    return pd.DataFrame(
        {
            "ra_deg": gaia["ra"],
            "dec_deg": gaia["dec"],
            "g": gaia["g"],
            "v": photometry.v_from_gaia(gaia["g"], used),
            "bv": np.where(clean, photometry.b_v_from_gaia(used), np.nan),
        }
    )


def _with_hp_v(hipparcos: pd.DataFrame) -> pd.DataFrame:
    """Hipparcos rows with their position at 2016.0 and V from Hp."""
    ra, dec = moved(hipparcos, YEARS)
    v = photometry.v_from_hipparcos(hipparcos["hp"], hipparcos["vi"])
    return hipparcos.assign(ra_deg=ra, dec_deg=dec, v=v)


def positions(table: pd.DataFrame) -> tuple[Floats, Floats]:
    """The columns ra_deg and dec_deg as arrays."""
    return table["ra_deg"].to_numpy(float), table["dec_deg"].to_numpy(float)


def attach(hip: pd.DataFrame, gaia: pd.DataFrame) -> NDArray[np.int64]:
    """Row of ``gaia`` that is each Hipparcos star, -1 for none.

    First at 2016.0; what is left over is tried at 1991.25, for the proper motion of some
    components of double stars is wrong by as much as 1" a year.
    """
    row_of_hip = np.full(len(hip), -1, dtype=np.int64)
    _attach_at(positions(hip), ATTACH_RADIUS_ARCSEC, (hip, gaia), row_of_hip)
    old = np.degrees(hip["ra_rad"].to_numpy(float)), np.degrees(hip["dec_rad"].to_numpy(float))
    _attach_at(old, OLD_RADIUS_ARCSEC, (hip, gaia), row_of_hip)
    return row_of_hip


def _attach_at(
    where: tuple[Floats, Floats],
    radius_arcsec: float,
    tables: tuple[pd.DataFrame, pd.DataFrame],
    row_of_hip: NDArray[np.int64],
) -> None:
    """Fill ``row_of_hip`` with the best pairings of what is free, the cheapest first.

    Distance and brightness count together (``COST_ARCSEC_PER_MAG``): binary motion carries some
    entries nearer to the companion than to their own star. A Hipparcos entry that holds the
    light of both stars so falls to the brighter one.
    """
    hip, gaia = tables
    taken = np.zeros(len(gaia), dtype=bool)
    taken[row_of_hip[row_of_hip >= 0]] = True
    i, j, s = neighbours(where, positions(gaia), radius_arcsec)
    step = np.abs(hip["v"].to_numpy()[i] - gaia["v"].to_numpy()[j])
    allowed = (step < FAR_MAG) | ((s < NEAR_ARCSEC) & (step < NEAR_MAG))
    if radius_arcsec == OLD_RADIUS_ARCSEC:
        allowed = (step < OLD_MAG) | (s < VARIABLE_ARCSEC)
    allowed &= (row_of_hip[i] < 0) & ~taken[j]
    i, j, cost = i[allowed], j[allowed], (s + COST_ARCSEC_PER_MAG * step)[allowed]
    for k in np.lexsort((j, i, cost)):
        if row_of_hip[i[k]] < 0 and not taken[j[k]]:
            row_of_hip[i[k]] = j[k]
            taken[j[k]] = True


def _finished(stars: pd.DataFrame, hip: pd.DataFrame) -> pd.DataFrame:
    """V of the bright stars from Hp, less their companions' light; B-V of Hipparcos if clean."""
    i, j, s = neighbours(positions(stars), positions(stars), BLEND_ARCSEC)
    v, number = stars["v"].to_numpy(float).copy(), stars["hip"].to_numpy()
    other = i != j
    blended = other & (number[j] == 0)
    extra = np.bincount(i[blended], 10.0 ** (-0.4 * v[j[blended]]), minlength=len(stars))
    has_hip = number > 0
    entry = hip.reindex(np.where(has_hip, number, -1))
    bright = has_hip & ~(stars["g"].to_numpy(float) >= BRIGHT_G)
    hp_v = entry["v"].to_numpy(float)
    with np.errstate(divide="ignore"):
        alone = photometry.without_companions(hp_v, -2.5 * np.log10(extra))
    v = np.where(bright & np.isfinite(alone), alone, v)
    for hip_number, magnitude in V_BY_HAND.items():
        v[number == hip_number] = magnitude
    spoiled = np.zeros(len(stars), dtype=bool)
    spoiled[i[other & (v[j] < v[i] + COMPANION_MATTERS_MAG)]] = True
    bv = np.where(has_hip & ~spoiled, hipparcos_bv(entry), np.nan)
    bv = np.where(np.isfinite(bv), bv, stars["bv"].to_numpy(float))
    stars = stars.assign(v=v, bv=bv, gaia=stars["g"].notna())
    return stars[["ra_deg", "dec_deg", "v", "bv", "hip", "gaia"]]


def hipparcos_bv(entries: pd.DataFrame) -> Floats:
    """B-V of Hipparcos entries (all the light it measured together), NaN where it is doubtful.

    Zero with an error of zero is how the source says that it has none.
    """
    sure = (entries["bv_error"] <= SURE_BV) | (entries["hp"] < GROUND_HP)
    lacks = (entries["bv"] == 0.0) & (entries["bv_error"] == 0.0)
    return np.asarray(entries["bv"].where(sure & ~lacks), dtype=float)
