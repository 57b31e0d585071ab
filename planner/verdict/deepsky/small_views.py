"""The finder and the bare eye as views: of what is too large for every eyepiece, and to aim by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.profile import Sizes, Views, profile_limit
from planner.eye.stars import EyeAtTelescope, telescopic_limit_mag
from planner.optics.view import View
from planner.targets.kind import Kind
from planner.verdict.deepsky.glow import glow_of
from planner.verdict.deepsky.likings import GLOBULAR_HELD_SHARE
from planner.verdict.deepsky.open_clusters import member_mag
from planner.verdict.deepsky.profiles import object_sizes, seen_by_stars
from planner.verdict.steps import EXTENDED_UNCERTAINTY_MAG, LOOSE_UNCERTAINTY_MAG, steps

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from planner.eye.observer import Observer
    from planner.optics.eyepiece import Finder
    from planner.targets.deepsky import DeepSky

    Codes = NDArray[np.int8]
    Floats = NDArray[np.float64]

FINDER_TRANSMISSION = 0.85  # lenses and perhaps a prism; common practice, no source
BARE_EYE_FIELD_DEG = 60.0  # taken in at a glance without turning the head; common practice
BARE_EYE = "bare eye"
PATCH_ARCMIN = 15.0  # as seen: what is smaller looks like a star; own judgement
GLOW_SHARE = 0.75  # of a glow's width: a part of it shows as well; own judgement


@dataclass(frozen=True, slots=True)
class SmallView:
    """A view without the telescope, and the observer's eye at it."""

    view: View
    eye: EyeAtTelescope


def small_views(observer: Observer, finders: Iterable[Finder]) -> tuple[SmallView, ...]:
    """The finders whose objective is known, from the highest power down, and the bare eye."""
    pupil = observer.dark_pupil_mm
    found = [
        SmallView(
            View(f.name, None, None, f.magnification, f.aperture_mm / f.magnification,
                 f.true_field_deg),
            EyeAtTelescope(f.aperture_mm, 0.0, FINDER_TRANSMISSION, pupil, observer.field_factor),
        )
        for f in finders
        if f.aperture_mm is not None and f.magnification > 1.0
    ]  # fmt: skip
    found.sort(key=lambda small: (-small.view.magnification, small.view.name))
    bare = EyeAtTelescope(pupil, 0.0, 1.0, pupil, observer.field_factor)
    return (*found, SmallView(View(BARE_EYE, None, None, 1.0, pupil, BARE_EYE_FIELD_DEG), bare))


def field_share_wanted(objects: DeepSky) -> Floats:
    """The share (N,) of each object's width that an eyepiece has to hold to be worth using.

    All of what is seen by its stars: a cluster wider than the field is a field of stars. Of the
    Double Cluster each half counts, by the width. Of a globular the inner half, where its stars
    are, and of any other glow three quarters.
    """
    globular = objects.kind == Kind.GLOBULAR_CLUSTER
    return np.where(
        seen_by_stars(objects), 1.0, np.where(globular, GLOBULAR_HELD_SHARE, GLOW_SHARE)
    )


def small_view_steps(
    small: SmallView, objects: DeepSky, dimming_mag: Floats, sky_mag: Floats
) -> Codes:
    """How surely a finder or the bare eye shows N objects for what they are, numbers of ``Step``.

    Each as a glow of its whole light, or by its brighter stars where that shows it sooner: to aim
    by, a patch of light does as well as a cluster. What looks like a star among stars, less than
    15' across, is not seen. ``dimming_mag`` and ``sky_mag``: (N,).
    Limits: those of ``profile_limit``, 0.5 mag, of nebulae 1 mag.
    """
    glow, by_stars = glow_of(objects), seen_by_stars(objects)
    pupil, field = small.view.exit_pupil_mm, small.view.true_field_deg
    view = Views(np.array([pupil]), np.array([field]))
    limit = np.full(len(objects), np.nan)
    for profile in set(glow.profile):
        rows = np.flatnonzero(glow.profile == profile)
        sizes = Sizes(glow.sizes.major_arcmin[rows], glow.sizes.minor_arcmin[rows])
        found = profile_limit(profile, sizes, small.eye, view, sky_mag[rows, None])
        limit[rows] = found.limit_mag[:, 0]
    margin = limit - glow.mag - dimming_mag
    stars = telescopic_limit_mag(small.eye, pupil, sky_mag) - member_mag(objects) - dimming_mag
    margin = np.where(by_stars, np.fmax(margin, stars), margin)
    whole = object_sizes(objects)
    across = np.sqrt(whole.major_arcmin * whole.minor_arcmin) * small.view.magnification
    margin = np.where(across >= PATCH_ARCMIN, margin, np.nan)
    nebula = objects.kind == Kind.NEBULA
    return steps(margin, np.where(nebula, LOOSE_UNCERTAINTY_MAG, EXTENDED_UNCERTAINTY_MAG))
