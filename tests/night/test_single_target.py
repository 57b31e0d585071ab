"""One target's place is its rank in the whole night's plan."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sample_nights import plan, request

from planner.night.single_target import list_places, plan_single
from planner.targets.kind import Kind

KINDS = frozenset({Kind.PLANET, Kind.GLOBULAR_CLUSTER, Kind.PLANETARY_NEBULA, Kind.GALAXY})
FEW = frozenset({"NGC 6205", "NGC 3031", "NGC 6720", "NGC 2419", "Jupiter"})


@pytest.mark.parametrize("limit", [3, 40])
def test_the_place_told_is_the_rank_on_the_whole_list(limit: int) -> None:
    """And ``listed`` tells whether the list, cut to its length, still has it."""
    whole = [target.id for target in plan(limit=None, kinds=KINDS).targets]
    asked = request(only=FEW, limit=limit, kinds=KINDS)
    made, curves = plan_single(asked)
    assert {target.id for target in made.targets} == FEW
    assert len(curves) == len(FEW)
    places = list_places(asked, made.targets)
    assert set(places) == {target.id for target in made.targets if target.shown}
    for name, place in places.items():
        assert whole[place.place - 1] == name
        assert place.shown_count == len(whole)
        assert place.listed == (place.place <= limit)
    assert 1 < len(places) <= len(FEW)


def test_what_is_not_shown_has_no_place() -> None:
    """47 Tucanae, 72 degrees south, never rises at 48 N."""
    asked = request(only=frozenset({"NGC 104"}))
    made, _ = plan_single(asked)
    (target,) = made.targets
    assert not target.shown and target.unusable is not None
    assert list_places(asked, made.targets) == {}
    assert list_places(replace(asked, limit=None), ()) == {}
