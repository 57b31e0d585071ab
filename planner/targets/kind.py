"""The kinds of target: what decides how a target is judged and listed."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """One kind of target; the value is the word used in catalog files and on the command line."""

    DOUBLE = "double"
    OPEN_CLUSTER = "open-cluster"
    GLOBULAR_CLUSTER = "globular-cluster"
    GALAXY = "galaxy"
    PLANETARY_NEBULA = "planetary-nebula"
    NEBULA = "nebula"
    RED_STAR = "red-star"
    PLANET = "planet"
    MOON = "moon"

    @property
    def label(self) -> str:
        """The kind in words, for readers: ``planetary nebula``."""
        return _LABELS.get(self, self.value.replace("-", " "))


def kind_named(word: str) -> Kind | None:
    """The kind that a word means, in the singular or plural, in capitals or not; None for none."""
    name = word.strip().casefold().replace(" ", "-")
    return _KINDS_NAMED.get(name)


_LABELS = {Kind.DOUBLE: "double star", Kind.MOON: "Moon"}
DEEP_SKY_KINDS = (
    Kind.OPEN_CLUSTER,
    Kind.GLOBULAR_CLUSTER,
    Kind.GALAXY,
    Kind.PLANETARY_NEBULA,
    Kind.NEBULA,
)
_PLURALS = {Kind.GALAXY: "galaxies", Kind.PLANETARY_NEBULA: "planetary-nebulae",
            Kind.NEBULA: "nebulae"}  # fmt: skip
_KINDS_NAMED = {kind.value: kind for kind in Kind}
_KINDS_NAMED |= {_PLURALS.get(kind, f"{kind.value}s"): kind for kind in Kind}
