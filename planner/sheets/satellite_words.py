"""The moons of Jupiter and Saturn in words, and as a strip of their places."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planner.ephemeris.jupiter_events import Happening
from planner.sheets.clock_words import clock

if TYPE_CHECKING:
    from planner.night.satellites import MoonEvent, Satellites

STRIP_HALF = 36  # characters on either side of the planet
STRIP_RADII = 28.0  # of the planet: Callisto's and Titan's farthest
STRIP_NOTE = (
    "strip: left to right as an image turned by 180° or mirrored shows them, celestial west on the "
    "left; initials, o the planet"
)
_BEGIN = {
    Happening.TRANSIT: "moves onto the disc",
    Happening.SHADOW: "its shadow moves onto the disc",
    Happening.OCCULTATION: "goes behind the disc",
    Happening.ECLIPSE: "goes dark in the shadow",
}
_END = {
    Happening.TRANSIT: "leaves the disc",
    Happening.SHADOW: "its shadow leaves the disc",
    Happening.OCCULTATION: "comes out from behind the disc",
    Happening.ECLIPSE: "comes out of the shadow",
}
_NAMES = {
    Happening.TRANSIT: "transit", Happening.SHADOW: "shadow transit",
    Happening.OCCULTATION: "occultation", Happening.ECLIPSE: "eclipse",
}  # fmt: skip


def satellite_lines(satellites: Satellites, best: str) -> list[str]:
    """The strip at the best time, each moon's margin where it has one, and tonight's events."""
    lines = [f"moons at {best}: {strip(satellites)}", STRIP_NOTE]
    faint = [
        f"{place.name} {place.margin_mag:+.1f}"
        for place in satellites.places
        if place.margin_mag is not None
    ]
    if faint:
        lines.append(
            f"magnitudes in hand beside the planet's glare, to half a magnitude: {', '.join(faint)}"
        )
    seen = [_event_words(event) for event in satellites.events if event.seen]
    if satellites.events:
        lines.append("tonight, middles, to the minute: " + ("; ".join(seen) or "nothing seen here"))
    if satellites.red_spot_times:
        times = ", ".join(clock(time) for time in satellites.red_spot_times)
        lines.append(f"Red Spot in the middle of the disc, by your longitude: {times}")
    return lines


def strip(satellites: Satellites) -> str:
    """The moons by their initials on a line, west on the left; one before the other hides it."""
    cells = [" "] * (2 * STRIP_HALF + 1)
    cells[STRIP_HALF] = "o"
    for place in satellites.places:
        at = STRIP_HALF - round(place.west / STRIP_RADII * STRIP_HALF)
        if 0 <= at < len(cells) and at != STRIP_HALF:
            cells[at] = place.name[0]
    return f"|{''.join(cells)}|".replace(" ", ".")


def satellite_document(satellites: Satellites) -> dict[str, Any]:
    """The same as plain values."""
    return {
        "places": [
            {
                "name": place.name,
                "west_radii": round(place.west, 3),
                "north_radii": round(place.north, 3),
                "separation_arcsec": round(place.separation_arcsec, 1),
                "magnitude": None if place.magnitude is None else round(place.magnitude, 1),
                "margin_mag": None if place.margin_mag is None else round(place.margin_mag, 1),
            }
            for place in satellites.places
        ],
        "events": [
            {
                "time": event.time.isoformat(timespec="seconds"),
                "moon": event.moon,
                "event": _NAMES[event.happening],
                "begins": event.begins,
                "seen": event.seen,
                "fade_min": round(event.fade_min, 1),
            }
            for event in satellites.events
        ],
        "red_spot_times": [
            time.isoformat(timespec="seconds") for time in satellites.red_spot_times
        ],
    }


def _event_words(event: MoonEvent) -> str:
    words = (_BEGIN if event.begins else _END)[event.happening]
    return f"{clock(event.time)} {event.moon} {words}"
