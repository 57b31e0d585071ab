"""What is odd about the eyepieces of a kit in one telescope."""

from __future__ import annotations

from itertools import pairwise
from math import radians
from typing import TYPE_CHECKING

from planner.optics.light import used_aperture_mm
from planner.optics.view import view

if TYPE_CHECKING:
    from collections.abc import Iterator

    from planner.eye.observer import Observer
    from planner.kit.kit import Kit
    from planner.optics.eyepiece import Eyepiece
    from planner.optics.telescope import Telescope

LARGEST_POWER_STEP = 2.2  # steps of about 1.4-2 between eyepieces; common practice, no source
BARREL_WALL_MM = 1.5  # 1.25 in passes stops of about 28 mm, 2 in of about 47; common practice
FIELD_AGREEMENT = (0.7, 1.3)  # stop over focal length times field; distortion makes 0.9-1.2


def eyepiece_remarks(kit: Kit, telescope: Telescope) -> Iterator[str]:
    """Eyepieces that do not fit, waste light or do not agree with themselves."""
    fitting = kit.fitting(telescope)
    for eyepiece in kit.eyepieces:
        if eyepiece not in fitting:
            yield (
                f"{eyepiece.name} has a barrel of {eyepiece.barrel_mm:g} mm and does not fit the "
                f"focuser's {telescope.barrel_mm:g} mm: it is left out"
            )
            continue
        yield from _exit_pupil_remarks(kit.observer, telescope, eyepiece)
        yield from _field_remarks(telescope, eyepiece)


def _exit_pupil_remarks(
    observer: Observer, telescope: Telescope, eyepiece: Eyepiece
) -> Iterator[str]:
    exit_pupil = view(telescope, eyepiece).exit_pupil_mm
    pupil = observer.dark_pupil_mm
    if exit_pupil > pupil:
        used = float(used_aperture_mm(telescope.clear_aperture_mm, exit_pupil, pupil))
        yield (
            f"{eyepiece.name} wastes aperture: its exit pupil of {exit_pupil:.1f} mm exceeds "
            f"your pupil of about {pupil:.1f} mm, so only {used:.0f} mm of "
            f"{telescope.clear_aperture_mm:.0f} mm are used"
        )
    if exit_pupil < observer.least_exit_pupil_mm:
        yield (
            f"{eyepiece.name} gives an exit pupil of {exit_pupil:.2f} mm, below your least of "
            f"{observer.least_exit_pupil_mm:g} mm: it is not recommended"
        )


def _field_remarks(telescope: Telescope, eyepiece: Eyepiece) -> Iterator[str]:
    barrel = min(eyepiece.barrel_mm, telescope.barrel_mm)
    stop = eyepiece.field_stop_mm
    expected = eyepiece.focal_length_mm * radians(eyepiece.apparent_field_deg)
    if stop is None:
        if expected > barrel:
            yield (
                f"{eyepiece.name}: an apparent field of {eyepiece.apparent_field_deg:g} deg needs "
                f"a field stop of about {expected:.0f} mm, more than a barrel of {barrel:g} mm "
                "passes; check field and barrel"
            )
        return
    if stop > barrel - 2.0 * BARREL_WALL_MM:
        yield (
            f"{eyepiece.name} has a field stop of {stop:g} mm, larger than a barrel of "
            f"{barrel:g} mm passes (about {barrel - 2.0 * BARREL_WALL_MM:.0f} mm); check it"
        )
    low, high = FIELD_AGREEMENT
    if not low < stop / expected < high:
        yield (
            f"{eyepiece.name}: field stop {stop:g} mm and apparent field "
            f"{eyepiece.apparent_field_deg:g} deg do not agree (about {expected:.0f} mm expected)"
        )


def power_remarks(kit: Kit, telescope: Telescope) -> Iterator[str]:
    """Gaps between the powers, and a highest power too low for close doubles."""
    views = kit.views(telescope)
    for low, high in pairwise(views):
        if high.magnification > LARGEST_POWER_STEP * low.magnification:
            yield (
                f"a gap in power between {low.name} ({low.magnification:.0f}x) and {high.name} "
                f"({high.magnification:.0f}x)"
            )
    least = kit.observer.least_exit_pupil_mm
    powers = [v.magnification for v in views if v.exit_pupil_mm >= least]
    if not powers:
        yield f"no eyepiece gives an exit pupil of your least, {least:g} mm, or more"
    elif max(powers) < telescope.clear_aperture_mm:
        yield (
            f"the highest power is {max(powers):.0f}x; close doubles want about "
            f"{telescope.clear_aperture_mm:.0f}x to {1.6 * telescope.clear_aperture_mm:.0f}x"
        )
