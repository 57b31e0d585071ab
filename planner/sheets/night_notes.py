"""What is unusual about a night, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.ephemeris.civil_night import Darkness
from planner.ephemeris.clock_change import clock_change
from planner.ephemeris.site import site_zone

if TYPE_CHECKING:
    from planner.ephemeris.civil_night import CivilNight
    from planner.night.plan import Plan


REMEDY = "For the rest: --whole-night."
DARK_SUN_DEG = -18.0  # the end of astronomical twilight
DARKER_DEG = 3.0  # of the Sun, from which a darker part of the night is pointed out; own judgement


def night_notes(plan: Plan) -> tuple[str, ...]:
    """What is unusual about the night, in words."""
    night, notes = plan.night, _clock_notes(plan.night)
    if night.deepest_twilight is Darkness.MIDNIGHT_SUN:
        notes.append(
            "Midnight sun: the Sun does not set, so nothing is listed. Never sweep for targets "
            "with the Sun up."
        )
    elif night.deepest_twilight is not Darkness.FULL:
        notes.append(
            f"It does not get fully dark: {night.deepest_twilight.value} "
            f"(Sun at most {-night.lowest_sun_deg:.1f}° down); only what the twilight allows is "
            "listed."
        )
    if night.sun_never_rises:
        notes.append("Polar night: the Sun does not rise; the list covers noon to noon.")
    if night.deepest_twilight is not Darkness.MIDNIGHT_SUN:
        notes.extend(_hours_notes(plan))
    return tuple(notes)


def _hours_notes(plan: Plan) -> list[str]:
    """That the hours asked for, or a very short night, leave little to list; one note or none."""
    step = plan.assumptions.time_step_min
    if plan.start is None and plan.end is None:
        if not plan.sun_ever_down:
            return [f"The Sun is down for less than {step:.0f} minutes, so nothing is listed."]
        return []
    hours = hours_words(plan)
    if not plan.sun_ever_down:
        return [
            f"Nothing is listed: the hours from {hours} hold no moment of the night, which is "
            f"looked at every {step:.0f} minutes from sunset to sunrise. {REMEDY}"
        ]
    if not plan.twilight_ever_over:
        return [
            f"From {hours} the twilight is too bright for all but the Moon and planets; it gets "
            f"darker at other hours. {REMEDY}"
        ]
    deepest, night_deepest = plan.lowest_sun_deg, plan.night.lowest_sun_deg
    usual = plan.start_usual and plan.end_usual
    if usual and deepest is not None and deepest - max(night_deepest, DARK_SUN_DEG) > DARKER_DEG:
        return [
            f"In your usual hours the Sun is at most {-deepest:.0f}° down, at others "
            f"{-night_deepest:.0f}°: the darkest part of the night is left out. {REMEDY}"
        ]
    return []


def hours_words(plan: Plan) -> str:
    """The hours of the night that are looked at: ``dusk to 00:30``."""
    start = "dusk" if plan.start is None else f"{plan.start:%H:%M}"
    end = "dawn" if plan.end is None else f"{plan.end:%H:%M}"
    return f"{start} to {end}"


def hours_line(plan: Plan) -> str:
    """The same for the head of a list, with whose hours they are."""
    if plan.start is None and plan.end is None:
        return "Hours: the whole night, dusk to dawn"
    start_usual, end_usual = plan.start_usual, plan.end_usual
    if start_usual and end_usual:
        whose = "your usual ones (--whole-night for all)"
    elif start_usual and plan.start is not None:
        whose = "the start as usual"
    elif end_usual and plan.end is not None:
        whose = "the end as usual"
    else:
        whose = "as asked for"
    return f"Hours: {hours_words(plan)}, {whose}"


def _clock_notes(night: CivilNight) -> list[str]:
    """That the clocks are changed in the night, one note or none."""
    change = clock_change(site_zone(night.site), night.start, night.end)
    if change is None:
        return []
    old, new = f"{change.old:%H:%M}", f"{change.new:%H:%M}"
    rest = (
        f"those from {new} to {old} come twice and say which."
        if change.back
        else "there is none between the two."
    )
    return [
        f"The clocks go {'back' if change.back else 'forward'} from {old} to {new} in this night: "
        f"earlier times are {change.old_name}, later ones {change.new_name}; {rest}"
    ]
