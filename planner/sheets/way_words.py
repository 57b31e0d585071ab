"""The way to a target in whole sentences, as the charts print its stars."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from planner.charts.letters import printed
from planner.hops.hop import Means
from planner.sheets.hop_words import hop_words

if TYPE_CHECKING:
    from planner.hops.hop import Hop

_TWO_NAMES = re.compile(r"(\w[\w ]*?) \(([a-z]+\d{0,2} [A-Z][A-Za-z]{2})\)")
_LETTER = re.compile(  # no point of the compass
    r"\b[a-z]{2,7}\d{0,2} (?![NSEW]{1,3}\b)[A-Z][A-Za-z]{2}\b"
)


def way_sentences(hop: Hop) -> list[str]:
    """One sentence a line: names as in print, the unnamed stars by their letters."""
    lines = hop_words(hop)
    first = lines[0].removeprefix("way: ")
    sentences = [f"{part[:1].upper()}{part[1:]}." for part in first.split("; ")]
    if hop.means is Means.NOTHING and hop.start is None:
        return sentences
    more = [f"{line[:1].upper()}{line[1:]}." for line in lines[1:]]
    return [*(printed_way(sentence) for sentence in sentences), *more]


def printed_way(text: str) -> str:
    """Names of stars in a way as the charts print them, each once."""
    return printed_inside(_TWO_NAMES.sub(r"\1", text))


def printed_inside(text: str) -> str:
    """Greek letters for their names in a sentence."""
    return _LETTER.sub(lambda match: printed(match.group(0)), text)
