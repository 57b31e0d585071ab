"""What a finder and the bare eye show by themselves."""

from __future__ import annotations

import numpy as np
import pytest
from sample_nights import request

from planner.optics.eyepiece import Finder
from planner.targets.catalog import load_deepsky
from planner.targets.columns import rows_of
from planner.verdict.deepsky.small_views import small_view_steps, small_views
from planner.verdict.steps import Step

FINDER = Finder("8x50", 8.0, 6.0, "inverted", 50.0)
DARK_MAG, TOWN_MAG = 21.5, 18.5
NO_AIR_MAG = 0.0
# Seen without a telescope under a dark sky, and not: common practice, no source. Andromeda, the
# Beehive, Orion's nebula, omega Centauri, 47 Tucanae, the Large Cloud.
BARE = ("NGC 224", "NGC 2632", "NGC 1976", "NGC 5139", "NGC 104", "ESO 56-115")
NOT_BARE = ("NGC 5194", "NGC 6720", "NGC 3587", "NGC 891", "NGC 3031", "NGC 2099")
# In an 8x50: globulars and clusters of Messier's brighter half; not planetaries, which look like
# stars, or galaxies of low light. Common practice, no source.
IN_FINDER = ("NGC 6205", "NGC 224", "NGC 2168", "NGC 1960", "NGC 457", "NGC 7078", "NGC 3031")
NOT_IN_FINDER = ("NGC 891", "NGC 3587", "NGC 7331", "NGC 2392", "NGC 7662", "NGC 6888")


def found(names: tuple[str, ...], number: int, sky_mag: float) -> np.ndarray:
    """Steps of some objects in the finder (0) or to the bare eye (1)."""
    catalog = load_deepsky()
    rows = [list(catalog.id).index(name) for name in names]
    small = small_views(request().observer, [FINDER])[number]
    count = len(names)
    return small_view_steps(
        small, rows_of(catalog, rows), np.full(count, NO_AIR_MAG), np.full(count, sky_mag)
    )


@pytest.mark.parametrize(
    ("names", "number", "seen"),
    [(BARE, 1, True), (NOT_BARE, 1, False), (IN_FINDER, 0, True), (NOT_IN_FINDER, 0, False)],
    ids=["bare eye", "not to the bare eye", "finder", "not in a finder"],
)
def test_what_shows_without_the_telescope_agrees_with_practice(
    names: tuple[str, ...], number: int, seen: bool
) -> None:
    shown = found(names, number, DARK_MAG) >= Step.SEEN
    assert [n for n, s in zip(names, shown, strict=True) if s != seen] == []


def test_a_town_sky_shows_no_more() -> None:
    names = BARE + NOT_BARE + IN_FINDER + NOT_IN_FINDER
    for number in (0, 1):
        dark, town = found(names, number, DARK_MAG), found(names, number, TOWN_MAG)
        assert (town <= dark).all() and (town < dark).any()


def test_a_finder_shows_no_less_than_the_bare_eye() -> None:
    small = tuple(name for name in BARE + NOT_BARE + IN_FINDER if name != "ESO 56-115")
    assert (found(small, 0, DARK_MAG) >= found(small, 1, DARK_MAG)).all()
