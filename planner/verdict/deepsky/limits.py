"""What limits a deep-sky object: the one effect whose absence would help most."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.verdict.causes import air_now, air_without, costliest
from planner.verdict.deepsky.margins import deepsky_margins
from planner.verdict.verdicts import Limit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.targets.deepsky import DeepSky
    from planner.verdict.causes import Air
    from planner.verdict.deepsky.margins import DeepSkyTables
    from planner.verdict.setup import Setup
    from planner.verdict.sightlines import Sightlines

    Floats = NDArray[np.float64]
    Bools = NDArray[np.bool_]
    Codes = NDArray[np.int8]

LARGE_ARCMIN = 20.0  # from here on a lost object is called spread out, not faint; own judgement
STARLIKE_ARCMIN = 10.0  # a faint patch that looks smaller than this is a star; own judgement


def limiting_conditions(
    setup: Setup, tables: DeepSkyTables, objects: DeepSky, lines: Sightlines
) -> Codes:
    """What limits each object, numbers of ``Limit`` (N,): NOTHING where nothing to speak of.

    The margin is worked out again without the Moon, without twilight, at the zenith, and
    under a natural sky; the largest gain of at least 0.3 mag is named. Where none helps, the
    object itself is too faint, or too large for its light; one that is seen may be too small.
    """
    without = air_without(setup, lines)
    now, *margins = _margins(tables, objects, (air_now(setup, lines), *without.values()))
    large = np.nan_to_num(objects.major_arcmin) >= LARGE_ARCMIN
    own = np.where(large, Limit.SPREAD_LIGHT, Limit.FAINTNESS)
    limits = costliest(now, dict(zip(without, margins, strict=True)), own)
    starlike = looks_like_a_star(setup, tables, objects) & (now >= 0.0)
    return np.where(starlike, Limit.SMALLNESS, limits).astype(np.int8)


def looks_like_a_star(setup: Setup, tables: DeepSkyTables, objects: DeepSky) -> Bools:
    """Which objects (N,) cannot be told from a star by their shape, at any power in use.

    Smaller than the seeing's blur, or than 10' as seen at the highest power. Never where the
    catalogue has no size.
    """
    least_arcmin = max(setup.seeing_arcsec / 60.0, STARLIKE_ARCMIN / tables.powers.max())
    return np.asarray(objects.major_arcmin < least_arcmin)


def _margins(tables: DeepSkyTables, objects: DeepSky, airs: Sequence[Air]) -> Floats:
    """Margins (A, N) of objects (N,) in each of A airs."""
    dimming = np.stack([air.dimming_mag for air in airs], axis=1)
    sky = np.stack([air.sky_mag for air in airs], axis=1)
    return deepsky_margins(tables, objects, dimming, sky).margin_mag.T
