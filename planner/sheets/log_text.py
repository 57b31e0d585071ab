"""Looks of the log in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.log.outcome import PAIR_OUTCOMES, Outcome
from planner.sheets.day_words import day_words
from planner.sheets.double_words import seeing_told

if TYPE_CHECKING:
    from planner.log.record import Promise, Record


def look_words(record: Record) -> str:
    """One look in a line: what, how, with what, when."""
    words = [record.outcome.value if record.outcome else "a look, without a word on how"]
    if record.companion is not None:
        at = "" if record.companion_clock is None else f" at {clock_face(record.companion_clock)}"
        words.append(f"companion {record.companion.value}{at}")
    elif record.companion_clock is not None:
        words.append(f"companion at {clock_face(record.companion_clock)}")
    if record.seeing_arcsec is not None:
        word = f" ({record.seeing_word})" if record.seeing_word else ""
        words.append(f'seeing {record.seeing_arcsec:g}"{word}')
    if record.transparency is not None:
        words.append(record.transparency)
    if record.eyepiece is not None:
        power = "" if record.magnification is None else f", {record.magnification:.0f}x"
        words.append(f"{record.eyepiece}{power}")
    note = f'; "{record.note}"' if record.note else ""
    return (
        f"{record.name}: {', '.join(words)}; {record.at:%H:%M} in the night of "
        f"{day_words(record.night)}{note}"
    )


def clock_face(hours: float) -> str:
    """Hours of a clock face as a clock shows them: 4 o'clock, 4:30."""
    whole, minutes = divmod(round(hours * 60.0), 60)
    return f"{whole}:{minutes:02d}" if minutes else f"{whole} o'clock"


def promise_words(record: Record) -> str:
    """What the planner had promised for that night, in a line; empty for nothing."""
    said = record.said
    if said is None or said.outcome is None:
        return ""
    words = f"the planner had said {said.outcome.value}"
    if said.worst_seeing_arcsec is not None:
        return f"{words}{_reach_words(said)}"
    return words if said.margin_mag is None else f"{words} ({said.margin_mag:+.1f} mag)"


def _reach_words(said: Promise) -> str:
    """In which seeing a double was to look so, or to part at all."""
    assert said.worst_seeing_arcsec is not None
    if said.outcome is Outcome.NOT_SPLIT:
        notched = said.worst_seeing_arcsec[PAIR_OUTCOMES.index(Outcome.NOTCHED) - 1]
        better = f"; notched up to {seeing_told(notched)}" if notched > 0.0 else " in any"
        return f' in seeing {said.seeing_arcsec:g}"{better}'
    assert said.outcome is not None
    worst = said.worst_seeing_arcsec[PAIR_OUTCOMES.index(said.outcome) - 1]
    return f" in seeing up to {seeing_told(worst)}"
