"""Looks of the log in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.sheets.day_words import day_words

if TYPE_CHECKING:
    from planner.log.record import Record

CLASSES = ("elongated", "notched", "just", "clean")  # as a promise has their worst seeing


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
    """What the planner had promised for that night; empty for nothing."""
    said = record.said
    if said is None or said.outcome is None:
        return ""
    reach = ""
    if said.worst_seeing_arcsec is not None:
        held = [
            f'{name} to {worst:.1f}"'
            for name, worst in zip(CLASSES, said.worst_seeing_arcsec, strict=True)
            if worst > 0.0
        ]
        reach = f" ({', '.join(reversed(held))})" if held else ""
    elif said.margin_mag is not None:
        reach = f" ({said.margin_mag:+.1f} mag)"
    return f'the planner had said {said.outcome.value} in seeing {said.seeing_arcsec:g}"{reach}'
