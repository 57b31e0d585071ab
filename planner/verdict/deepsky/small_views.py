"""The finder and the bare eye as views of what is too large for every eyepiece."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import EyeAtTelescope
from planner.optics.view import View
from planner.targets.kind import Kind
from planner.verdict.deepsky.likings import GLOBULAR_HELD_SHARE
from planner.verdict.deepsky.profiles import seen_by_stars

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from planner.eye.observer import Observer
    from planner.optics.eyepiece import Finder
    from planner.targets.deepsky import DeepSky

    Floats = NDArray[np.float64]

FINDER_TRANSMISSION = 0.85  # lenses and perhaps a prism; common practice, no source
BARE_EYE_FIELD_DEG = 60.0  # taken in at a glance without turning the head; common practice
BARE_EYE = "bare eye"
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
