"""What is odd about a kit that is not wrong: each remark names the thing and its effect."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from planner.optics.view import all_views

if TYPE_CHECKING:
    from collections.abc import Iterator

    from planner.kit.kit import Kit, Place
    from planner.optics.telescope import Telescope

LARGEST_POWER_STEP = 2.2  # steps of about 1.4-2 between eyepieces; common practice, no source
ZONE_SLACK_HOURS = 3.6  # legal time runs up to about 3.2 h from the Sun's (western China, Alaska)


def remarks(kit: Kit) -> tuple[str, ...]:
    """Every remark on a kit, in the order a reader would go through the file."""
    found: list[str] = []
    for place in kit.places:
        found.extend(_place_remarks(place))
    for telescope in kit.telescopes:
        found.extend(f"{telescope.name}: {text}" for text in _telescope_remarks(telescope))
        found.extend(f"{telescope.name}: {text}" for text in _eyepiece_remarks(kit, telescope))
        found.extend(f"{telescope.name}: {text}" for text in _power_remarks(kit, telescope))
    return tuple(found)


def _place_remarks(place: Place) -> Iterator[str]:
    site = place.site
    offset = datetime(2026, 1, 15, 12, tzinfo=UTC).astimezone(ZoneInfo(site.timezone)).utcoffset()
    if offset is not None:
        apart = abs(offset.total_seconds() / 3600.0 - site.longitude_deg / 15.0)
        if min(apart, 24.0 - apart) > ZONE_SLACK_HOURS:
            yield (
                f"{site.name}: longitude {site.longitude_deg:g} and time zone {site.timezone} are "
                f"{min(apart, 24.0 - apart):.0f} hours apart; east longitudes are positive"
            )
    if place.zenith_sky_mag > 21.9:
        yield f"{site.name}: a sky of {place.zenith_sky_mag:.2f} is darker than almost any on Earth"


def _telescope_remarks(telescope: Telescope) -> Iterator[str]:
    loss = 1.0 - (telescope.clear_aperture_mm / telescope.aperture_mm) ** 2
    if loss > 0.15:
        yield f"the mask takes {loss:.0%} of the mirror's light"
    if telescope.obstruction_ratio > 0.35:
        yield (
            f"the secondary hides {telescope.obstruction_ratio:.0%} of the diameter; "
            "contrast suffers"
        )
    if telescope.wavefront_rms_waves > 0.075:
        yield (
            f"a wave error of {telescope.wavefront_rms_waves:.3f} RMS is past the usual "
            "diffraction limit of 1/14"
        )
    if telescope.diagonal_to_focus_mm is not None and telescope.obstruction_mm > 0:
        axis_beam = telescope.clear_aperture_mm * (
            telescope.diagonal_to_focus_mm / telescope.focal_length_mm
        )
        if axis_beam > telescope.obstruction_mm:
            yield (
                f"the secondary of {telescope.obstruction_mm:g} mm is smaller than the light cone "
                f"there ({axis_beam:.1f} mm): part of the aperture is lost even on the axis"
            )


def _eyepiece_remarks(kit: Kit, telescope: Telescope) -> Iterator[str]:
    pupil = kit.observer.dark_pupil_mm
    for eyepiece in kit.eyepieces:
        exit_pupil = eyepiece.focal_length_mm / telescope.focal_ratio
        if exit_pupil > pupil:
            used = telescope.clear_aperture_mm * pupil / exit_pupil
            yield (
                f"{eyepiece.name} wastes aperture: its exit pupil of {exit_pupil:.1f} mm exceeds "
                f"your pupil of {pupil:.1f} mm, so only {used:.0f} mm of the mirror are used"
            )
        if exit_pupil < kit.observer.least_exit_pupil_mm:
            yield (
                f"{eyepiece.name} gives an exit pupil of {exit_pupil:.2f} mm, below your least of "
                f"{kit.observer.least_exit_pupil_mm:g} mm: it is left out of every choice"
            )
        if eyepiece.barrel_mm > telescope.barrel_mm + 0.5:
            yield (
                f"{eyepiece.name} has a barrel of {eyepiece.barrel_mm:g} mm and does not fit the "
                f"focuser's {telescope.barrel_mm:g} mm"
            )
        stop = eyepiece.field_stop_mm
        if stop is not None and stop > min(eyepiece.barrel_mm, telescope.barrel_mm):
            yield (
                f"{eyepiece.name} has a field stop of {stop:g} mm, larger than the barrel passes: "
                "check it"
            )
        widest = eyepiece.focal_length_mm * eyepiece.apparent_field_deg / 57.3
        if stop is not None and not 0.7 < stop / widest < 1.3:
            yield (
                f"{eyepiece.name}: field stop {stop:g} mm and apparent field "
                f"{eyepiece.apparent_field_deg:g} deg do not agree (about {widest:.0f} mm expected)"
            )


def _power_remarks(kit: Kit, telescope: Telescope) -> Iterator[str]:
    views = all_views(telescope, kit.eyepieces, kit.barlows)
    for low, high in pairwise(views):
        if high.magnification > LARGEST_POWER_STEP * low.magnification:
            yield (
                f"a gap in power between {low.name} ({low.magnification:.0f}x) and {high.name} "
                f"({high.magnification:.0f}x)"
            )
    top = max(
        (v.magnification for v in views if v.exit_pupil_mm >= kit.observer.least_exit_pupil_mm),
        default=0.0,
    )
    if top < telescope.clear_aperture_mm:
        yield (
            f"the highest power is {top:.0f}x; close doubles want about "
            f"{telescope.clear_aperture_mm:.0f}x to {1.6 * telescope.clear_aperture_mm:.0f}x"
        )
