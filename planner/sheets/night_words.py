"""Short texts about a night and its targets that the screen and the paper share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.angles import declination_text, right_ascension_text
from planner.ephemeris.civil_night import Darkness
from planner.night.plan import RedStarDetail
from planner.optics.figure import GOOD_STREHL, strehl
from planner.sheets.clock_words import clock, span
from planner.sheets.double_words import BAD_SEEING_ARCSEC, OVER, limiting_seeing
from planner.sheets.night_notes import REMEDY, hours_line, hours_words, night_notes

if TYPE_CHECKING:
    from datetime import datetime

    from planner.ephemeris.civil_night import CivilNight
    from planner.night.plan import DoubleDetail, Plan, PlannedTarget
    from planner.optics.telescope import Telescope

MARGIN_NOTE = (
    "Margin: magnitudes brighter than the faintest that shows there; of a double about the worst "
    "zenith seeing in which it looks so."
)
LEGEND = (
    "Seen: plain = at once, with care = with patience, borderline = perhaps; +1 = one more pair.",
    "Pairs: clean = gap, just = touch, notched = waist, easy = plain, held = steady, "
    "glimpsed = at times.",
)
EVEN_NOTE = "When: a span means equally good all that time; height and direction are the best."
SPAN_NOTE = "In brackets: from when to when it can be used."
TIME_NOTE = "In order of the best times; the numbers rank by worth: in a short night take the low."


def cut(words: str, width: int) -> str:
    """The words, cut to a number of characters."""
    return words if len(words) <= width else words[: width - 1].rstrip() + "…"


def short_name(target: PlannedTarget) -> str:
    """The name without a nickname: the catalogue's number, or the star and its components."""
    numbers = [name for name in target.designations if target.name.startswith(f"{name} ")]
    if not numbers:
        return target.name
    number = max(numbers, key=len)
    parts = f" {target.double.components}" if target.double is not None else ""
    return number + parts if parts in target.name[len(number) :] else number


def name_within(target: PlannedTarget, width: int) -> str:
    """The name in a number of characters: the nickname goes before anything is cut."""
    return target.name if len(target.name) <= width else cut(short_name(target), width)


def when_words(target: PlannedTarget) -> str:
    """The best time, or from when to when it is as good, or a dash."""
    if target.even_start is None or target.even_end is None:
        return clock(target.best_time)
    return span(target.even_start, target.even_end)


def position(target: PlannedTarget) -> str:
    """Right ascension and declination to the nearest minute (ICRS)."""
    return f"{right_ascension_text(target.ra_deg)} {declination_text(target.dec_deg)}"


def what_it_is(target: PlannedTarget) -> str:
    """What there is to see: separation and magnitudes, or brightness and size."""
    double = target.double
    if double is not None:
        bright, faint = double.magnitudes
        more = f" +{len(double.others)}" if double.others else ""
        return f'{double.separation_arcsec:.1f}" {bright:.1f}+{faint:.1f}{more}'
    if isinstance(target.detail, RedStarDetail):
        bright, faint = target.detail.range_mag
        return f"mag {bright:.1f} to {faint:.1f}"
    parts = []
    if target.magnitude is not None:
        parts.append(f"mag {target.magnitude:.1f}")
    if target.size_arcmin is not None:
        parts.append(_size(target.size_arcmin))
    return " ".join(parts) or "brightness unknown"


def _size(axes_arcmin: tuple[float, float]) -> str:
    major, minor = axes_arcmin
    if major < 1.5:
        return f'{major * 60:.0f}"'
    if minor > 0.9 * major:
        return f"{major:.0f}'"
    return f"{major:.0f}'x{minor:.0f}'" if minor >= 1.5 else f"{major:.0f}'x{minor:.1f}'"


def eyepiece_words(target: PlannedTarget) -> str:
    """The eyepiece, its power and the filter, or a dash."""
    if target.view is None:
        return "-"
    if target.view.eyepiece is None:
        return target.view.name
    words = f"{target.view.name}, {target.view.magnification:.0f}x"
    return f"{words}, {target.filter_name} filter" if target.filter_name else words


def power_words(target: PlannedTarget) -> str:
    """The power and the filter in short, or a dash."""
    if target.view is None:
        return "-"
    if target.view.eyepiece is None:
        return target.view.name
    return f"{target.view.magnification:.0f}x {target.filter_name or ''}".rstrip()


def margin_words(target: PlannedTarget) -> str:
    """The margin with its sign and unit, or for a double the seeing that its class stands."""
    if target.double is not None:
        worst = class_seeing_words(target.double)
        return f"seeing {worst}" if worst else "-"
    if target.margin is None:
        return "-"
    return f"{target.margin:+.1f} {target.margin_unit}"


def class_seeing(double: DoubleDetail) -> float | None:
    """The worst zenith seeing, arcsec, in which a double looks as its verdict says."""
    return limiting_seeing(double, double.split_class)


def class_seeing_words(double: DoubleDetail) -> str:
    """The same like ``to 2.6"`` or ``over 5"``; empty where the class is never reached."""
    worst = class_seeing(double)
    if not worst:
        return ""
    return OVER if worst > BAD_SEEING_ARCSEC else f'to {worst:.1f}"'


def sun_lines(night: CivilNight) -> list[str]:
    """When the Sun sets and rises and how the twilight goes; only what happens is told."""
    dusk = _parts(
        (night.civil_dusk, "civil"),
        (night.nautical_dusk, "nautical"),
        (night.astronomical_dusk, "full dark"),
    )
    dawn = _parts(
        (night.astronomical_dawn, "end of full dark"),
        (night.nautical_dawn, "nautical"),
        (night.civil_dawn, "civil"),
    )
    first = f"Sun {_sun_words(night)}" + (f"; dusk {dusk}" if dusk else "")
    return [first, f"dawn {dawn}"] if dawn else [first]


def _parts(*events: tuple[datetime | None, str]) -> str:
    return ", ".join(f"{clock(moment)} {name}" for moment, name in events if moment is not None)


def _sun_words(night: CivilNight) -> str:
    """When the Sun sets and rises, or where it is when it does not."""
    if night.deepest_twilight is Darkness.MIDNIGHT_SUN:
        return "does not set"
    if night.sunset is None and night.sunrise is None:
        return "does not rise"
    if night.sunset is None:
        return f"down since before noon, rises {clock(night.sunrise)}"
    if night.sunrise is None:
        return f"sets {clock(night.sunset)}, down until after noon"
    return f"sets {clock(night.sunset)}, rises {clock(night.sunrise)}"


def moon_words(night: CivilNight) -> str:
    """When the Moon rises and sets, or where it is when it does not."""
    if night.moonrise is None and night.moonset is None:
        return "up all night" if night.moon_up_at_start else "below the horizon all night"
    if night.moonrise is None:
        return f"up since before noon, sets {clock(night.moonset)}"
    if night.moonset is None:
        return f"rises {clock(night.moonrise)}, up until after noon"
    return f"rises {clock(night.moonrise)}, sets {clock(night.moonset)}"


def nothing_words(plan: Plan) -> str:
    """That nothing is shown, and what may help."""
    sunlit = plan.night.deepest_twilight is Darkness.MIDNIGHT_SUN
    if sunlit or (plan.start is None and plan.end is None):
        return "Nothing is shown tonight under these conditions."
    return f"Nothing is shown from {hours_words(plan)} under these conditions. {REMEDY}"


def tested_words(telescope: Telescope) -> str:
    """What a mirror test makes of the image, for the night's header; nothing without one."""
    if telescope.glass_band is None:
        return ""
    share = strehl(telescope.figure, telescope.obstruction_ratio)
    cost = ", which costs close pairs and planets' markings" if share < GOOD_STREHL else ""
    return f"; Strehl {share:.2f} by your mirror test{cost}"


def night_lines(plan: Plan) -> list[str]:
    """The night's header: when it is dark, the Moon, the instrument, what is assumed."""
    night, site, telescope = plan.night, plan.site, plan.telescope
    assumed = plan.assumptions
    lines = [
        f"Night of {night.date:%A} {night.date.day} {night.date:%B %Y} at {site.name} "
        f"({site.timezone})",
        *sun_lines(night),
        f"Moon {plan.moon_illuminated_fraction:.0%} lit, {moon_words(night)}",
        hours_line(plan),
        f"{telescope.name}: {telescope.clear_aperture_mm:g} mm clear, "
        f"f = {telescope.focal_length_mm:g} mm, {telescope.design}, {telescope.mount}"
        f"{tested_words(telescope)}",
        f'Assumed: seeing {assumed.seeing_arcsec:g}" at the zenith, sky '
        f"{assumed.sky_mag_per_arcsec2:.2f} mag per square arcsecond ({assumed.sky_words}), "
        f"extinction {assumed.extinction_mag_per_airmass:.2f} mag per airmass "
        f"({assumed.air_words})",
    ]
    if assumed.own_log_words:
        lines.append(f"Assumed {assumed.own_log_words}")
    lines.extend(night_notes(plan))
    if not plan.events:
        return lines
    from planner.sheets.event_words import eclipse_header  # it needs the compass from here

    return [*(eclipse_header(event) for event in plan.events), *lines]
