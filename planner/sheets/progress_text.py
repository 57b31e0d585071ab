"""How far a list is done, in lines of at most 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.night.progress import Hindrance
from planner.sheets.day_words import MONTHS
from planner.sheets.night_words import cut
from planner.sheets.page_text import wrapped
from planner.verdict.steps import EXTENDED_UNCERTAINTY_MAG

if TYPE_CHECKING:
    from planner.night.progress import Coming, Progress

LONGEST_NAME = 28
HARD_SPACE = "\u00a0"  # at which no line is broken
HIDDEN_NAMED = 40


def progress_text(progress: Progress) -> str:
    """What is seen, the months of the rest, and what is not shown from here, with its reason."""
    parts = [count_line(progress)]
    months = _months(progress)
    if months:
        parts.append("Best months for the rest (new moon, your usual hours):\n" + "\n".join(months))
    hidden = [one for one in progress.coming if one.best is None]
    if hidden:
        lines = [_hidden_line(one, progress) for one in hidden[:HIDDEN_NAMED]]
        more = len(hidden) - len(lines)
        lines += [f"  and {more} more"] if more else []
        heading = f"{len(hidden)} not shown from here in any month, by the planner's reckoning:"
        parts.append("\n".join([heading, *lines]))
    if progress.absent:
        words = f"Not in the catalogs here, so not judged: {', '.join(progress.absent)}."
        parts.append(wrapped(words, 2))
    return "\n\n".join(parts)


def count_line(progress: Progress) -> str:
    """How many of the list are seen, tried in vain, and left."""
    total, seen = len(progress.members), len(progress.seen)
    tried = f", {len(progress.missed)} of them tried in vain" if progress.missed else ""
    return f"{progress.name}: {seen} of {total} seen, {total - seen} to go{tried}"


def _months(progress: Progress) -> list[str]:
    """A line for each month that is the best of some target, the coming one first."""
    found: dict[tuple[int, int], list[str]] = {}
    for one in progress.coming:
        if one.best is not None:
            name = one.target.name.partition(" (")[0]
            found.setdefault((one.best.year, one.best.month), []).append(_short(name))
    lines = []
    for (_, month), names in sorted(found.items()):
        whole = ", ".join(name.replace(" ", HARD_SPACE) for name in names)
        line = wrapped(f"{MONTHS[month - 1]}  {len(names):>3}: {whole}", 10)
        lines.append(line.replace(HARD_SPACE, " "))
    return lines


def _short(name: str) -> str:
    """A catalog number alone where there is one, else the whole name."""
    words = name.split()
    numbered = len(words) > 2 and words[0] in ("M", "NGC", "IC") and words[1].isdecimal()
    return " ".join(words[:2]) if numbered else name


def _hidden_line(one: Coming, progress: Progress) -> str:
    name = f"  {cut(one.target.name, LONGEST_NAME):<{LONGEST_NAME}}  "
    return wrapped(f"{name}{_why_words(one, progress)}", len(name))


def _why_words(one: Coming, progress: Progress) -> str:
    if one.why is Hindrance.TOO_LOW:
        least = progress.least_altitude_deg
        if one.highest_deg <= 0.0:
            return "never rises here"
        return f"never above {least:.0f}° here: {one.highest_deg:.0f}° at most"
    if one.why is Hindrance.HIDDEN:
        return "behind your horizon, out of reach, or up outside your hours"
    if one.why is Hindrance.UNKNOWN_BRIGHTNESS:
        return "brightness unknown, so nothing can be promised"
    if one.why is Hindrance.NOT_SPLIT:
        return f'does not part in seeing {progress.seeing_arcsec:g}"'
    short = 0.0 if one.margin is None else -one.margin
    if short <= EXTENDED_UNCERTAINTY_MAG:
        return f"borderline, {short:.1f} mag short at its best: worth a try"
    return f"{short:.1f} mag short at its best"
