"""What is unusual about a night, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.ephemeris.civil_night import Darkness
from planner.ephemeris.clock_change import clock_change
from planner.ephemeris.site import site_zone

if TYPE_CHECKING:
    from planner.ephemeris.civil_night import CivilNight
    from planner.night.plan import Plan


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
    """That the hours asked for, or a very short night, leave nothing to list; one note or none."""
    hours, step = _hours_words(plan), plan.assumptions.time_step_min
    if not plan.sun_ever_down:
        if not hours:
            return [f"The Sun is down for less than {step:.0f} minutes, so nothing is listed."]
        return [
            f"Nothing is listed: the hours asked for ({hours}) hold no moment of the night, which "
            f"is looked at every {step:.0f} minutes from sunset to sunrise."
        ]
    if hours and not plan.twilight_ever_over:
        return [
            f"In the hours asked for ({hours}) the twilight is too bright for all but the Moon and "
            "planets."
        ]
    return []


def _hours_words(plan: Plan) -> str:
    """The clock times that narrow the night, in words; empty without any."""
    start = "" if plan.start is None else f"from {plan.start:%H:%M}"
    end = "" if plan.end is None else f"until {plan.end:%H:%M}"
    return f"{start} {end}".strip()


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
