"""Does this telescope show a cluster, nebula or galaxy, in which eyepiece, with which filter?"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.margin_table import MarginTable, margin_table
from planner.eye.profile import Profile, Sizes, Views, fitting_views
from planner.eye.stars import telescopic_limit_mag
from planner.targets.columns import rows_of
from planner.targets.kind import Kind
from planner.verdict.faintest_star import eye_at_telescope
from planner.verdict.filtering import (
    WORTHWHILE_GAIN_MAG,
    FilterEffect,
    filter_effect,
    sky_darkening_mag,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.eye.stars import EyeAtTelescope
    from planner.optics.eyepiece import Filter
    from planner.optics.view import View
    from planner.targets.deepsky import DeepSky
    from planner.verdict.instrument import Setup

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

SMALLEST_ARCMIN = 0.05  # an object without a size is taken as a point of this diameter
CLUSTER_STARS_BELOW_MAG = 3.0  # brightest members against the whole; common practice, no source
WIDE_FIELD_FOR_MAG = 0.3  # of star limit given up for a wider field on a cluster; own judgement
NEBULA_HANDICAP_MAG = 0.5  # catalogue magnitudes of diffuse nebulae run too bright; own judgement
SKY_STEP_MAG = 0.1
SKY_GRID_MAG = np.arange(2.0, 26.05, SKY_STEP_MAG)
LIT_FROM_INSIDE = ("emission", "cluster-with-nebula")
DWARF_FROM_MAG = 22.2  # V per square arcsecond within the outline of a pale elliptical
EDGE_ON_BELOW = 0.3  # minor over major axis; own judgement
_STEEP = re.compile(r"E|S0(?!-a)")
_SPIRAL = re.compile(r"S(?:AB|B|A)?(0-a|ab|a|bc|b|cd|c)")
_BY_STAGE = {
    "0-a": Profile.STRONG_BULGE, "a": Profile.STRONG_BULGE, "ab": Profile.STRONG_BULGE,
    "b": Profile.BULGE, "bc": Profile.BULGE, "c": Profile.WEAK_BULGE, "cd": Profile.WEAK_BULGE,
}  # fmt: skip
_SEEN_EDGE_ON = {  # half of the bulge lies behind the disc's dust; own judgement
    Profile.STRONG_BULGE: Profile.BULGE,
    Profile.BULGE: Profile.WEAK_BULGE,
    Profile.WEAK_BULGE: Profile.EXPONENTIAL_DISC,
}


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyTables:
    """What one eye at one telescope needs to judge any number of objects.

    ``star_limits_mag`` (V, M) holds the faintest star of each view over ``SKY_GRID_MAG``.
    """

    eye: EyeAtTelescope
    views: Views
    filters: tuple[Filter, ...]
    by_profile: dict[Profile, MarginTable]
    star_limits_mag: Floats

    def star_limit_mag(self, view: int, sky_mu: float) -> float:
        """Faintest star, V as it reaches the ground, in one view against one sky."""
        return float(np.interp(sky_mu, SKY_GRID_MAG, self.star_limits_mag[view]))


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyMargins:
    """Margins (N, T) in magnitudes (NaN: brightness unknown), the views and the filters.

    ``view`` is -1 for none, ``filter_index`` -1 for no filter. ``overflows`` (N,) marks objects
    larger than every field.
    """

    margin_mag: Floats
    view: Ints
    filter_index: Ints
    overflows: NDArray[np.bool_]


def deepsky_tables(
    setup: Setup, views: Sequence[View], filters: Sequence[Filter] = ()
) -> DeepSkyTables:
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
        filters=tuple(filters),
        by_profile={profile: margin_table(profile, eye, arrays) for profile in Profile},
        star_limits_mag=telescopic_limit_mag(eye, arrays.exit_pupil_mm[:, None], SKY_GRID_MAG),
    )


def hopeless_from_mag(tables: DeepSkyTables, zenith_sky_mag: float) -> float:
    """Magnitude from which not even a point of light shows, overhead, in any view."""
    darkest = zenith_sky_mag + max((sky_darkening_mag(f) for f in tables.filters), default=0.0)
    best = tables.star_limits_mag.max(axis=0)
    return float(np.interp(darkest, SKY_GRID_MAG, best)) + SKY_STEP_MAG


def deepsky_margins(
    tables: DeepSkyTables, objects: DeepSky, dimming_mag: Floats, sky_mu: Floats
) -> DeepSkyMargins:
    """By how much N objects are seen at T moments, in the best of all views and filters.

    Galaxies, globular clusters and nebulae: the limit of their brightness profile less the
    dimmed magnitude; diffuse nebulae half a magnitude less. Open clusters: the star limit less
    their brightest members, taken as 3 magnitudes fainter than the whole cluster; their view is
    the widest that loses no more than 0.3 mag, the margin that of the best. Filters are
    tried on objects with emission lines, and named where they gain 0.2 mag or more; the margin
    is the best of all, with and without.
    ``dimming_mag`` and ``sky_mu``: (N, T), magnitudes lost in the air and sky brightness.
    Limits: about 0.5 mag; 1 mag for diffuse nebulae, whose line light lies outside the model.
    """
    bare = _glow_margins(tables, objects, dimming_mag, sky_mu)
    rows = np.flatnonzero(_is_cluster(objects))
    sizes = object_sizes(rows_of(objects, rows))
    limit, index = _cluster_limits(tables, sizes.major_arcmin, sky_mu[rows])
    members = objects.v_mag[rows, None] + CLUSTER_STARS_BELOW_MAG
    bare.margin_mag[rows] = limit - members - dimming_mag[rows]
    bare.view[rows] = np.where(np.isnan(bare.margin_mag[rows]), -1, index)
    for number, used in enumerate(tables.filters):
        _try_filter(
            tables, objects, filter_effect(used, objects), (dimming_mag, sky_mu), bare, number
        )
    return bare


def _try_filter(
    tables: DeepSkyTables,
    objects: DeepSky,
    effect: FilterEffect,
    air_and_sky: tuple[Floats, Floats],
    found: DeepSkyMargins,
    number: int,
) -> None:
    """Put a filter's better margins in the place of those found so far."""
    rows = np.flatnonzero(np.isfinite(effect.fainter_mag) & np.isfinite(objects.v_mag))
    dimming, sky = air_and_sky
    with_filter = _glow_margins(
        tables,
        rows_of(objects, rows),
        dimming[rows] + effect.fainter_mag[rows, None],
        sky[rows] + effect.darker_mag,
    )
    before = found.margin_mag[rows]
    worth_it = with_filter.margin_mag > before + WORTHWHILE_GAIN_MAG
    found.margin_mag[rows] = np.fmax(with_filter.margin_mag, before)
    found.view[rows] = np.where(worth_it, with_filter.view, found.view[rows])
    found.filter_index[rows] = np.where(worth_it, number, found.filter_index[rows])


def _glow_margins(
    tables: DeepSkyTables, objects: DeepSky, dimming_mag: Floats, sky_mu: Floats
) -> DeepSkyMargins:
    """Margins of everything but open clusters, taken as a glow; clusters get NaN."""
    sizes = object_sizes(objects)
    margin = np.full(sky_mu.shape, np.nan)
    view = np.full(sky_mu.shape, -1, dtype=np.intp)
    handicap = NEBULA_HANDICAP_MAG * (objects.kind == Kind.NEBULA)
    for profile, rows in profile_rows(objects).items():
        part = Sizes(sizes.major_arcmin[rows], sizes.minor_arcmin[rows])
        found = tables.by_profile[profile].limit(part, sky_mu[rows])
        bright = objects.v_mag[rows] + handicap[rows]
        margin[rows] = found.limit_mag - bright[:, None] - dimming_mag[rows]
        view[rows] = np.where(np.isnan(margin[rows]), -1, found.view_index)
    return DeepSkyMargins(
        margin_mag=margin,
        view=view,
        filter_index=np.full(sky_mu.shape, -1, dtype=np.intp),
        overflows=deepsky_overflows(tables, objects),
    )


def deepsky_overflows(tables: DeepSkyTables, objects: DeepSky) -> NDArray[np.bool_]:
    """Which objects (N,) are larger than 0.9 of every field."""
    return np.asarray(fitting_views(tables.views, object_sizes(objects).major_arcmin) == 0)


def object_sizes(objects: DeepSky) -> Sizes:
    """Axes with the gaps filled: a missing minor axis is the major one, no size a point."""
    major = np.where(np.isnan(objects.major_arcmin), SMALLEST_ARCMIN, objects.major_arcmin)
    minor = np.where(np.isnan(objects.minor_arcmin), major, objects.minor_arcmin)
    return Sizes(np.maximum(major, SMALLEST_ARCMIN), np.maximum(minor, SMALLEST_ARCMIN))


def _is_cluster(objects: DeepSky) -> NDArray[np.bool_]:
    return np.asarray(objects.kind == Kind.OPEN_CLUSTER)


def profile_rows(objects: DeepSky) -> dict[Profile, Ints]:
    """Which objects, open clusters left out, follow which brightness profile.

    Globular clusters are steep; gas lit from inside is brightest around its stars. Galaxies go
    by their stage in Hubble's order; ellipticals and lenticulars whose mean surface brightness
    is below 22.2 are dwarfs, which fade like discs (Faber & Lin 1983, ApJ 266, L17, from
    memory); a spiral seen edge-on shows half of its bulge.
    """
    sizes = object_sizes(objects)
    area = 0.25 * np.pi * sizes.major_arcmin * sizes.minor_arcmin * 3600.0
    pale = objects.v_mag + 2.5 * np.log10(area) > DWARF_FROM_MAG
    edge_on = sizes.minor_arcmin < EDGE_ON_BELOW * sizes.major_arcmin
    profiles = np.array(
        [
            _galaxy_profile(objects.hubble_type[row], bool(pale[row]), bool(edge_on[row]))
            if kind is Kind.GALAXY
            else _profile(kind, objects.nebula_type[row])
            for row, kind in enumerate(objects.kind)
        ],
        dtype=object,
    )
    wanted = ~_is_cluster(objects)
    return {profile: np.flatnonzero(wanted & (profiles == profile)) for profile in Profile}


def _profile(kind: Kind, nebula_type: str) -> Profile:
    if kind is Kind.GLOBULAR_CLUSTER:
        return Profile.STEEP
    if kind is Kind.NEBULA:
        return Profile.BULGE if nebula_type in LIT_FROM_INSIDE else Profile.EXPONENTIAL_DISC
    return Profile.UNIFORM


def _galaxy_profile(hubble_type: str, pale: bool, edge_on: bool) -> Profile:
    if _STEEP.match(hubble_type):
        return Profile.EXPONENTIAL_DISC if pale else Profile.STEEP
    spiral = _SPIRAL.match(hubble_type)
    if spiral is None:
        return Profile.EXPONENTIAL_DISC
    profile = _BY_STAGE[spiral[1]]
    return _SEEN_EDGE_ON[profile] if edge_on else profile


def _cluster_limits(
    tables: DeepSkyTables, major_arcmin: Floats, sky_mu: Floats
) -> tuple[Floats, Ints]:
    """Faintest stars (n, T) in the best view whose field holds the cluster, and the view to use.

    That is the one with the widest field among those no more than 0.3 mag worse than the best.
    """
    by_field = np.argsort(-tables.views.true_field_deg, kind="stable")
    limits = tables.star_limits_mag[by_field]
    best = np.maximum.accumulate(limits, axis=0)
    rank = np.maximum(fitting_views(tables.views, major_arcmin), 1) - 1
    column = np.nan_to_num((sky_mu - SKY_GRID_MAG[0]) / SKY_STEP_MAG)
    column = np.clip(np.rint(column).astype(np.intp), 0, SKY_GRID_MAG.size - 1)
    limit, index = np.empty(sky_mu.shape), np.empty(sky_mu.shape, dtype=np.intp)
    for r in np.unique(rank):
        rows = rank == r
        limit[rows] = np.interp(sky_mu[rows], SKY_GRID_MAG, best[r])
        about = np.argmax(limits >= best[r] - WIDE_FIELD_FOR_MAG, axis=0)
        index[rows] = by_field[about][column[rows]]
    limit[np.isnan(sky_mu)] = np.nan
    return limit, index
