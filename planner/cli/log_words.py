"""Turns the words of a look on the command line into values of a record."""

from __future__ import annotations

import datetime as dt
import re
from typing import TYPE_CHECKING, TypeVar

from planner.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from planner.ephemeris.site import Site
    from planner.log.outcome import Companion, Outcome
    from planner.optics.view import View
    from planner.targets.kind import Kind

    Word = TypeVar("Word", bound=str)

_CLOCK = re.compile(r"(\d{1,2})(?::?([0-5]\d))?")


def outcome_meant(text: str, kind: Kind) -> Outcome:
    """How a target of that kind looked, from a word or its beginning.

    Raises:
        UsageError: no such word for this kind.
    """
    from planner.log.outcome import outcomes_of

    return _one_of(text, outcomes_of(kind), f"--seen: a {kind.label} is")


def companion_meant(text: str) -> Companion:
    """How the companion showed itself, from a word or its beginning. Raises UsageError."""
    from planner.log.outcome import Companion

    return _one_of(text, tuple(Companion), "--companion: it is")


def _one_of(text: str, words: Sequence[Word], opening: str) -> Word:
    from planner.log.scales import word_meant

    meant = word_meant(text, tuple(str(word) for word in words))
    for word in words:
        if str(word) == meant:
            return word
    raise UsageError(f"{opening} {_listed(words)}; {text.strip()!r} says none of them surely")


def _listed(words: Iterable[str]) -> str:
    *most, last = (str(word) for word in words)
    return f"{', '.join(most)} or {last}"


def clock_hours(text: str) -> float:
    """Hours of a clock face, over 0 to 12, from ``4``, ``4:30`` or ``430``. Raises UsageError."""
    match = _CLOCK.fullmatch(text.strip())
    hours = int(match[1]) + int(match[2] or 0) / 60.0 if match else 0.0
    if not 0.0 < hours <= 12.0:
        raise UsageError(f"--clock {text!r}: write where the companion stood like 4 or 4:30")
    return round(hours, 2)


def seeing_meant(text: str) -> tuple[float, str | None]:
    """Zenith seeing in arcsec, and the word it was told by (None: a number).

    Raises:
        UsageError: neither a number in range nor a word of the scale.
    """
    from planner.log.scales import SEEING_RANGE_ARCSEC, SEEING_WORDS, word_meant

    word = word_meant(text, tuple(SEEING_WORDS))
    if word is not None:
        return SEEING_WORDS[word], word
    least, most = SEEING_RANGE_ARCSEC
    try:
        number = float(text.strip().rstrip('"').replace(",", "."))
    except ValueError:
        number = 0.0
    if not least <= number <= most:
        scale = ", ".join(f'{name} ({value:g}")' for name, value in SEEING_WORDS.items())
        raise UsageError(
            f"--seeing {text!r}: write arcseconds from {least:g} to {most:g}, or a word: {scale}"
        )
    return number, None


def view_meant(text: str, views: Sequence[View]) -> View:
    """The view of an eyepiece's name, its beginning (``7``), or its power (``149x``).

    Raises:
        UsageError: none or several.
    """
    wanted = _squeezed(text)
    keys = [(_squeezed(view.name), view) for view in views]
    found = [view for key, view in keys if key == wanted]
    found = found or [v for _, v in keys if f"{v.magnification:.0f}x" == wanted]
    found = found or [v for key, v in keys if v.barlow is None and key in (f"{wanted}mm",)]
    found = found or [view for key, view in keys if key.startswith(wanted)]
    if len(found) != 1:
        names = ", ".join(view.name for view in views)
        raise UsageError(f"--eyepiece {text!r}: name one of the kit's: {names}")
    return found[0]


def _squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text.casefold())


def moment_of_look(
    clock: dt.datetime | None, date: dt.date | None, site: Site, now: dt.datetime
) -> dt.datetime:
    """When the look was, in the site's zone: a clock time of the evening's date, else the last.

    Without either it is now. Hours before noon belong to the night that began the day before.

    Raises:
        UsageError: a date without a clock time, or a look that has not been yet.
    """
    from planner.ephemeris.site import site_zone

    zone = site_zone(site)
    if clock is None:
        if date is not None:
            raise UsageError("--date needs --at HH:MM too: when was the look?")
        return now.astimezone(zone).replace(microsecond=0)
    time = clock.time()
    if date is not None:
        day = date + dt.timedelta(days=int(time.hour < 12))
        at = dt.datetime.combine(day, time, zone)
    else:
        local = now.astimezone(zone)
        at = dt.datetime.combine(local.date(), time, zone)
        if at > local:
            at = dt.datetime.combine(local.date() - dt.timedelta(days=1), time, zone)
    if at.astimezone(dt.UTC) > now:
        raise UsageError(f"a look at {at:%H:%M on %Y-%m-%d} has not been yet")
    return at
