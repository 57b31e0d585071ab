"""Kinds of target."""

from __future__ import annotations

import pytest

from planner.targets.kind import DEEP_SKY_KINDS, Kind, kind_named


def test_label_reads_as_words() -> None:
    assert Kind.PLANETARY_NEBULA.label == "planetary nebula"
    assert Kind.DOUBLE.label == "double star"
    assert Kind("globular-cluster") is Kind.GLOBULAR_CLUSTER


def test_deep_sky_kinds_are_those_that_are_neither_stars_nor_solar_system() -> None:
    assert set(Kind) - set(DEEP_SKY_KINDS) == {
        Kind.DOUBLE,
        Kind.RED_STAR,
        Kind.PLANET,
        Kind.MOON,
    }


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        ("doubles", Kind.DOUBLE),
        ("Galaxies", Kind.GALAXY),
        ("open clusters", Kind.OPEN_CLUSTER),
        ("planetary-nebulae", Kind.PLANETARY_NEBULA),
        (" nebulae ", Kind.NEBULA),
        ("red stars", Kind.RED_STAR),
        ("moon", Kind.MOON),
        ("stars", None),
        ("", None),
    ],
)
def test_a_kind_is_known_in_the_singular_and_the_plural(word: str, kind: Kind | None) -> None:
    assert kind_named(word) is kind


def test_every_kind_is_named_by_its_value() -> None:
    assert [kind_named(kind.value) for kind in Kind] == list(Kind)
