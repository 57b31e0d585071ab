"""How wide words are, and how the names of stars look in print."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.charts.scene import Face
from planner.targets.name_key import GREEK

if TYPE_CHECKING:
    from matplotlib.font_manager import FontProperties

FAMILY = "DejaVu Sans"
FILES = {
    Face.PLAIN: "DejaVuSans",
    Face.BOLD: "DejaVuSans-Bold",
    Face.OBLIQUE: "DejaVuSans-Oblique",
}
CAP_HEIGHT_EM = 0.73  # of DejaVu Sans
UNIT = 1000.0
LETTERS = {short: letter for letter, (short, _) in GREEK.items()}
SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_WORD = re.compile(r"\b([a-z]{2,7}) ?0?(\d?) ([A-Z][A-Za-z]{2})\b")


@cache
def font(face: Face, size_pt: float = 10.0) -> FontProperties:
    """The font of a face."""
    from matplotlib.font_manager import FontProperties

    return FontProperties(
        family=FAMILY,
        fname=_font_file(face),
        size=size_pt,
        weight="bold" if face is Face.BOLD else "normal",
        style="oblique" if face is Face.OBLIQUE else "normal",
    )


def _font_file(face: Face) -> str:
    """The file that comes with matplotlib; to search all fonts of a system takes half a second."""
    from matplotlib import get_data_path

    return str(Path(get_data_path(), "fonts", "ttf", f"{FILES[face]}.ttf"))


@cache
def _measure(face: Face) -> Any:
    from matplotlib.ft2font import FT2Font

    return FT2Font(_font_file(face))


@cache
def _advance_em(letter: str, face: Face) -> float:
    """The advance of one letter as a share of the type size.

    A raw glyph at a size of 1000 points, unhinted, from the font file itself.
    """
    measure = _measure(face)
    measure.set_size(UNIT, 72)
    glyph = measure.load_char(ord(letter), flags=_no_hinting())
    return float(glyph.linearHoriAdvance) / 65536.0 / UNIT


def _no_hinting() -> Any:
    """A named flag from matplotlib 3.10 on, FreeType's plain number before."""
    from matplotlib import ft2font

    return getattr(getattr(ft2font, "LoadFlags", None), "NO_HINTING", 2)


def width_pt(words: str, size_pt: float, face: Face = Face.PLAIN) -> float:
    """Width of one line of words, points; pairs of letters are not kerned."""
    return size_pt * sum(_advance_em(letter, face) for letter in words)


def letter_sign(code: str) -> str:
    """A star's letter in print: ``bet01`` is ``β¹``, ``A`` stays."""
    head = code.rstrip("0123456789").strip()
    index = code[len(head) :].strip().lstrip("0")
    return LETTERS.get(head, head) + index.translate(SUPERSCRIPTS)


def printed(name: str) -> str:
    """A star's name as in print: ``Vega (alpha Lyr)`` is ``Vega``, ``beta Cyg`` is ``β Cyg``."""
    proper = name.partition(" (")[0]
    return _WORD.sub(_greek, proper)


def _greek(match: re.Match[str]) -> str:
    word, index, sky = match.groups()
    sign = LETTERS.get(word[:3], LETTERS.get(word[:2], ""))
    return f"{sign}{index.translate(SUPERSCRIPTS)} {sky}" if sign else match.group(0)
