"""The observer's words for the air: the scale of seeing, and transparency."""

from __future__ import annotations

from types import MappingProxyType

# Zenith seeing, arcsec, that a word stands for; own judgement
SEEING_WORDS = MappingProxyType(
    {"very steady": 1.0, "steady": 1.5, "fair": 2.2, "unsteady": 3.2, "boiling": 5.0}
)
SEEING_RANGE_ARCSEC = (0.3, 15.0)
TRANSPARENCY_WORDS = ("clear", "average", "hazy", "cloud")


def word_meant(text: str, words: tuple[str, ...]) -> str | None:
    """The one of the words that a text, in capitals or not, is or alone begins; None for none."""
    wanted = " ".join(text.casefold().split())
    if wanted in words:
        return wanted
    found = [word for word in words if wanted and word.startswith(wanted)]
    return found[0] if len(found) == 1 else None
