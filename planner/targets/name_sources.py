"""What each row of a table is called: the keys it is filed under and the label it is shown by."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from planner.targets.name_key import normal_key
from planner.targets.place_name import place_key, place_name

if TYPE_CHECKING:
    from collections.abc import Iterator

    from planner.targets.deepsky import DeepSky
    from planner.targets.pairs import Pairs

NUMBERS = ("hd", "hr", "ads")  # columns of numbers that a star is found by
_PLACE_LENGTH = len("j1844365+394012")
# Words that say what a thing is and not which: no name is found by them alone.
KIND_WORDS = frozenset(
    ("cluster", "double", "galaxy", "globular", "group", "nebula", "open", "planetary", "star")
)
_OWNER = re.compile("['\N{RIGHT SINGLE QUOTATION MARK}]s\\b")
_MESSIER = re.compile(r"\|M ?0*(\d+)\|")


@dataclass(frozen=True, slots=True)
class Designations:
    """Letters, numbers and proper names of bright stars, one tuple for each column."""

    hip: tuple[int, ...]
    bayer: tuple[str, ...]
    flamsteed: tuple[str, ...]
    hd: tuple[str, ...]
    hr: tuple[str, ...]
    ads: tuple[str, ...]
    constellation: tuple[str, ...]
    variable: tuple[str, ...]
    proper_name: tuple[str, ...]


def star_keys(stars: Designations) -> Iterator[list[str]]:
    """The keys of each star."""
    letter = cache(normal_key)
    numbers = zip(stars.hd, stars.hr, stars.ads, strict=True)
    for (hip, bayer, flamsteed, constellation, variable, proper), known in zip(
        _rows(stars), numbers, strict=True
    ):
        sky = constellation.lower()
        keys = [f"hip{hip}"] if hip else []
        keys += [letter(bayer) + sky] if bayer else []
        keys += [flamsteed + sky] if flamsteed else []
        keys += [variable.lower() + sky] if variable else []
        keys += [
            f"{sign}{number}"
            for sign, number in zip(NUMBERS, known, strict=True)
            if number not in ("", "0")
        ]
        keys += [normal_key(proper)] if proper else []
        yield keys


def star_labels(stars: Designations) -> Iterator[str]:
    """The label of each star: ``α Boo (Arcturus)``."""
    for hip, bayer, flamsteed, constellation, variable, proper in _rows(stars):
        sign = bayer or variable or flamsteed
        name = f"{sign} {constellation}" if sign else f"HIP {hip}"
        yield f"{name} ({proper})" if proper else name


def pair_keys(pairs: Pairs) -> Iterator[list[str]]:
    """The keys of each pair, with and without its components; Hipparcos numbers not included."""
    columns = (pairs.name, pairs.proper_name, pairs.discoverer, pairs.place_id, pairs.components)
    for pair_id, place, (name, proper, discoverer, place_id, components) in zip(
        pairs.pair_id, _places(pairs), zip(*columns, strict=True), strict=True
    ):
        keys = [normal_key(text) for text in (name, proper) if text]
        keys += [place_key(place)] if place and not (name or discoverer) else []
        keys += [discoverer.replace(" ", "").lower()] if discoverer else []
        keys += [place_id] if place_id else []
        if components:
            part = components.replace(",", "").lower()
            keys += [key + part for key in keys]
        if pair_id.startswith("j"):
            keys.append(pair_id[:_PLACE_LENGTH])
        yield [*keys, _identifier_key(pair_id)]


def _identifier_key(pair_id: str) -> str:
    """What ``normal_key`` makes of an identifier such as ``hip91919-AB``, read the quick way."""
    place = _PLACE_LENGTH if pair_id.startswith("j") else 0
    return pair_id[:place] + pair_id[place:].replace("-", "").replace(":", "").lower()


def pair_labels(pairs: Pairs) -> Iterator[str]:
    """The label of each pair: ``eps Boo AB (Izar)``.

    Its star's name, else the discoverer's number, constellation and place or the pair's
    identifier, with the components.
    """
    columns = (pairs.name, pairs.discoverer, pairs.pair_id, pairs.components, pairs.proper_name)
    for place, (name, discoverer, pair_id, components, proper) in zip(
        _places(pairs), zip(*columns, strict=True), strict=True
    ):
        number = place or pair_id.split("-")[0].upper()
        label = f"{name or discoverer or number} {components}".strip()
        yield f"{label} ({proper})" if proper else label


def _places(pairs: Pairs) -> Iterator[str]:
    """Constellation and place of each pair."""
    columns = (pairs.constellation, pairs.ra_deg.tolist(), pairs.dec_deg.tolist())
    return (place_name(*row) for row in zip(*columns, strict=True))


def deepsky_keys(objects: DeepSky) -> Iterator[list[str]]:
    """The keys of each deep-sky object."""
    columns = (objects.id, objects.names, objects.common_name)
    for identifier, names, common in zip(*columns, strict=True):
        texts = {identifier, *common.split("|"), *names.split("|")}
        yield [normal_key(text) for text in texts if text]


def common_words(objects: DeepSky, row: int) -> list[frozenset[str]]:
    """The words of each common name of one object."""
    return [name_words(name) for name in objects.common_name[row].split("|") if name]


def name_words(text: str) -> frozenset[str]:
    """The words of a name in the form in which they are compared: no articles, no ``'s``."""
    return frozenset(map(normal_key, _OWNER.sub("", text).split())) - {"", "the", "of"}


def deepsky_labels(objects: DeepSky) -> Iterator[str]:
    """The label of each deep-sky object: ``M 57 (Ring Nebula)``."""
    columns = (objects.id, objects.names, objects.common_name)
    for identifier, names, common in zip(*columns, strict=True):
        messier = _MESSIER.search(f"|{identifier}|{names}|")
        label = f"M {messier[1]}" if messier else identifier
        yield f"{label} ({common.split('|')[0]})" if common else label


def _rows(stars: Designations) -> Iterator[tuple[int, str, str, str, str, str]]:
    return zip(
        stars.hip,
        stars.bayer,
        stars.flamsteed,
        stars.constellation,
        stars.variable,
        stars.proper_name,
        strict=True,
    )
