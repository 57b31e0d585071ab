"""What is odd about a kit that is not wrong: each remark names the thing and its effect."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.ephemeris.site import standard_pressure_hpa
from planner.kit.eyepiece_advice import eyepiece_remarks, power_remarks
from planner.kit.position_advice import position_remarks
from planner.optics.figure import GOOD_STREHL, strehl
from planner.optics.newtonian import light_cone
from planner.optics.telescope import Design

if TYPE_CHECKING:
    from collections.abc import Iterator

    from planner.kit.kit import Kit, KitSite
    from planner.optics.eyepiece import Finder
    from planner.optics.telescope import Telescope

WEATHER_SHARE = 0.06  # of the pressure; the deepest lows and highest highs of most places
DARKEST_SKY_MAG = 21.9  # zodiacal light and airglow leave 21.6-22.0; common practice, no source
USUAL_LARGEST_APERTURE_MM = 650.0  # of amateurs; common practice, no source
WIDEST_FINDER_DEG = 90.0  # apparent field; common practice, no source
DIFFRACTION_LIMIT_RMS = 0.0715  # 1/14 wave, Strehl 0.8; Marechal, Born & Wolf 9.3


def remarks(kit: Kit) -> tuple[str, ...]:
    """Every remark on a kit, in the order a reader would go through the file."""
    found: list[str] = []
    for place in kit.sites:
        found.extend(f"{place.name}: {text}" for text in _site_remarks(place))
    for telescope in kit.telescopes:
        mine = (
            *_telescope_remarks(telescope),
            *eyepiece_remarks(kit, telescope),
            *power_remarks(kit, telescope),
        )
        found.extend(f"{telescope.name}: {text}" for text in mine)
    for finder in kit.finders:
        found.extend(f"{finder.name}: {text}" for text in _finder_remarks(finder))
    return tuple(found)


def _site_remarks(place: KitSite) -> Iterator[str]:
    site = place.site
    yield from position_remarks(site)
    usual = standard_pressure_hpa(site.elevation_m)
    if abs(site.pressure_hpa / usual - 1.0) > WEATHER_SHARE:
        yield (
            f"a pressure of {site.pressure_hpa:.0f} hPa does not go with {site.elevation_m:.0f} m, "
            f"where about {usual:.0f} is usual; write what a barometer there shows, not the value "
            "reduced to sea level"
        )
    if place.zenith_sky_mag > DARKEST_SKY_MAG:
        yield f"a sky of {place.zenith_sky_mag:.2f} is darker than almost any on Earth"


def _telescope_remarks(telescope: Telescope) -> Iterator[str]:
    if telescope.aperture_mm > USUAL_LARGEST_APERTURE_MM:
        yield f"an aperture of {telescope.aperture_mm / 1000.0:.2f} m is rare; check its unit"
    loss = 1.0 - (telescope.clear_aperture_mm / telescope.aperture_mm) ** 2
    if loss > 0.15:
        yield f"the mask takes {loss:.0%} of the aperture's light"
    if telescope.obstruction_ratio > 0.35:
        yield (
            f"the secondary hides {telescope.obstruction_ratio:.0%} of the diameter; "
            "contrast suffers"
        )
    if telescope.glass.rms_waves > DIFFRACTION_LIMIT_RMS + 0.0005:
        yield (
            f"a wave error of {telescope.glass.rms_waves:.3f} RMS is past the usual "
            "diffraction limit of 1/14 (0.071)"
        )
    share = strehl(telescope.figure, telescope.obstruction_ratio) if telescope.glass_band else 1.0
    if share < GOOD_STREHL:
        yield (
            f"the mirror test leaves a Strehl ratio of {share:.2f}, past the usual limit of "
            f"{GOOD_STREHL:g}; see planner mirror"
        )
    stand, behind = telescope.stand, telescope.design is Design.REFRACTOR
    if stand is not None and behind and stand.pivot_to_focuser_mm > 0.0:
        arm = stand.pivot_to_focuser_mm
        yield (
            f"the focuser lies {arm:.0f} mm before the axis, towards the sky; where it lies "
            f'behind, write pivot_to_focuser = "-{arm:.0f} mm"'
        )
    yield from _secondary_remarks(telescope)


def _secondary_remarks(telescope: Telescope) -> Iterator[str]:
    if telescope.design is Design.REFRACTOR:
        if telescope.obstruction_mm > 0.0:
            yield "a refractor has no secondary; check design and secondary"
        return
    if telescope.obstruction_mm == 0.0:
        yield "no obstruction is given; right only for mirrors set off the axis"
        return
    cone = light_cone(telescope)
    if cone is None:
        return
    width = cone.aperture_mm * cone.diagonal_to_focus_mm / cone.focal_length_mm
    if width > cone.secondary_mm:
        yield (
            f"the secondary of {cone.secondary_mm:g} mm is smaller than the light cone there "
            f"({width:.1f} mm): part of the aperture is lost even on the axis"
        )


def _finder_remarks(finder: Finder) -> Iterator[str]:
    apparent = finder.magnification * finder.true_field_deg
    if finder.magnification > 1.0 and apparent > WIDEST_FINDER_DEG:
        yield (
            f"{finder.magnification:g}x with a true field of {finder.true_field_deg:g} deg would "
            f"look {apparent:.0f} deg wide; check both"
        )
