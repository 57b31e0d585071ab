"""Identifiers of pairs in the manner of the Washington Double Star Catalog, from their places."""

from __future__ import annotations

from itertools import count
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import GAIA_DR3_YEAR, J2000_YEAR
from planner.targets.pairs import MAS_PER_DEG

if TYPE_CHECKING:
    from collections.abc import Iterator

    import pandas as pd

TENTHS_IN_CIRCLE = 14400  # tenths of a minute of time
ARCMIN_IN_DEGREE = 60


def place_ids(pairs: pd.DataFrame) -> list[str]:
    """An identifier for each pair; with the components (and the pair's number) it is unique.

    One for all pairs of a multiple star: the WDS identifier of its brightest pair that has one,
    else the place of its brightest primary at J2000, rounded to 0.1 minute of time and to 1
    minute of arc: ``14450+2704``. Where another multiple star has that one, the nearest free minute
    of arc to the north counts. ``pairs`` holds ``system_id``, ``wds``, ``ra_deg``, ``dec_deg``
    (2016.0), ``pm_ra_mas_yr``, ``pm_dec_mas_yr`` and ``v1``. Limit: an identifier formed here need
    not be that of the WDS, which kept places of older lists. Source: format of the WDS.
    """
    order = np.lexsort((pairs["pair_id"].to_numpy(str), pairs["v1"].to_numpy(float)))
    systems, wds = pairs["system_id"].tolist(), pairs["wds"].tolist()
    known: dict[str, str] = {}
    for row in order.tolist():
        if wds[row]:
            known.setdefault(systems[row], wds[row])
    taken = {text for text in wds if text}
    places = _j2000(pairs)
    for row in order.tolist():
        if systems[row] not in known:
            found = next(text for text in _near(*places[row]) if text not in taken)
            known[systems[row]] = found
            taken.add(found)
    return [text or known[system] for text, system in zip(wds, systems, strict=True)]


def _j2000(pairs: pd.DataFrame) -> list[tuple[float, float]]:
    """Places of the primaries at J2000, degrees; unknown motion counts as none."""
    years = (J2000_YEAR - GAIA_DR3_YEAR) / MAS_PER_DEG
    dec = pairs["dec_deg"].to_numpy(float)
    across = years * pairs["pm_ra_mas_yr"].fillna(0.0).to_numpy(float) / np.cos(np.radians(dec))
    ra = (pairs["ra_deg"].to_numpy(float) + across) % 360.0
    dec = dec + years * pairs["pm_dec_mas_yr"].fillna(0.0).to_numpy(float)
    return list(zip(ra.tolist(), dec.tolist(), strict=True))


def _near(ra_deg: float, dec_deg: float) -> Iterator[str]:
    """The identifier of a place, then those of the next minutes of arc to the north."""
    tenths = round(ra_deg / 360.0 * TENTHS_IN_CIRCLE) % TENTHS_IN_CIRCLE
    hours, rest = divmod(tenths, 600)
    for arcmin in count(round(dec_deg * ARCMIN_IN_DEGREE)):
        degrees, minutes = divmod(abs(arcmin), ARCMIN_IN_DEGREE)
        sign = "-" if arcmin < 0 else "+"
        yield f"{hours:02d}{rest:03d}{sign}{degrees:02d}{minutes:02d}"
