"""Does this telescope show a cluster, nebula or galaxy, in which eyepiece, with which filter?"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.margin_table import MarginTable, margin_table
from planner.eye.profile import Profile, Sizes, Views, fitting_views
from planner.targets.columns import rows_of
from planner.targets.kind import Kind
from planner.verdict.deepsky.filtering import (
    WORTHWHILE_GAIN_MAG,
    filter_effect,
    sky_darkening_mag,
)
from planner.verdict.deepsky.glow import Glow, glow_of
from planner.verdict.deepsky.likings import WISH_PROFILES, Wish, liking
from planner.verdict.deepsky.open_clusters import cluster_views, member_mag, member_uncertainty_mag
from planner.verdict.deepsky.profiles import has_type, object_sizes, seen_by_stars
from planner.verdict.deepsky.small_views import field_share_wanted
from planner.verdict.deepsky.star_table import SKY_STEP_MAG, StarTable, star_table
from planner.verdict.steps import (
    EXTENDED_UNCERTAINTY_MAG,
    LEAST_STAR_UNCERTAINTY_MAG,
    LOOSE_UNCERTAINTY_MAG,
)
from planner.verdict.verdicts import NO_FILTER

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from planner.eye.margin_table import Liking
    from planner.eye.stars import EyeAtTelescope
    from planner.optics.eyepiece import Filter
    from planner.optics.view import View
    from planner.targets.deepsky import DeepSky
    from planner.verdict.deepsky.small_views import SmallView
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]


LARGE_FOR_BARE_EYE = 2.0  # times the widest field; else the telescope shows more; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class DeepSkyTables:
    """What one eye at one telescope needs to judge any number of objects.

    ``small`` are the finders and the bare eye, each with an eye of its own and one view; as views
    of a verdict they follow those of the telescope.
    """

    eye: EyeAtTelescope
    views: Views
    filters: tuple[Filter, ...]
    by_profile: dict[tuple[Profile, Wish], MarginTable]
    stars: StarTable
    small: tuple[DeepSkyTables, ...] = ()

    @property
    def powers(self) -> Floats:
        """The magnification of each view (V,)."""
        return np.asarray(self.eye.aperture_mm / self.views.exit_pupil_mm)

    def star_limit_mag(self, view: Ints, sky_mag: Floats) -> Floats:
        """V as it reaches the ground of the faintest star in the view (N,) against the sky."""
        return self._of_view(view, sky_mag, StarTable.limit_mag)

    def star_spread_mag(self, view: Ints, sky_mag: Floats) -> Floats:
        """By how much the star models differ in the view (N,) against the sky (N,)."""
        return self._of_view(view, sky_mag, StarTable.spread_at_mag)

    def _of_view(
        self, view: Ints, sky_mag: Floats, told: Callable[[StarTable, Ints, Floats], Floats]
    ) -> Floats:
        own = len(self.powers)
        found = told(self.stars, np.minimum(view, own - 1), sky_mag)
        for number, table in enumerate(self.small):
            here = view == own + number
            found = np.where(here, told(table.stars, np.zeros_like(view), sky_mag), found)
        return found


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
    setup: Setup,
    views: Sequence[View],
    filters: Sequence[Filter] = (),
    small: Sequence[SmallView] = (),
) -> DeepSkyTables:
    """Work out the tables for the views given; about a tenth of a second, once a telescope.

    Raises:
        ModelRangeError: there is no view.
    """
    likings = tuple(liking(setup, wish) for wish in Wish)
    beside = tuple(_tables(one.eye, (one.view,), (), likings) for one in small)
    return replace(_tables(setup.eye, tuple(views), tuple(filters), likings), small=beside)


@lru_cache(maxsize=4)  # a telescope, two finders and the bare eye; 3 MB a view and less
def _tables(
    eye: EyeAtTelescope,
    views: tuple[View, ...],
    filters: tuple[Filter, ...],
    likings: tuple[Liking, ...],
) -> DeepSkyTables:
    arrays = Views(
        exit_pupil_mm=np.array([v.exit_pupil_mm for v in views]),
        true_field_deg=np.array([v.true_field_deg for v in views]),
    )
    return DeepSkyTables(
        eye=eye,
        views=arrays,
        filters=filters,
        by_profile={
            (profile, wish): margin_table(profile, eye, arrays, liked)
            for wish, liked in zip(Wish, likings, strict=True)
            for profile in WISH_PROFILES[wish]
        },
        stars=star_table(eye, arrays),
    )


def margin_uncertainty_mag(
    tables: DeepSkyTables, objects: DeepSky, view: Ints, sky_mag: Floats
) -> Floats:
    """How far the margin of each object (N,) may be out, magnitudes.

    0.5 for what is seen as a glow, 1 for diffuse nebulae and for galaxies without a known
    type; for what is seen by its stars the spread of the two star models in the view (N,)
    against the sky (N,), at least 0.3, and 1 where the stars are not counted.
    """
    loose = (objects.kind == Kind.NEBULA) | ((objects.kind == Kind.GALAXY) & ~has_type(objects))
    glow = np.where(loose, LOOSE_UNCERTAINTY_MAG, EXTENDED_UNCERTAINTY_MAG)
    stars = np.maximum(tables.star_spread_mag(view, sky_mag), LEAST_STAR_UNCERTAINTY_MAG)
    stars = np.maximum(stars, member_uncertainty_mag(objects))
    return np.where(seen_by_stars(objects), stars, glow)


def hopeless_from_mag(tables: DeepSkyTables, zenith_sky_mag: float) -> float:
    """Magnitude from which not even a point of light shows, overhead, in any view."""
    darkest = zenith_sky_mag + max((sky_darkening_mag(f) for f in tables.filters), default=0.0)
    return float(tables.stars.best_mag(darkest)) + SKY_STEP_MAG


def deepsky_margins(
    tables: DeepSkyTables, objects: DeepSky, dimming_mag: Floats, sky_mag: Floats
) -> DeepSkyMargins:
    """By how much N objects are seen at T moments, in the best of all views and filters.

    Galaxies, globular clusters and nebulae: the limit of their brightness profile less the
    dimmed magnitude; nebulae by their bright part where known (``glow``). Open clusters,
    and nebulae whose magnitude is that of the stars inside: the star limit less their brighter
    members, in the view that shows them as a cluster (``open_clusters``). Filters are tried on
    objects with emission lines; the best is named where it gains 0.2 mag or more over none. The
    margin is the best of all, with and without. What no eyepiece holds goes to the finder or the
    bare eye, where the tables have them and they show it.
    ``dimming_mag`` and ``sky_mag``: (N, T), magnitudes lost in the air and sky brightness.
    Limits: about 0.5 mag; 1 mag for diffuse nebulae, whose line light lies outside the model.
    """
    glow = glow_of(objects)
    bare = _glow_margins(tables, glow, dimming_mag, sky_mag)
    rows = np.flatnonzero(seen_by_stars(objects))
    clusters = rows_of(objects, rows)
    members = member_mag(clusters)[:, None] + dimming_mag[rows]
    bare.margin_mag[rows] = tables.stars.best_mag(sky_mag[rows]) - members
    size = object_sizes(clusters).major_arcmin
    index = cluster_views(tables.stars, tables.views, tables.powers, size, (members, sky_mag[rows]))
    bare.view[rows] = np.where(np.isnan(bare.margin_mag[rows]), -1, index)
    _try_filters(tables, objects, glow, (dimming_mag, sky_mag), bare)
    _try_small_views(tables, objects, glow, (dimming_mag, sky_mag), bare)
    return bare


def _try_filters(
    tables: DeepSkyTables,
    objects: DeepSky,
    glow: Glow,
    air_and_sky: tuple[Floats, Floats],
    found: DeepSkyMargins,
) -> None:
    """Put better margins with filters in the place of those without, in ``found``."""
    dimming, sky = air_and_sky
    bare = found.margin_mag.copy()
    for number, used in enumerate(tables.filters):
        effect = filter_effect(used, objects, glow)
        rows = np.flatnonzero(
            np.isfinite(effect.fainter_mag) & np.isfinite(glow.mag) & ~seen_by_stars(objects)
        )
        with_filter = _glow_margins(
            tables,
            glow.rows(rows),
            dimming[rows] + effect.fainter_mag[rows, None],
            sky[rows] + effect.darker_mag,
        )
        margin, before = with_filter.margin_mag, found.margin_mag[rows]
        named = (margin > before) & (margin >= bare[rows] + WORTHWHILE_GAIN_MAG)
        found.margin_mag[rows] = np.fmax(margin, before)
        found.view[rows] = np.where(named, with_filter.view, found.view[rows])
        found.filter_index[rows] = np.where(named, number, found.filter_index[rows])


def _try_small_views(
    tables: DeepSkyTables,
    objects: DeepSky,
    glow: Glow,
    air_and_sky: tuple[Floats, Floats],
    found: DeepSkyMargins,
) -> None:
    """Put the finder or the bare eye in the place of the telescope, in ``found``.

    That is for what is too wide for every eyepiece: the finder of the highest power that holds
    it and shows it, else the bare eye for what is more than twice as wide as the field.
    """
    dimming, sky = air_and_sky
    across = glow.sizes.minor_arcmin
    needed = across * field_share_wanted(objects)
    widest = 60.0 * float(tables.views.true_field_deg.max())
    rows = np.flatnonzero(needed > widest)
    for number, table in enumerate(tables.small):
        far = across[rows] > widest * (LARGE_FOR_BARE_EYE if table.powers[0] <= 1.0 else 0.0)
        held = rows[far & (fitting_views(table.views, across[rows]) > 0)]
        with_it = deepsky_margins(table, rows_of(objects, held), dimming[held], sky[held])
        shown = np.flatnonzero((np.nan_to_num(with_it.margin_mag, nan=-1.0) >= 0.0).any(axis=1))
        taken = held[shown]
        found.margin_mag[taken] = with_it.margin_mag[shown]
        found.view[taken] = np.where(with_it.view[shown] >= 0, len(tables.powers) + number, -1)
        found.filter_index[taken] = NO_FILTER
        found.overflows[taken] = False
        rows = np.setdiff1d(rows, taken)


def _glow_margins(
    tables: DeepSkyTables, glow: Glow, dimming_mag: Floats, sky_mag: Floats
) -> DeepSkyMargins:
    """Margins of objects taken as a glow."""
    margin = np.full(sky_mag.shape, np.nan)
    view = np.full(sky_mag.shape, -1, dtype=np.intp)
    for asked, rows in glow.table_rows().items():
        part = Sizes(glow.sizes.major_arcmin[rows], glow.sizes.minor_arcmin[rows])
        found = tables.by_profile[asked].limit(part, sky_mag[rows])
        margin[rows] = found.limit_mag - glow.mag[rows, None] - dimming_mag[rows]
        view[rows] = np.where(np.isnan(margin[rows]), -1, found.view_index)
    return DeepSkyMargins(
        margin_mag=margin,
        view=view,
        filter_index=np.full(sky_mag.shape, -1, dtype=np.intp),
        overflows=_overflows(tables, glow),
    )


def _overflows(tables: DeepSkyTables, glow: Glow) -> NDArray[np.bool_]:
    """Which objects (N,) are larger than 0.9 of every field in the part judged."""
    return np.asarray(fitting_views(tables.views, glow.sizes.major_arcmin) == 0)
