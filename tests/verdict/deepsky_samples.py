"""The telescope, eye and objects that the tests of deep-sky verdicts share."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
from sample_nights import KIT

from planner.optics.view import all_views
from planner.targets.catalog import load_deepsky
from planner.targets.columns import rows_of
from planner.verdict.deepsky.margins import DeepSkyTables, deepsky_margins, deepsky_tables
from planner.verdict.setup import Setup

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.view import View
    from planner.targets.deepsky import DeepSky

DARK_MAG = 21.5


def setup(zenith_sky_mag: float = DARK_MAG, **observer: Any) -> Setup:
    """154 mm, an eye of 52 years, air of 0.2 mag."""
    return Setup(
        telescope=KIT.telescope(),
        observer=replace(KIT.observer, **observer),
        zenith_sky_mag=zenith_sky_mag,
        seeing_arcsec=2.0,
        extinction_mag=0.2,
    )


def views() -> tuple[View, ...]:
    """The test kit's, with the Barlow lens."""
    return all_views(KIT.telescope(), KIT.eyepieces, KIT.barlows)


@cache
def tables() -> DeepSkyTables:
    """Without filters."""
    return deepsky_tables(setup(), views())


def objects(*ids: str, **columns: Sequence[Any]) -> DeepSky:
    """Rows of the catalog in this order, with columns put in place of the catalog's.

    With a magnitude of its own an object is judged by that, not by its bright part.
    """
    catalog = load_deepsky()
    rows = [int(np.flatnonzero(catalog.id == name)[0]) for name in ids]
    chosen = rows_of(catalog, np.array(rows))
    if "v_mag" in columns:
        unknown = np.full(len(rows), np.nan)
        chosen = replace(chosen, bright_v_mag=unknown, bright_major_arcmin=unknown)
    return replace(
        chosen, **{name: np.asarray(values, dtype=float) for name, values in columns.items()}
    )


def margins(
    found: DeepSky, zenith_sky_mag: float = DARK_MAG, dimming_mag: float = 0.0
) -> NDArray[np.float64]:
    """The margin of each object (N,) under one sky."""
    shape = (len(found.id), 1)
    judged = deepsky_margins(
        tables(), found, np.full(shape, dimming_mag), np.full(shape, zenith_sky_mag)
    )
    return judged.margin_mag[:, 0]
