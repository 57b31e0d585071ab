"""One key for every way of writing a name: letters, digits and the trade's short forms."""

from __future__ import annotations

import re
import unicodedata

from planner.targets.constellations import CONSTELLATIONS

# Greek letter -> (three-letter form used in star lists, English name)
GREEK = {
    "α": ("alp", "alpha"),
    "β": ("bet", "beta"),
    "γ": ("gam", "gamma"),
    "δ": ("del", "delta"),
    "ε": ("eps", "epsilon"),
    "ζ": ("zet", "zeta"),
    "η": ("eta", "eta"),
    "θ": ("the", "theta"),
    "ι": ("iot", "iota"),
    "κ": ("kap", "kappa"),
    "λ": ("lam", "lambda"),
    "μ": ("mu", "mu"),
    "ν": ("nu", "nu"),
    "ξ": ("xi", "xi"),
    "ο": ("omi", "omicron"),
    "π": ("pi", "pi"),
    "ρ": ("rho", "rho"),
    "σ": ("sig", "sigma"),
    "τ": ("tau", "tau"),
    "υ": ("ups", "upsilon"),
    "φ": ("phi", "phi"),
    "χ": ("chi", "chi"),
    "ψ": ("psi", "psi"),
    "ω": ("ome", "omega"),
}
# How catalogs are written out, and their short form: common practice, no source.
PREFIXES = {
    "messier": "m",
    "caldwell": "c",
    "collinder": "cr",
    "melotte": "mel",
    "trumpler": "tr",
    "barnard": "b",
    "sharpless": "sh",
    "hickson": "hcg",
    "palomar": "pal",
    "terzan": "ter",
    "struve": "stf",
    "fstruve": "stf",
    "fgwstruve": "stf",
    "ostruve": "stt",
    "ottostruve": "stt",
    "burnham": "bu",
    "jherschel": "hj",
    "johnherschel": "hj",
    "dunlop": "dun",
    "hipparcos": "hip",
    "henrydraper": "hd",
}
# Discoverers by their signs in old lists, read before Greek letters are; O Latin or Greek.
SIGNS = {"OΣΣ": "stta", "ΟΣΣ": "stta", "OΣ": "stt", "ΟΣ": "stt", "Σ": "stf", "β": "bu"}

_SIGNED = re.compile(r"\s*([OΟ]?ΣΣ?|β)\s*(?=\d+(?:\s*(?:[A-Z]{2}|[A-Z][a-z]?,[A-Z][a-z]?))?\s*$)")
_SIMPLE = re.compile(r"([A-Za-z]{1,4}) *0*([1-9]\d*)")  # most catalog numbers, read the quick way
_STAR = re.compile(r"([a-z]{2,3})(\d?) ([A-Z][A-Za-z]{2})")  # and most stars: eps1 Lyr
_PLACE = re.compile(r"\s*(?:(?:wds\s*)?j?(\d{5}[+-]\d{4})(?!\d)|(j\d{7}[+-]\d{6}))")
_PART = re.compile(r"[a-z]+|\d+")


def _folded(text: str) -> str:
    """Lower case without accents; raised digits become digits."""
    plain = unicodedata.normalize("NFKD", text)
    return "".join(c for c in plain if not unicodedata.combining(c)).casefold()


def _sky_words() -> dict[tuple[str, ...], str]:
    """Short forms of Greek letters and constellations, by their words."""
    words: dict[tuple[str, ...], str] = {(english,): short for short, english in GREEK.values()}
    words |= {("alf",): "alp", ("tet",): "the", ("ksi",): "xi", ("omg",): "ome"}
    for abbreviation, name, genitive in CONSTELLATIONS:
        for form in (name, genitive):
            words[tuple(_folded(form).split())] = abbreviation.lower()
    return words


_WORDS = _sky_words()
_SHORT_LETTERS = frozenset(short for short, _ in GREEK.values())
_SHORT_SKIES = frozenset(sky.abbreviation.lower() for sky in CONSTELLATIONS)
_MOST_WORDS = max(len(words) for words in _WORDS)
_TRANSLATION = str.maketrans(
    {letter: f" {short} " for letter, (short, _) in GREEK.items()}
    | {"'": "", "\N{RIGHT SINGLE QUOTATION MARK}": "", "\N{MINUS SIGN}": "-"}
)


def normal_key(text: str) -> str:
    """The key under which a name is filed: equal for all spellings of the same name.

    Forgives case, accents, spaces, punctuation and leading zeros; reads Greek letters in any
    form, constellations by name, genitive or abbreviation, and catalogs written out: ``M 13``
    and ``messier13`` give ``m13``; ``ε Boo`` and ``Epsilon Boötis`` give ``epsboo``; ``Σ1877``
    and ``Struve 1877`` give ``stf1877``. An identifier made of a place keeps its sign and zeros.
    """
    simple, star = _SIMPLE.fullmatch(text), _STAR.fullmatch(text)
    if simple:
        return simple[1].lower() + simple[2]
    if star and star[1] in _SHORT_LETTERS and star[3].lower() in _SHORT_SKIES:
        return star[1] + star[2] + star[3].lower()
    signed = _SIGNED.match(text)
    if signed:
        text = f"{SIGNS[signed[1]]} {text[signed.end() :]}"
    plain = _folded(text).translate(_TRANSLATION)
    place = _PLACE.match(plain)
    parts = _PART.findall(plain, place.end() if place else 0)
    head = (place[1] or place[2]) if place else ""
    return head + _joined(_with_prefix(_shortened(parts)))


def _shortened(parts: list[str]) -> list[str]:
    """The words with each constellation and Greek letter in its short form."""
    short: list[str] = []
    at = 0
    while at < len(parts):
        for length in range(min(_MOST_WORDS, len(parts) - at), 0, -1):
            word = _WORDS.get(tuple(parts[at : at + length]))
            if word is not None:
                short.append(word)
                break
        else:
            length = 1
            short.append(parts[at].lstrip("0") or parts[at])
        at += length
    return short


def _with_prefix(parts: list[str]) -> list[str]:
    """The words with a catalog's name written out before a number in its short form."""
    for length, part in enumerate(parts):
        if part.isdigit():
            prefix = PREFIXES.get("".join(parts[:length]))
            return [prefix, *parts[length:]] if prefix else parts
    return parts


def _joined(parts: list[str]) -> str:
    """One word; only between two numbers a space is kept."""
    text = " ".join(parts)
    return re.sub(r"(?<!\d) | (?!\d)", "", text)
