"""Measures that the pages of a sheet share."""

from __future__ import annotations

from dataclasses import dataclass

MARGIN_PT = 28.0
# An x-height of 12 minutes of arc at 50 cm, Legge & Bigelow 2011 (from memory), is 9 points of
# the font used; 10 minutes for helps are 7.5.
NAME_PT, READ_PT, NOTE_PT = 9.5, 9.0, 7.5
CAUTION = (
    "Never point the telescope or a finder at or near the Sun. Mind dark, uneven ground and heavy "
    "parts; keep lasers away from aircraft and people, and follow your local rules."
)


@dataclass(frozen=True, slots=True)
class Page:
    """A page size in points."""

    width_pt: float
    height_pt: float


PAGES = {"a4": Page(595.28, 841.89), "letter": Page(612.0, 792.0)}
