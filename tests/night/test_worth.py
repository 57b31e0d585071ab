"""What makes a target more worth going out for, other things being equal."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.night.worth import body_worth, deepsky_worth, pair_worth
from planner.targets.catalog import load_deepsky, load_pairs
from planner.targets.columns import rows_of
from planner.targets.kind import DEEP_SKY_KINDS, Kind
from planner.targets.pairs import Pairs, take
from planner.verdict.pairs.criteria import SplitClass

COUNT = 200
RNG = np.random.default_rng(8)
PAIRS = take(load_pairs(), RNG.choice(len(load_pairs()), COUNT, replace=False))
OBJECTS = rows_of(load_deepsky(), RNG.choice(len(load_deepsky()), COUNT, replace=False))
HIGH = np.full(COUNT, 50.0)
HEIGHTS = st.floats(0.0, 90.0)


def of_pairs(
    split_class: int = 3, altitude_deg: float = 50.0, chance: bool = False, **columns: Any
) -> np.ndarray:
    """Worth of two hundred pairs of the catalog, with columns put in place of its own."""
    changed: Pairs = replace(
        PAIRS, **{name: np.full(COUNT, value) for name, value in columns.items()}
    )
    return pair_worth(
        changed, np.full(COUNT, split_class), np.full(COUNT, altitude_deg), np.full(COUNT, chance)
    )


def of_objects(margin: float = 1.0, altitude_deg: float = 50.0, **columns: Any) -> np.ndarray:
    """Worth of two hundred objects of the catalog."""
    changed = replace(OBJECTS, **{name: np.full(COUNT, value) for name, value in columns.items()})
    light = np.zeros(COUNT, dtype=bool)
    return deepsky_worth(changed, np.full(COUNT, margin), np.full(COUNT, altitude_deg), light)


def test_a_better_class_is_worth_more() -> None:
    """Pair by pair, each class more than the one below."""
    worths = [of_pairs(int(split)) for split in SplitClass]
    for lower, better in zip(worths, worths[1:], strict=False):
        assert (better > lower).all()


def test_a_chance_pair_is_worth_less_than_a_true_one() -> None:
    """By more than one class from just to clean."""
    true, chance = of_pairs(), of_pairs(chance=True)
    assert (chance < true).all()
    assert (of_pairs(int(SplitClass.CLEAN), chance=True) < true).all()


@settings(deadline=None, max_examples=40)
@given(HEIGHTS, HEIGHTS)
def test_height_never_makes_worth_less(one: float, other: float) -> None:
    """For every kind; ten points at the most, all of them from 60 degrees on."""
    low, high = sorted((one, other))
    names = np.array(["Jupiter", "Moon", "Mars"], dtype=object)
    size = np.full(3, 12.0)
    for lower, higher in (
        (of_pairs(altitude_deg=low), of_pairs(altitude_deg=high)),
        (of_objects(altitude_deg=low), of_objects(altitude_deg=high)),
        (body_worth(names, np.full(3, low), size), body_worth(names, np.full(3, high), size)),
    ):
        assert (higher >= lower).all() and (higher <= lower + 10.0 + 1e-9).all()
    if low >= 60.0 or high <= 15.0:
        assert (of_pairs(altitude_deg=low) == of_pairs(altitude_deg=high)).all()


@settings(deadline=None, max_examples=40)
@given(st.floats(-3.0, 6.0), st.floats(-3.0, 6.0))
def test_more_margin_never_makes_an_object_worth_less(one: float, other: float) -> None:
    """And unknown is as bad as far outside."""
    low, high = sorted((one, other))
    assert (of_objects(margin=high) >= of_objects(margin=low)).all()
    assert (of_objects(margin=np.nan) <= of_objects(margin=low)).all()
    assert (of_objects(margin=1.0) > of_objects(margin=0.0)).any()


@settings(deadline=None, max_examples=40)
@given(st.floats(-1.0, 14.0), st.floats(-1.0, 14.0))
def test_light_never_makes_worth_less(one: float, other: float) -> None:
    """Of either star of a pair, or of an object."""
    bright, faint = sorted((one, other))
    for column in ("v1", "v2"):
        assert (of_pairs(**{column: bright}) >= of_pairs(**{column: faint})).all()
    assert (of_objects(v_mag=bright) >= of_objects(v_mag=faint)).all()


def test_names_colours_and_closeness_are_worth_something() -> None:
    """A name, a contrast of colours; less beyond 40" and again beyond 120"."""
    plain = {"name": "", "proper_name": "", "colour1_bv": 0.5, "colour2_bv": 0.5}
    base = of_pairs(separation_arcsec=10.0, **plain)
    assert (of_pairs(separation_arcsec=10.0, **{**plain, "name": "x"}) > base).all()
    assert (of_pairs(separation_arcsec=10.0, **{**plain, "proper_name": "x"}) > base).all()
    for other in (1.2, -0.2):  # blue and orange either way about
        assert (of_pairs(separation_arcsec=10.0, **{**plain, "colour2_bv": other}) > base).all()
    assert (of_pairs(separation_arcsec=10.0, **{**plain, "colour2_bv": 0.7}) == base).all()
    assert (of_pairs(separation_arcsec=10.0, **{**plain, "colour2_bv": np.nan}) == base).all()
    assert (of_pairs(separation_arcsec=39.0, **plain) == base).all()
    wide, wider = (of_pairs(separation_arcsec=s, **plain) for s in (60.0, 130.0))
    assert (wide < base).all() and (wider < wide).all()


def test_renown_rarity_and_size_are_worth_something() -> None:
    """Messier before Caldwell before the rest; nebulae before clusters; large before small."""
    lists = [of_objects(names=names) for names in ("", "Caldwell 12", "M 12|Caldwell 9")]
    assert (lists[0] < lists[1]).all() and (lists[1] < lists[2]).all()
    kinds = {kind: of_objects(kind=kind).mean() for kind in DEEP_SKY_KINDS}
    assert kinds[Kind.NEBULA] > kinds[Kind.PLANETARY_NEBULA] > kinds[Kind.GALAXY]
    assert kinds[Kind.GALAXY] > kinds[Kind.OPEN_CLUSTER]
    sizes = [of_objects(major_arcmin=size) for size in (np.nan, 1.0, 4.0, 8.0, 60.0)]
    for smaller, larger in zip(sizes, sizes[1:], strict=False):
        assert (larger >= smaller).all()
    assert (sizes[3] > sizes[2]).all()
    assert (of_objects(common_name="x") > of_objects(common_name="")).all()


def test_a_nebula_of_which_only_the_stars_are_known_is_worth_less() -> None:
    """It may not show itself."""
    nebulae = replace(OBJECTS, kind=np.full(COUNT, Kind.NEBULA))
    margin = np.full(COUNT, 2.0)
    itself, stars = (
        deepsky_worth(nebulae, margin, HIGH, np.full(COUNT, by_stars)) for by_stars in (False, True)
    )
    assert (stars < itself).all()


@settings(deadline=None, max_examples=40)
@given(st.floats(3.5, 25.0), st.floats(3.5, 25.0))
def test_mars_is_worth_more_the_larger_it_is(one: float, other: float) -> None:
    """3.5" at its farthest, 25" at its nearest; from 20" on it is large. No other goes so."""
    small, large = sorted((one, other))
    names = np.array(["Mars", "Jupiter", "Venus"], dtype=object)
    lesser, greater = (body_worth(names, np.full(3, 40.0), np.full(3, s)) for s in (small, large))
    assert greater[0] >= lesser[0]
    assert greater[0] > lesser[0] or large - small < 1e-6 or small >= 20.0
    assert greater[1:].tolist() == lesser[1:].tolist()
