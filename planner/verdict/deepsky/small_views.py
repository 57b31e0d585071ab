"""The finder and the bare eye as views of what is too large for every eyepiece."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.eye.stars import EyeAtTelescope
from planner.optics.view import View

if TYPE_CHECKING:
    from collections.abc import Iterable

    from planner.eye.observer import Observer
    from planner.optics.eyepiece import Finder

FINDER_TRANSMISSION = 0.85  # lenses and perhaps a prism; common practice, no source
BARE_EYE_FIELD_DEG = 60.0  # taken in at a glance without turning the head; common practice
BARE_EYE = "bare eye"


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
