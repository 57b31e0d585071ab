"""A kit read back in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.optics.view import all_views

if TYPE_CHECKING:
    from planner.kit.kit import Kit, Place
    from planner.optics.telescope import Telescope


def kit_words(kit: Kit) -> str:
    """The whole kit as paragraphs of at most 100 columns."""
    parts = [f"Kit: {kit.source}"]
    parts.extend(_place_words(place) for place in kit.places)
    for telescope in kit.telescopes:
        parts.append(_telescope_words(telescope))
        parts.append(_view_table(kit, telescope))
    if kit.finders:
        parts.append(
            "Finders: "
            + "; ".join(
                f"{f.name}, {f.magnification:g}x, {f.true_field_deg:g} deg, image {f.image}"
                for f in kit.finders
            )
        )
    if kit.filters:
        parts.append(
            "Filters: " + ", ".join(f"{f.name} ({f.bandwidth_nm:g} nm)" for f in kit.filters)
        )
    parts.append(_observer_words(kit))
    return "\n\n".join(parts)


def _place_words(place: Place) -> str:
    site = place.site
    north_south = "N" if site.latitude_deg >= 0 else "S"
    east_west = "E" if site.longitude_deg >= 0 else "W"
    horizon = f"{len(site.horizon)} horizon points" if site.horizon else "free horizon"
    return (
        f"Site {site.name}: {abs(site.latitude_deg):.3f} {north_south} "
        f"{abs(site.longitude_deg):.3f} {east_west}, {site.elevation_m:.0f} m, {site.timezone}, "
        f"{horizon}\n"
        f"  zenith sky {place.zenith_sky_mag:.2f} mag per square arcsecond ({place.sky_words}), "
        f'usual seeing {place.seeing_arcsec:g}",\n'
        f"  extinction {place.extinction_mag:.2f} mag per airmass ({place.extinction_words})"
    )


def _telescope_words(telescope: Telescope) -> str:
    mask = (
        f", masked to {telescope.clear_aperture_mm:g} mm"
        if telescope.clear_aperture_mm < telescope.aperture_mm
        else ""
    )
    return (
        f"Telescope {telescope.name}: {telescope.design}, {telescope.mount}\n"
        f"  aperture {telescope.aperture_mm:g} mm{mask}, focal length "
        f"{telescope.focal_length_mm:g} mm (f/{telescope.focal_ratio:.1f} as used)\n"
        f"  obstruction {telescope.obstruction_ratio:.0%} of the diameter, wave error "
        f"{telescope.wavefront_rms_waves:.3f} RMS, transmission {telescope.transmission:.0%}"
    )


def _view_table(kit: Kit, telescope: Telescope) -> str:
    rows = [
        [v.name, f"{v.magnification:.0f}x", f"{v.exit_pupil_mm:.2f}", f"{v.true_field_deg:.2f}"]
        for v in all_views(telescope, kit.eyepieces, kit.barlows)
    ]
    return str(
        tabulate(
            rows,
            headers=["eyepiece", "power", "exit pupil mm", "true field deg"],
            colalign=("left", "right", "right", "right"),
            disable_numparse=True,
        )
    )


def _observer_words(kit: Kit) -> str:
    observer = kit.observer
    how = "from your naked-eye limit" if observer.field_factor_measured else "from experience"
    return (
        f"Observer: about {observer.age_years:.0f} years, dark pupil "
        f"{observer.dark_pupil_mm:.1f} mm,\n  eye factor {observer.field_factor:.1f} ({how}), "
        f"least exit pupil {observer.least_exit_pupil_mm:g} mm"
    )
