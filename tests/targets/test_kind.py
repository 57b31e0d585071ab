"""Kinds of target."""

from __future__ import annotations

from planner.targets.kind import DEEP_SKY_KINDS, Kind


def test_label_reads_as_words() -> None:
    assert Kind.PLANETARY_NEBULA.label == "planetary nebula"
    assert Kind.DOUBLE.label == "double star"
    assert Kind("globular-cluster") is Kind.GLOBULAR_CLUSTER


def test_deep_sky_kinds_are_those_that_are_neither_stars_nor_solar_system() -> None:
    assert set(Kind) - set(DEEP_SKY_KINDS) == {Kind.DOUBLE, Kind.PLANET, Kind.MOON}
