"""Colours of the stars of a pair: measured, unmixed from the light of both, or typed in."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from catalogs.compiler.photometry import own_colour
from catalogs.compiler.stars import BLEND_ARCSEC, COMPANION_MATTERS_MAG, hipparcos_bv

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

COLOURS = ("colour1_bv", "colour2_bv")
# The colour of both together stands for the primary when the companion is fainter by this and its
# colour is not known. The worst that happens: B-V 1.4 beside 0.0 is taken for 1.17, 0.23 mag too
# blue, less than half a class of colour words. At 1.0 mag it would be 0.79, a K star called G.
OWN_COLOUR_MAG = 2.5


def read_colours(path: Path) -> pd.DataFrame:
    """The hand table of colours, by ``pair_id``; NaN for blank. Raises ValueError for doubles."""
    table = pd.read_csv(path, dtype={"hip": str}, keep_default_na=False, comment="#")
    for column in COLOURS:
        table[column] = pd.to_numeric(table[column].replace("", np.nan))
    letters = table["components"].str.replace(",", ":")
    table.index = pd.Index("hip" + table["hip"] + "-" + letters, name="pair_id")
    if table.index.has_duplicates:
        raise ValueError(f"{path.name}: a pair is given twice")
    return table


def with_colours(
    pairs: pd.DataFrame, stars: pd.DataFrame, entries: pd.DataFrame, typed: pd.DataFrame | None
) -> list[str]:
    """Fill ``colour1_bv`` and ``colour2_bv``; returns what typed rows found no pair.

    In this order: the hand table; what was measured of each star by itself; for a primary within
    10" of its companion the colour that Hipparcos has of both together, less the companion's
    light where that is within 3 mag and its colour known, and as it is where the companion is
    fainter by ``OWN_COLOUR_MAG``; the colour the star has in a closer pair.
    ``entries`` are the rows of Hipparcos, one for each pair.
    """
    one, two = pairs["star1"].to_numpy(), pairs["star2"].to_numpy()
    bv = stars["bv"].to_numpy(float)
    hand = pd.DataFrame(columns=list(COLOURS), dtype=float) if typed is None else typed
    first, second = (hand[c].reindex(pairs["pair_id"]).to_numpy(float) for c in COLOURS)
    second = np.where(np.isnan(second) & (two >= 0), bv[two], second)
    v1, v2 = pairs["v1"].to_numpy(float), pairs["v2"].to_numpy(float)
    blended = np.asarray(pairs["separation_arcsec"] < BLEND_ARCSEC)
    both = np.where(blended, hipparcos_bv(entries), np.nan)
    alone = np.where((one >= 0) & ((two >= 0) | ~blended), bv[one], np.nan)
    step = v2 - v1
    unmixed = np.where(step < COMPANION_MATTERS_MAG, own_colour(both, v1, v2, second), np.nan)
    for better in (alone, unmixed, np.where(step >= OWN_COLOUR_MAG, both, np.nan)):
        first = np.where(np.isnan(first), better, first)
    pairs["colour1_bv"] = np.where(one >= 0, _of_closer_pairs(first, pairs), first)
    pairs["colour2_bv"] = second
    lost = sorted(set(hand.index) - set(pairs["pair_id"]))
    return [f"{pair}: no such pair" for pair in lost]


def _of_closer_pairs(first: NDArray[np.float64], pairs: pd.DataFrame) -> NDArray[np.float64]:
    """The primary's colour, where unknown that of the same star in the nearest closer pair."""
    table = pairs[["star1", "separation_arcsec"]].assign(bv=first)
    ordered = table.sort_values("separation_arcsec", kind="stable")
    return ordered.groupby("star1")["bv"].ffill().reindex(pairs.index).to_numpy(float)
