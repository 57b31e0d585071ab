"""Does this telescope show a cluster, nebula or galaxy, and in which eyepiece?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.margin_table import MarginTable, margin_table
from planner.eye.profile import Profile, Sizes, Views, fitting_views
from planner.eye.stars import telescopic_limit_mag
from planner.targets.kind import Kind
from planner.verdict.faintest_star import eye_at_telescope

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.eye.stars import EyeAtTelescope
    from planner.optics.view import View
    from planner.targets.deepsky import DeepSky
    from planner.verdict.instrument import Setup

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

SMALLEST_ARCMIN = 0.05  # an object without a size is taken as a point of this diameter
CLUSTER_STARS_BELOW_MAG = 3.0  # brightest members against the whole; common practice, no source
SKY_STEP_MAG = 0.1
SKY_GRID_MAG = np.arange(2.0, 26.05, SKY_STEP_MAG)
STEEP_TYPES = ("E", "S0")  # first letters of Hubble types with a steep profile


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyTables:
    """What one eye at one telescope needs to judge any number of objects.

    ``star_limits_mag`` (V, M) holds the faintest star of each view over ``SKY_GRID_MAG``.
    """

    eye: EyeAtTelescope
    views: Views
    by_profile: dict[Profile, MarginTable]
    star_limits_mag: Floats


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyMargins:
    """Margins (N, T) in magnitudes (NaN: brightness unknown) and the views, -1 for none.

    ``overflows`` (N,) marks objects larger than every field.
    """

    margin_mag: Floats
    view: Ints
    overflows: NDArray[np.bool_]


def deepsky_tables(setup: Setup, views: Sequence[View]) -> DeepSkyTables:
    """Work out the tables for the views given; about a tenth of a second.

    Raises:
        ModelRangeError: there is no view.
    """
    eye = eye_at_telescope(setup)
    arrays = Views(
        exit_pupil_mm=np.array([v.exit_pupil_mm for v in views]),
        true_field_deg=np.array([v.true_field_deg for v in views]),
    )
    return DeepSkyTables(
        eye=eye,
        views=arrays,
        by_profile={profile: margin_table(profile, eye, arrays) for profile in Profile},
        star_limits_mag=telescopic_limit_mag(eye, arrays.exit_pupil_mm[:, None], SKY_GRID_MAG),
    )


def hopeless_from_mag(tables: DeepSkyTables, zenith_sky_mag: float) -> float:
    """Magnitude from which not even a point of light shows, overhead, in any view."""
    best = tables.star_limits_mag.max(axis=0)
    return float(np.interp(zenith_sky_mag, SKY_GRID_MAG, best)) + SKY_STEP_MAG


def deepsky_margins(
    tables: DeepSkyTables, objects: DeepSky, dimming_mag: Floats, sky_mu: Floats
) -> DeepSkyMargins:
    """By how much N objects are seen at T moments, and in which view best.

    Galaxies, globular clusters and nebulae: the limit of their brightness profile less the
    dimmed magnitude. Open clusters: the star limit less their brightest members, taken as 3
    magnitudes fainter than the whole cluster.
    ``dimming_mag`` and ``sky_mu``: (N, T), magnitudes lost in the air and sky brightness.
    Limits: about 0.5 mag. Emission nebulae are outside the model, which takes white light.
    """
    sizes = object_sizes(objects)
    margin = np.full(sky_mu.shape, np.nan)
    view = np.full(sky_mu.shape, -1, dtype=np.intp)
    overflows = fitting_views(tables.views, sizes.major_arcmin) == 0
    cluster = np.array([kind is Kind.OPEN_CLUSTER for kind in objects.kind], dtype=bool)
    for profile, rows in profile_rows(objects, ~cluster).items():
        part = Sizes(sizes.major_arcmin[rows], sizes.minor_arcmin[rows])
        found = tables.by_profile[profile].limit(part, sky_mu[rows])
        margin[rows] = found.limit_mag - objects.v_mag[rows, None] - dimming_mag[rows]
        view[rows] = found.view_index
    rows = np.flatnonzero(cluster)
    limit, index = _cluster_limits(tables, sizes.major_arcmin[rows], sky_mu[rows])
    members = objects.v_mag[rows, None] + CLUSTER_STARS_BELOW_MAG
    margin[rows] = limit - members - dimming_mag[rows]
    view[rows] = index
    return DeepSkyMargins(margin, np.where(np.isnan(margin), -1, view), overflows)


def object_sizes(objects: DeepSky) -> Sizes:
    """Axes with the gaps filled: a missing minor axis is the major one, no size a point."""
    major = np.where(np.isnan(objects.major_arcmin), SMALLEST_ARCMIN, objects.major_arcmin)
    minor = np.where(np.isnan(objects.minor_arcmin), major, objects.minor_arcmin)
    return Sizes(np.maximum(major, SMALLEST_ARCMIN), np.maximum(minor, SMALLEST_ARCMIN))


def profile_rows(objects: DeepSky, wanted: NDArray[np.bool_]) -> dict[Profile, Ints]:
    """Which of the wanted objects follow which brightness profile."""
    profiles = np.array(
        [
            _profile(kind, hubble)
            for kind, hubble in zip(objects.kind, objects.hubble_type, strict=True)
        ],
        dtype=object,
    )
    return {profile: np.flatnonzero(wanted & (profiles == profile)) for profile in Profile}


def _profile(kind: Kind, hubble_type: str) -> Profile:
    if kind is Kind.GALAXY:
        return Profile.STEEP if hubble_type.startswith(STEEP_TYPES) else Profile.EXPONENTIAL_DISC
    if kind is Kind.NEBULA:
        return Profile.EXPONENTIAL_DISC
    return Profile.STEEP if kind is Kind.GLOBULAR_CLUSTER else Profile.UNIFORM


def _cluster_limits(
    tables: DeepSkyTables, major_arcmin: Floats, sky_mu: Floats
) -> tuple[Floats, Ints]:
    """Faintest stars (n, T) and views: the highest power whose field holds the cluster."""
    by_field = np.argsort(-tables.views.true_field_deg, kind="stable")
    rank = np.maximum(fitting_views(tables.views, major_arcmin), 1) - 1
    chosen = by_field[rank]
    limits = np.empty(sky_mu.shape)
    for view in np.unique(chosen):
        rows = chosen == view
        limits[rows] = np.interp(sky_mu[rows], SKY_GRID_MAG, tables.star_limits_mag[view])
    limits[np.isnan(sky_mu)] = np.nan
    return limits, np.broadcast_to(chosen[:, None], sky_mu.shape)
