"""A kit read back in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tabulate import tabulate

from planner.sheets.mask_words import wave_words
from planner.sheets.page_text import cell_text, wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.eye.observer import Observer
    from planner.kit.kit import Kit, KitSite
    from planner.optics.eyepiece import Filter, Finder
    from planner.optics.telescope import Telescope
    from planner.optics.view import View

EYEPIECE_WIDTH = 30


def kit_words(kit: Kit) -> str:
    """The whole kit as paragraphs of at most 100 columns (the file's own path apart)."""
    parts = [f"Kit: {kit.source}"]
    parts.extend(_site_words(place) for place in kit.sites)
    for telescope in kit.telescopes:
        parts.append(_telescope_words(telescope))
        parts.append(_view_table(kit, telescope))
    if kit.finders:
        parts.append(_list_words("Finders", [_finder_words(finder) for finder in kit.finders]))
    if kit.filters:
        parts.append(_list_words("Filters", [_filter_words(f) for f in kit.filters]))
    parts.append(_observer_words(kit.observer))
    return "\n\n".join(parts)


def remark_words(remarks: Sequence[str]) -> str:
    """The remarks on a kit as a list of at most 100 columns."""
    if not remarks:
        return "Nothing odd found."
    return "\n".join(("Worth a look:", *(wrapped(f"  - {text}") for text in remarks)))


def _list_words(heading: str, items: Sequence[str]) -> str:
    return wrapped(f"{heading}: " + "; ".join(items), break_on_hyphens=False)


def _finder_words(finder: Finder) -> str:
    return (
        f"{finder.name}, {finder.magnification:g}x, field {finder.true_field_deg:g} deg, "
        f"image {finder.image}"
    )


def _filter_words(item: Filter) -> str:
    return (
        f"{item.name}, passes {item.passes}, {item.bandwidth_nm:g} nm wide, "
        f"transmission {item.transmission:.0%}"
    )


def _site_words(place: KitSite) -> str:
    site = place.site
    north_south = "N" if site.latitude_deg >= 0 else "S"
    east_west = "E" if site.longitude_deg >= 0 else "W"
    return "\n".join(
        (
            wrapped(
                f"Site {site.name}: {abs(site.latitude_deg):.3f} {north_south} "
                f"{abs(site.longitude_deg):.3f} {east_west}, {site.elevation_m:.0f} m, "
                f"{site.timezone}, {_horizon_words(site.horizon)}",
                break_on_hyphens=False,
            ),
            f"  zenith sky {place.zenith_sky_mag:.2f} mag per square arcsecond "
            f'({place.sky_words}), usual seeing {place.seeing_arcsec:g}"',
            f"  extinction {place.extinction_mag:.2f} mag per airmass ({place.extinction_words}), "
            f"pressure {site.pressure_hpa:.0f} hPa, temperature {site.temperature_c:g} C",
        )
    )


def _horizon_words(points: tuple[tuple[float, float], ...]) -> str:
    if not points:
        return "free horizon"
    altitudes = [altitude for _, altitude in points]
    noun = "point" if len(points) == 1 else "points"
    return f"horizon of {len(points)} {noun}, {min(altitudes):g} to {max(altitudes):g} deg high"


def _telescope_words(telescope: Telescope) -> str:
    mask = (
        f", masked to {telescope.clear_aperture_mm:g} mm"
        if telescope.clear_aperture_mm < telescope.aperture_mm
        else ""
    )
    path = telescope.diagonal_to_focus_mm
    secondary = (
        f"secondary {telescope.obstruction_mm:g} mm "
        f"({telescope.obstruction_ratio:.0%} of the diameter)"
        + (f", {path:g} mm before the focus" if path is not None else "")
        if telescope.obstruction_mm > 0.0
        else "no obstruction"
    )
    edge = (
        f", turned edge {telescope.glass.edge_width_mm:g} mm wide, "
        f"{telescope.glass.edge_waves:g} waves at the rim"
        if telescope.glass.has_turned_edge
        else ""
    )
    return "\n".join(
        (
            f"Telescope {telescope.name}: {telescope.design}, {telescope.mount}",
            f"  aperture {telescope.aperture_mm:g} mm{mask}, focal length "
            f"{telescope.focal_length_mm:g} mm (f/{telescope.focal_ratio:.1f} as used), "
            f"focuser {telescope.barrel_mm:g} mm",
            f"  {secondary}",
            f"  {wave_words(telescope)}{edge}, transmission {telescope.transmission:.0%}",
        )
    )


def _view_table(kit: Kit, telescope: Telescope) -> str:
    views = kit.views(telescope)
    notes = [_note(view, kit.observer) for view in views]
    rows = [
        [
            cell_text(view.name, EYEPIECE_WIDTH),
            f"{view.magnification:.0f}x",
            f"{view.exit_pupil_mm:.2f}",
            ("" if view.field_is_measured else "about ") + f"{view.true_field_deg:.2f}",
            note,
        ]
        for view, note in zip(views, notes, strict=True)
    ]
    headers = ["eyepiece", "power", "exit pupil mm", "true field deg", "note"]
    shown = len(headers) if any(notes) else len(headers) - 1
    return str(
        tabulate(
            [row[:shown] for row in rows],
            headers=headers[:shown],
            colalign=("left", "right", "right", "right", "left")[:shown],
            disable_numparse=True,
        )
    )


def _note(view: View, observer: Observer) -> str:
    if view.exit_pupil_mm < observer.least_exit_pupil_mm:
        return "below your least"
    return "wider than your pupil" if view.exit_pupil_mm > observer.dark_pupil_mm else ""


def _observer_words(observer: Observer) -> str:
    how = "from your naked-eye limit" if observer.field_factor_measured else "from experience"
    return (
        f"Observer: about {observer.age_years:.0f} years, dark pupil "
        f"{observer.dark_pupil_mm:.1f} mm,\n  eye factor {observer.field_factor:.1f} ({how}; 1.4 "
        f"keen, 2.0 typical, 2.4 casual),\n  least exit pupil {observer.least_exit_pupil_mm:g} mm"
    )
