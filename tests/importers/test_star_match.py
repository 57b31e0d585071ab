"""Of several stars near a pair, which one is its primary."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from planner.importers.incoming import as_pairs
from planner.importers.star_match import NO_STAR, star_rows
from planner.importers.table_import import read_table
from planner.targets.columns import objects
from planner.targets.stars import StarField

ARCSEC_DEG = 1.0 / 3600.0


def field(*north_arcsec: float) -> StarField:
    """Stars of V 7 north of the pair; only places and brightness are asked for."""
    count = len(north_arcsec)
    found = SimpleNamespace(
        ra_deg=np.full(count, 150.0),
        dec_deg=20.0 + np.array(north_arcsec) * ARCSEC_DEG,
        v_mag=np.full(count, 7.0),
    )
    return cast(StarField, found)


@pytest.mark.parametrize(
    ("north_arcsec", "row"),
    [((1.0, 3.0), 0), ((3.0, 1.0), 1), ((4.0, 1.0, 2.5), 1), ((9.0, 30.0), NO_STAR)],
)
def test_the_nearest_star_is_the_primary(north_arcsec: tuple[float, ...], row: int) -> None:
    table = b"ra,dec,separation,v1,v2,pm_ra,pm_dec\n150,20,12,7,9,0,0\n"
    pairs = as_pairs(read_table(table, ".csv", None).rows, "mine", "mine", objects(("Leo",)))
    assert star_rows(pairs, field(*north_arcsec)).tolist() == [row]
