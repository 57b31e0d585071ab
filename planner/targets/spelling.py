"""Which names a misspelt one may stand for: those that few slips of the pen lead to."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

# Slips forgiven in a name of letters, by its least length; own judgement. Of shorter names there
# are so many that any three letters are near one.
SLIPS_BY_LENGTH = ((12, 3), (7, 2), (4, 1))
SLIPS_IN_NUMBERS = 1


def slips_forgiven(key: str) -> int:
    """How many slips a name may have and still be taken for another."""
    if not key.isalpha():
        return SLIPS_IN_NUMBERS
    return next((slips for length, slips in SLIPS_BY_LENGTH if len(key) >= length), 0)


def nearest(key: str, names: Iterable[str]) -> list[str]:
    """The names to which the fewest slips lead from a key; none where too many would.

    A word of the same letters goes before others: swapped letters are the commonest slip.
    """
    forgiven = slips_forgiven(key)
    letters = sorted(key)
    found: dict[tuple[int, bool], list[str]] = {}
    for name in sorted(set(names)):
        if abs(len(name) - len(key)) <= forgiven:
            slips = slips_between(key, name)
            if slips <= forgiven:
                other_letters = key.isalpha() and sorted(name) != letters
                found.setdefault((slips, other_letters), []).append(name)
    return found[min(found)] if found else []


def slips_between(one: str, other: str) -> int:
    """Letters left out, put in, changed or swapped with a neighbour to get from one to the other.

    Source: F. J. Damerau 1964, Communications of the ACM 7, 171 (from memory). Limits: no
    letter is touched twice.
    """
    before: list[int] = []
    last = list(range(len(other) + 1))
    for row, letter in enumerate(one, start=1):
        line = [row]
        for column, wanted in enumerate(other, start=1):
            changed = last[column - 1] + (letter != wanted)
            cost = min(last[column] + 1, line[column - 1] + 1, changed)
            if row > 1 and column > 1 and letter == other[column - 2] and one[row - 2] == wanted:
                cost = min(cost, before[column - 2] + 1)
            line.append(cost)
        before, last = last, line
    return last[-1]


def most_like(text: str, words: Iterable[str], cutoff: float) -> str | None:
    """The word most like a text, in capitals or not, or None: for "did you mean"."""
    return next(iter(all_like(text, words, cutoff, count=1)), None)


def all_like(text: str, words: Iterable[str], cutoff: float, count: int) -> list[str]:
    """The words most like a text, in capitals or not, the likest first, at most ``count``.

    ``cutoff`` is the least likeness of ``difflib``, 0 (nothing in common) to 1 (the same).
    """
    by_lower = {word.casefold(): word for word in words}
    near = get_close_matches(text.casefold(), list(by_lower), n=count, cutoff=cutoff)
    return [by_lower[found] for found in near]
