"""What the phone page shows: finished words and circles, no markup."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.charts.sky import skies_at
from planner.log.outcome import outcomes_of
from planner.sheets.clock_words import clock, span
from planner.sheets.expectation import expectation, place_words, power_line
from planner.sheets.hop_words import CLOCK_NOTE
from planner.sheets.night_words import night_lines, nothing_words
from planner.sheets.phone.views import PhoneView, views_of
from planner.sheets.sheet_page import CAUTION
from planner.sheets.way_words import printed_inside, way_sentences

if TYPE_CHECKING:
    from planner.charts.sky import Sky
    from planner.night.evening.outing import Call, Outing

HOW_TO = (
    "Ticks and notes stay in this browser; Save the log writes them to a file for planner log "
    "import. Arrow keys go from target to target."
)


@dataclass(frozen=True, slots=True)
class PhoneTarget:
    """One target: ``start_iso`` is its planned start with the zone, for the log.

    ``outcomes`` are the words that may be ticked, the poorest first.
    """

    number: int
    target_id: str
    name: str
    kind: str
    constellation: str
    start: str
    start_iso: str
    usable: str
    place: str
    eyepiece: str
    magnification: float | None
    power: str
    expectation: str
    way: tuple[str, ...]
    views: tuple[PhoneView, ...]
    outcomes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PhonePage:
    """The whole page; night, site and telescope name the browser's store."""

    night: str
    site: str
    telescope: str
    title: str
    lines: tuple[str, ...]
    nothing: str
    targets: tuple[PhoneTarget, ...]
    notes: tuple[str, ...]


def phone_page(outing: Outing) -> PhonePage:
    """The page of an outing, its targets in the outing's order."""
    title, *lines = night_lines(outing.plan)
    skies = skies_at(outing.plan.site, [call.start for call in outing.calls])
    targets = tuple(
        _target(outing, call, sky) for call, sky in zip(outing.calls, skies, strict=True)
    )
    return PhonePage(
        night=outing.plan.night.date.isoformat(),
        site=outing.plan.site.name,
        telescope=outing.plan.telescope.name,
        title=title,
        lines=tuple(line.strip() for line in lines),
        nothing="" if targets else nothing_words(outing.plan),
        targets=targets,
        notes=(CLOCK_NOTE, HOW_TO, CAUTION),
    )


def _target(outing: Outing, call: Call, sky: Sky) -> PhoneTarget:
    target, view = call.target, call.target.view
    return PhoneTarget(
        number=call.number,
        target_id=target.id,
        name=printed_inside(target.name),
        kind=target.kind.value,
        constellation=target.constellation,
        start=clock(call.start),
        start_iso=call.start.isoformat(),
        usable=span(target.window_start, target.window_end),
        place=place_words(target),
        eyepiece="" if view is None else view.name,
        magnification=None if view is None else round(view.magnification, 1),
        power=power_line(target),
        expectation=expectation(target),
        way=tuple(way_sentences(call.hop)),
        views=views_of(outing, call, sky),
        outcomes=tuple(outcome.value for outcome in outcomes_of(target.kind)),
    )
