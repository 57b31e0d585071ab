"""What the log has of a target, in a few words and as a row of the JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from planner.sheets.day_words import day_words

if TYPE_CHECKING:
    from planner.log.seen import Seen

MARK = "*"  # beside the rank of a target that the log has


def seen_words(seen: Seen | None) -> str:
    """A short mark: ``seen 3 Nov 2026``, or ``tried 3 Nov 2026`` in vain; empty for nothing."""
    if seen is None:
        return ""
    return f"{'seen' if seen.showed else 'tried'} {day_words(seen.night)}"


def seen_how_words(seen: Seen) -> str:
    """The mark with how it looked: ``seen 3 Nov 2026: clean``."""
    how = f": {seen.outcome.value}" if seen.outcome else ""
    return f"{seen_words(seen)}{how}"


def seen_line(seen: Seen) -> str:
    """All the log has of it in a line."""
    looks = f"; {seen.looks} looks in all" if seen.looks > 1 else ""
    vain = f", {seen.failures} of them in vain" if seen.showed and seen.failures else ""
    return f"by your log {seen_how_words(seen)}{looks}{vain}"


def seen_row(seen: Seen | None) -> dict[str, Any] | None:
    """What the log has of it, for JSON."""
    if seen is None:
        return None
    return {
        "night": seen.night.isoformat(),
        "outcome": seen.outcome.value if seen.outcome else None,
        "looks": seen.looks,
        "in_vain": seen.failures,
    }
