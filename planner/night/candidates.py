"""Which targets of the catalogs a request allows, and which of them could be looked at."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.bodies import Bodies, body_table
from planner.ephemeris.constellation import constellation_at
from planner.ephemeris.track import PRECESSION_SLACK_DEG, highest_altitude_deg
from planner.importers.library import load_all_orbits, load_all_pairs
from planner.targets.catalog import load_deepsky, load_red_stars
from planner.targets.columns import rows_of
from planner.targets.kind import DEEP_SKY_KINDS, Kind
from planner.targets.pairs import at_epoch, combined_magnitude, take

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.bodies import BodyTrack
    from planner.night.conditions import Conditions
    from planner.targets.deepsky import DeepSky
    from planner.targets.pairs import Pairs
    from planner.targets.red_stars import RedStars

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]


def pair_candidates(conditions: Conditions) -> tuple[Pairs, int]:
    """The pairs that the request allows and that come up, as they stand at the night's date.

    With the number looked at, those left out as never up among them.
    """
    request = conditions.request
    everything = load_all_pairs(request.library_folder)
    keep = np.ones(len(everything), dtype=bool)
    if request.constellation is not None:
        keep &= everything.constellation == request.constellation
    if request.faintest is not None:
        keep &= combined_magnitude(everything.v1, everything.v2) <= request.faintest
    if request.only is not None:
        only = list(request.only)
        keep &= np.isin(everything.pair_id, only) | np.isin(everything.system_id, only)
    if request.without:
        keep &= ~np.isin(everything.system_id, list(request.without))
    considered = int(keep.sum())
    if not request.include_all:
        keep &= _rises(conditions, everything.dec_deg)
    pairs = everything if keep.all() else take(everything, keep)
    year = float(np.mean(conditions.grid.years))
    return at_epoch(pairs, load_all_orbits(request.library_folder), year), considered


def deepsky_candidates(conditions: Conditions) -> DeepSky:
    """The deep-sky objects that the request allows."""
    request, objects = conditions.request, load_deepsky()
    keep = np.isin(objects.kind, list(request.kinds & set(DEEP_SKY_KINDS)))
    if request.constellation is not None:
        keep &= objects.constellation == request.constellation
    if request.faintest is not None:
        keep &= objects.v_mag <= request.faintest
    if request.only is not None:
        keep &= np.isin(objects.id, list(request.only))
    if request.without:
        keep &= ~np.isin(objects.id, list(request.without))
    return rows_of(objects, keep)


def possible_objects(conditions: Conditions, objects: DeepSky, bright: Bools) -> DeepSky:
    """Those of the objects, bright enough as given (N,), that come up."""
    if conditions.request.include_all:
        return objects
    return rows_of(objects, bright & _rises(conditions, objects.dec_deg))


def red_star_candidates(conditions: Conditions) -> tuple[RedStars, int]:
    """The red stars that the request allows and that come up, and the number looked at."""
    request, stars = conditions.request, load_red_stars()
    keep = np.ones(len(stars), dtype=bool)
    if request.constellation is not None:
        keep &= stars.constellation == request.constellation
    if request.faintest is not None:
        keep &= stars.middle_mag <= request.faintest
    if request.only is not None:
        keep &= np.isin(stars.name, list(request.only))
    if request.without:
        keep &= ~np.isin(stars.name, list(request.without))
    considered = int(keep.sum())
    if not request.include_all:
        keep &= _rises(conditions, stars.dec_deg)
    return rows_of(stars, keep), considered


def body_candidates(conditions: Conditions) -> Bodies:
    """The Moon and planets that the request allows."""
    kinds = conditions.request.kinds
    tracks: tuple[BodyTrack, ...] = (conditions.moon,) if Kind.MOON in kinds else ()
    tracks += conditions.planets if Kind.PLANET in kinds else ()
    moments = len(conditions.instants)
    wanted = [track for track in tracks if _is_wanted(conditions, track, moments // 2)]
    return body_table(wanted, moments)


def _is_wanted(conditions: Conditions, track: BodyTrack, middle: int) -> bool:
    request = conditions.request
    if track.name in request.without:
        return False
    if request.only is not None and track.name not in request.only:
        return False
    if request.faintest is not None and not track.magnitude[middle] <= request.faintest:
        return False
    if request.constellation is None:
        return True
    place = constellation_at(track.ra_deg[middle], track.dec_deg[middle])
    return place == request.constellation


def _rises(conditions: Conditions, dec_deg: Floats) -> Bools:
    """Which fixed targets ever stand above the least altitude at the site."""
    highest = highest_altitude_deg(conditions.request.site, dec_deg) + PRECESSION_SLACK_DEG
    return np.asarray(highest >= conditions.least_altitude_deg)
