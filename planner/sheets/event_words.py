"""Events in words: what happens, when to look, and what this site sees of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.angles import compass_point
from planner.night.events.event import EventKind
from planner.sheets.clock_words import clock

if TYPE_CHECKING:
    from planner.night.events.event import Event

ALGOL_NOTE = "good to half an hour; it fades for five hours and brightens for as long"


def event_title(event: Event) -> str:
    """What happens, in half a line."""
    first, *others = event.bodies
    kind = event.kind
    if kind is EventKind.LUNAR_ECLIPSE:
        return f"{_eclipse_sort(event)} eclipse of the Moon"
    if kind is EventKind.OCCULTATION:
        return f"the Moon covers {first}"
    if kind is EventKind.CONJUNCTION:
        return f"{first} {_apart(event)} from {others[0]}"
    if kind is EventKind.BY_THE_MOON:
        return f"{first} {_apart(event)} from the Moon"
    if kind is EventKind.DOUBLE_SHADOW:
        return f"shadows of {others[0]} and {others[1]} together on Jupiter"
    if kind is EventKind.ALGOL:
        return "Algol at its faintest, about"
    if kind is EventKind.OPPOSITION:
        return f"{first} in opposition"
    return f"{first} at greatest elongation, {event.separation_deg:.1f}° from the Sun"


def event_details(event: Event) -> str:
    """What this site sees of it, in one or two sentences."""
    parts = []
    if event.kind is EventKind.LUNAR_ECLIPSE:
        parts.append(_eclipse_words(event))
    elif event.kind is EventKind.OCCULTATION:
        parts.append(", ".join(_contact_words(event)))
    elif event.start is not None and event.end is not None:
        parts.append(f"from {clock(event.start)} to {clock(event.end)}")
    if event.altitude_deg is not None and event.azimuth_deg is not None:
        parts.append(f"{event.altitude_deg:.0f}° high in the {compass_point(event.azimuth_deg)}")
    if event.view is not None:
        parts.append(f"both in the field of the {event.view.name}, {event.view.magnification:.0f}x")
    if event.kind is EventKind.ALGOL:
        parts.append(ALGOL_NOTE)
    if event.kind is EventKind.ELONGATION:
        parts.append("look for it in twilight, only while the Sun is below the horizon")
    return "; ".join(part for part in parts if part)


def eclipse_header(event: Event) -> str:
    """The line that leads a night with an eclipse of the Moon."""
    return f"Tonight: {event_title(event)}. {_eclipse_words(event)}"


def _eclipse_sort(event: Event) -> str:
    magnitude = event.magnitude or 0.0
    if magnitude <= 0.0:
        return "penumbral"
    return "total" if magnitude >= 1.0 else f"partial ({100.0 * magnitude:.0f} %)"


def _eclipse_words(event: Event) -> str:
    if not event.seen:
        return "not seen from this site: the Moon is down or the sky too bright"
    return ", ".join(_contact_words(event))


def _contact_words(event: Event) -> list[str]:
    return [
        f"{contact.name} {clock(contact.time)}" + ("" if contact.seen else " (not seen here)")
        for contact in event.contacts
    ]


def _apart(event: Event) -> str:
    degrees = event.separation_deg or 0.0
    return f"{60.0 * degrees:.0f}'" if degrees < 1.0 else f"{degrees:.1f}°"
