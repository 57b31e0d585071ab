"""Names to targets: a forgiving index of pairs, deep-sky objects, stars and planets.

Holds text only and does not load numpy, so that names complete quickly in a shell.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import chain
from typing import TYPE_CHECKING, Protocol

from planner.errors import UnknownTargetError
from planner.targets.files import (
    DEEPSKY_FILE,
    DESIGNATIONS_FILE,
    PAIRS_FILE,
    RED_STARS_FILE,
    read_columns,
)
from planner.targets.name_key import normal_key
from planner.targets.name_sources import (
    KIND_WORDS,
    Designations,
    common_words,
    deepsky_keys,
    deepsky_labels,
    name_words,
    pair_keys,
    pair_labels,
    star_keys,
    star_labels,
)
from planner.targets.spelling import nearest

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from planner.targets.deepsky import DeepSky
    from planner.targets.pairs import Pairs

SOLAR_SYSTEM = ("Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune")
NEAR_NAMES = 4
NUMBERED_AT_RANDOM = (
    "ads",
    "hd",
    "hip",
    "hr",
)  # here the next number is another star, not a likely slip
SUN_CAUTION = (
    "the Sun is no target here. Never point a telescope or finder at or near it without a filter "
    "made for it over the full front aperture: a moment is enough to blind you"
)
EXAMPLES = "; write a name like Izar, eps Boo, STF 1877, M 13, NGC 6205 or Jupiter"
_LOOSE = re.compile(r"([a-z]{2,3})\d([a-z]{3})|([a-z]{3,})(?:nebula|galaxy|cluster|star|group)")
# h 3945: John Herschel's numbers in old lists, H for his father's. Common practice, no source.
_HERSCHEL = re.compile(r"^\s*h\.?\s*(\d+)(?=\s*[A-Z,]*\s*$)")
_THE = re.compile(r"(?i)^\s*the\s+")
# An identifier of a pair whose letters have changed since still leads to its star.
_IDENTIFIER = re.compile(r"(?i)^\s*(hip\d+|j\d{7}[+-]\d{6})-[a-z:\d-]+\s*$")
_COMPONENTS = re.compile(r"\s+([A-Z][a-z]?,?([A-Z][a-z]?)?|[a-z]{1,2})$")


class Domain(StrEnum):
    """In which table the row of a match lies."""

    PAIR = "pair"
    DEEP_SKY = "deep-sky"
    SOLAR_SYSTEM = "solar-system"
    STAR = "star"


@dataclass(frozen=True, slots=True)
class Match:
    """One target that bears a name.

    ``row`` counts in the table of ``domain``: pairs, deep-sky objects, ``SOLAR_SYSTEM``, or the
    table of designations for a star that is no catalogued pair.
    """

    domain: Domain
    row: int
    label: str


RowReference = tuple[Domain, int]
RowReferences = dict[RowReference, None]  # an ordered set


class AddedNames(Protocol):
    """Search keys of pairs that are searched beside the index, each in its own way."""

    def find(self, key: str) -> list[int]:
        """Rows of the pairs that bear a key."""

    def beginning(self, head: str) -> list[str]:
        """The keys that begin with a text."""


@dataclass(frozen=True, slots=True)
class NameIndex:
    """Keys to places in the tables. ``loose`` answers only where the others have nothing.

    ``added`` holds the names of imported pairs; ``worded`` the words of common names.
    """

    exact: Mapping[str, RowReferences]
    loose: Mapping[str, RowReferences]
    labels: Mapping[Domain, Sequence[str]]
    worded: Sequence[tuple[frozenset[str], RowReference]] = ()
    added: tuple[AddedNames, ...] = ()

    def with_added(self, added: Sequence[AddedNames], labels: Sequence[str]) -> NameIndex:
        """The index with the names of imported pairs and the labels of all pairs."""
        return replace(self, added=tuple(added), labels={**self.labels, Domain.PAIR: labels})

    def places(self, key: str) -> RowReferences:
        """Where the targets lie that bear a key; empty if none does."""
        if not key:
            return {}
        found = dict(self.exact.get(key, {}))
        for names in self.added:
            found |= {(Domain.PAIR, row): None for row in names.find(key)}
        return found or self.loose.get(key, {})

    def places_by_words(self, text: str) -> RowReferences:
        """The targets in whose common name all words of a text stand; none if over four do."""
        words = name_words(text)
        if len(words) < 2 or words <= KIND_WORDS:
            return {}
        found = [(known, place) for known, place in self.worded if words <= known]
        return (
            {place: None for _, place in found} if len({k for k, _ in found}) <= NEAR_NAMES else {}
        )


def build_index(designations: Designations, pairs: Pairs, deepsky: DeepSky) -> NameIndex:
    """The index of all names in the three tables and of the Moon and planets.

    A star's letters and numbers lead to the pairs it belongs to, as primary first; to the star
    itself only where it is in no pair. Loose keys leave out the number raised on a Greek
    letter (``alp Cap`` finds both) and words such as nebula or cluster (``Ring``). A wide pair
    called by such a letter without a number brings the closer pairs of its system along
    (``mu Boo`` that of mu2 Boo).
    """
    exact: dict[str, RowReferences] = defaultdict(dict)
    pairs_of = _pairs_of_stars(pairs)
    for row, keys in enumerate(star_keys(designations)):
        places = pairs_of.get(designations.hip[row]) or {(Domain.STAR, row): None}
        for key in keys:
            exact[key] |= places
    for hip, places in pairs_of.items():
        exact[f"hip{hip}"] = dict(places)
    _file(exact, Domain.PAIR, enumerate(pair_keys(pairs)))
    brightest_first = _brightest_first(deepsky)
    _file(exact, Domain.DEEP_SKY, brightest_first)
    _file(exact, Domain.SOLAR_SYSTEM, enumerate([normal_key(name)] for name in SOLAR_SYSTEM))
    loose = _loose_keys(exact)
    _add_systems(exact, loose, pairs)
    labels = {
        Domain.PAIR: tuple(pair_labels(pairs)),
        Domain.DEEP_SKY: tuple(deepsky_labels(deepsky)),
        Domain.SOLAR_SYSTEM: SOLAR_SYSTEM,
        Domain.STAR: tuple(star_labels(designations)),
    }
    worded = [
        (words, (Domain.DEEP_SKY, row))
        for row, _ in brightest_first
        for words in common_words(deepsky, row)
    ]
    return NameIndex(dict(exact), loose, labels, worded)


def _pairs_of_stars(pairs: Pairs) -> dict[int, RowReferences]:
    """The pairs of each star by Hipparcos number: first those in which it is the primary."""
    found: dict[int, RowReferences] = defaultdict(dict)
    for numbers in (pairs.hip.tolist(), pairs.hip_secondary.tolist()):
        for row, hip in enumerate(numbers):
            if hip:
                found[hip].setdefault((Domain.PAIR, row))
    return found


def _brightest_first(deepsky: DeepSky) -> list[tuple[int, list[str]]]:
    """Row and keys of each object, the brightest first: a shared name means most often that."""
    keyed = zip(deepsky.v_mag.tolist(), enumerate(deepsky_keys(deepsky)), strict=True)
    unknown = float("inf")
    ranked = sorted(keyed, key=lambda item: item[0] if item[0] == item[0] else unknown)
    return [item for _, item in ranked]


def _file(
    index: dict[str, RowReferences], domain: Domain, rows: Iterable[tuple[int, list[str]]]
) -> None:
    """Add the keys of each row of one table to the index."""
    for row, keys in rows:
        for key in keys:
            index[key].setdefault((domain, row))


def _loose_keys(exact: Mapping[str, RowReferences]) -> dict[str, RowReferences]:
    """Shorter keys: Greek letters without their raised number, names without their kind."""
    loose: dict[str, RowReferences] = defaultdict(dict)
    for key, places in exact.items():
        match = _LOOSE.fullmatch(key)
        if match:
            short = (match[1] or "") + (match[2] or "") + (match[3] or "")
            loose[short] |= places
    return dict(loose)


def _add_systems(
    exact: dict[str, RowReferences], loose: Mapping[str, RowReferences], pairs: Pairs
) -> None:
    """Let the name of a pair find the pairs of its system that differ by a raised number only."""
    for key in exact.keys() & loose.keys():
        domain, row = next(iter(exact[key]))
        if domain is Domain.PAIR:
            system = pairs.system_id[row]
            exact[key] |= {
                place: None
                for place in loose[key]
                if place[0] is Domain.PAIR and pairs.system_id[place[1]] == system
            }


def find(index: NameIndex, text: str) -> list[Match]:
    """Every target that bears the name, the likeliest first.

    Several answers mean that the name is shared: ``alp Cap`` names two stars. Where nothing
    bears it, a common name with all its words will do: ``hercules cluster``. Raises
    UnknownTargetError, with the nearest names there are; for the Sun with a caution.
    """
    herschel, bare = _HERSCHEL.sub(r"HJ \1", text), _THE.sub("", text)
    if normal_key(bare) == "sun":
        raise UnknownTargetError(SUN_CAUTION)
    attempts = (herschel, bare, _COMPONENTS.sub("", herschel), _IDENTIFIER.sub(r"\1", text))
    by_key = (index.places(normal_key(attempt)) for attempt in attempts)
    places = next(filter(None, by_key), None) or index.places_by_words(bare)
    if places:
        return [_match(index, place) for place in places]
    near = ", ".join(near_names(index, text))
    hint = f"; near names: {near}" if near else EXAMPLES
    raise UnknownTargetError(f"no target is called {text.strip()!r}{hint}")


def near_names(index: NameIndex, text: str) -> list[str]:
    """Labels of up to four targets whose names are few slips away from the text."""
    key = normal_key(text)
    head = re.match(r"\d+|\D+", key)
    if name_words(text) <= KIND_WORDS:
        return []
    if key.isalpha() or head is None:
        likely = [name for name in chain(index.exact, index.loose) if name.isalpha()]
    elif head[0] in NUMBERED_AT_RANDOM:
        return []
    else:
        likely = [name for name in index.exact if name.startswith(head[0])]
        likely += [name for names in index.added for name in names.beginning(head[0])]
    labels = (_match(index, next(iter(index.places(name)))).label for name in nearest(key, likely))
    return list(dict.fromkeys(labels))[:NEAR_NAMES]


def _match(index: NameIndex, place: RowReference) -> Match:
    domain, row = place
    return Match(domain, row, index.labels[domain][row])


def complete(prefix: str, most: int = 200, own: Iterable[str] = ()) -> list[str]:
    """Names that begin with the text, for a shell to complete; case and spaces do not matter.

    Proper and common names, star letters and numbers, catalog numbers, discoverers' numbers,
    the Moon and the planets; at the most ``most``. ``own`` are further names to choose from,
    such as those of imports. Reads the catalogs' text and loads no numerical package. Raises
    CatalogError if a catalog is missing or damaged.
    """
    start = _squeezed(prefix)
    known = chain(_spoken_names(), own)
    names = {name for name in known if name and _squeezed(name).startswith(start)}
    return sorted(names, key=lambda name: (len(name), name))[:most]


def _squeezed(text: str) -> str:
    return text.replace(" ", "").casefold()


def _spoken_names() -> Iterator[str]:
    """Every name worth completing."""
    yield from SOLAR_SYSTEM
    for column in read_columns(DEEPSKY_FILE, ("id", "names", "common_name")).values():
        for names in column:
            yield from names.split("|")
    for column in read_columns(PAIRS_FILE, ("name", "proper_name", "discoverer")).values():
        yield from column
    for file, heading in ((DESIGNATIONS_FILE, "proper_name"), (RED_STARS_FILE, "name")):
        yield from read_columns(file, (heading,))[heading]
