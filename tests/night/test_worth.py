"""What makes a target more worth going out for, other things being equal."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.night.worth import (
    MOST_STANDING,
    Season,
    Worth,
    body_worth,
    deepsky_worth,
    pair_worth,
    red_star_worth,
)
from planner.targets.catalog import load_deepsky, load_pairs, load_red_stars
from planner.targets.columns import rows_of
from planner.targets.kind import DEEP_SKY_KINDS, Kind
from planner.targets.pairs import Pairs, take
from planner.targets.standing import best_list_counts
from planner.verdict.deepsky.judge import DeepSkyDetail
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.verdicts import MarginUnit, Verdicts

COUNT = 200
RNG = np.random.default_rng(8)
PAIRS = take(load_pairs(), RNG.choice(len(load_pairs()), COUNT, replace=False))
OBJECTS = rows_of(load_deepsky(), RNG.choice(len(load_deepsky()), COUNT, replace=False))
POWERS = np.array([30.0, 60.0, 120.0])
HEIGHTS = st.floats(0.0, 90.0)
MOST_FOR_HEIGHT = 10.0


def season(altitude_deg: float = 50.0, count: int = COUNT, **columns: float) -> Season:
    """Targets so high tonight that may stand higher, with the whole night before them."""
    values = {"highest_deg": 85.0, "moments_left": 90.0, **columns}
    return Season(
        np.full(count, altitude_deg),
        np.full(count, values["highest_deg"]),
        np.full(count, int(values["moments_left"])),
    )


def of_pairs(
    split_class: int = 3, when: Season | None = None, chance: bool = False, **columns: Any
) -> Worth:
    """Worth of two hundred pairs of the catalog, with columns put in place of its own."""
    changed: Pairs = replace(
        PAIRS, **{name: np.full(COUNT, value) for name, value in columns.items()}
    )
    split = np.full(COUNT, split_class)
    return pair_worth(changed, split, np.full(COUNT, chance), when or season())


def of_objects(
    margin: float = 1.0,
    when: Season | None = None,
    by_stars: bool = False,
    view: int = 1,
    **columns: Any,
) -> Worth:
    """Worth of two hundred objects of the catalog, all with one margin in one view."""
    changed = replace(OBJECTS, **{name: np.full(COUNT, value) for name, value in columns.items()})
    no, zeros = np.zeros(COUNT, dtype=bool), np.zeros(COUNT)
    verdicts = Verdicts(
        step=np.zeros(COUNT, dtype=np.int8),
        shown=no,
        limit=np.zeros(COUNT, dtype=np.int8),
        margin=np.full(COUNT, margin),
        uncertainty=np.full(COUNT, 0.5),
        unit=MarginUnit.MAGNITUDES,
        view=np.full(COUNT, view),
        filter_index=np.full(COUNT, -1),
        detail=DeepSkyDetail(np.full(COUNT, by_stars), no, no, zeros, zeros),
    )
    return deepsky_worth(changed, verdicts, POWERS, when or season())


def test_a_better_class_is_worth_more() -> None:
    """Pair by pair, each class more than the one below."""
    worths = [of_pairs(int(split)).total for split in SplitClass]
    for lower, better in zip(worths, worths[1:], strict=False):
        assert (better > lower).all()


def test_a_chance_pair_is_worth_less_than_a_true_one() -> None:
    """By more than one class from just to clean."""
    true, chance = of_pairs().total, of_pairs(chance=True).total
    assert (chance < true).all()
    assert (of_pairs(int(SplitClass.CLEAN), chance=True).total < true).all()


@settings(deadline=None, max_examples=40)
@given(HEIGHTS, HEIGHTS)
def test_height_never_makes_the_view_less(one: float, other: float) -> None:
    """For every kind; ten points at the most."""
    low, high = sorted((one, other))
    names = np.array(["Jupiter", "Moon", "Mars"], dtype=object)
    twelve, far = np.full(3, 12.0), np.full(3, 90.0)
    for lower, higher in (
        (of_pairs(when=season(low)), of_pairs(when=season(high))),
        (of_objects(when=season(low)), of_objects(when=season(high))),
        (
            body_worth(names, twelve, far, season(low, 3)),
            body_worth(names, twelve, far, season(high, 3)),
        ),
    ):
        gained = higher.view - lower.view
        assert (gained >= 0.0).all() and (gained <= MOST_FOR_HEIGHT + 1e-9).all()


@settings(deadline=None, max_examples=40)
@given(st.floats(-3.0, 6.0), st.floats(-3.0, 6.0))
def test_more_margin_never_makes_an_object_worth_less_and_saturates(
    one: float, other: float
) -> None:
    """And unknown is as bad as far outside; fifteen magnitudes in hand are no more than eight."""
    low, high = sorted((one, other))
    assert (of_objects(margin=high).total >= of_objects(margin=low).total).all()
    assert (of_objects(margin=np.nan).total <= of_objects(margin=low).total).all()
    plain, absurd = of_objects(margin=8.0).total, of_objects(margin=15.0).total
    assert (absurd - plain < 0.5).all()


@settings(deadline=None, max_examples=40)
@given(st.floats(-1.0, 14.0), st.floats(-1.0, 14.0))
def test_light_never_makes_worth_less(one: float, other: float) -> None:
    """Of either star of a pair, or of an object."""
    bright, faint = sorted((one, other))
    for column in ("v1", "v2"):
        more, less = of_pairs(**{column: bright}).total, of_pairs(**{column: faint}).total
        assert (more >= less).all()
    assert (of_objects(v_mag=bright).total >= of_objects(v_mag=faint).total).all()


def test_colours_and_closeness_are_worth_something() -> None:
    """A contrast of colours; finest at some seconds of arc, less beyond 45" and again 120"."""
    plain = {"colour1_bv": 0.5, "colour2_bv": 0.5}
    base = of_pairs(separation_arcsec=10.0, **plain).total
    for other in (1.2, -0.2):  # blue and orange either way about
        coloured = of_pairs(separation_arcsec=10.0, **{**plain, "colour2_bv": other}).total
        assert (coloured > base).all()
    unknown = of_pairs(separation_arcsec=10.0, **{**plain, "colour2_bv": np.nan}).total
    assert (unknown == base).all()
    fine, wide, wider = (of_pairs(separation_arcsec=s, **plain).total for s in (6.0, 60.0, 130.0))
    assert (fine >= base).all() and (wide < base).all() and (wider < wide).all()


def test_standing_counts_lists_and_levels_off() -> None:
    """More lists are never worth less; ten are hardly more than six, and none is nothing."""
    counts, points = best_list_counts(OBJECTS.id.tolist()), of_objects().standing
    order = np.argsort(counts, kind="stable")
    assert (np.diff(points[order]) >= 0.0).all()
    assert (points[counts == 0] == 0.0).all() and (counts == 0).any()
    whole = load_deepsky()
    famous = rows_of(whole, np.isin(whole.id, ["NGC 869", "NGC 6205", "NGC 5139"]))
    assert (best_list_counts(famous.id.tolist()) >= 2).all()
    assert (points <= MOST_STANDING).all()


def test_what_is_low_all_year_or_leaves_is_worth_more_now() -> None:
    """At its best in the south at 25 degrees; or with two hours left after dark."""
    usual = of_objects(when=season(50.0)).rarity
    low = of_objects(when=season(25.0, highest_deg=26.0)).rarity
    leaving = of_objects(when=season(25.0, moments_left=20.0)).rarity
    assert (low > usual).all() and (leaving > usual).all() and (usual == 0.0).all()


def test_what_stands_far_lower_than_in_its_season_is_worth_less_now() -> None:
    """Unless it leaves for the season; a little lower costs nothing."""
    skimming = of_objects(when=season(20.0, highest_deg=80.0)).rarity
    risen = of_objects(when=season(45.0, highest_deg=80.0)).rarity
    leaving = of_objects(when=season(20.0, highest_deg=80.0, moments_left=20.0)).rarity
    assert (skimming < risen).all() and (risen == 0.0).all() and (leaving > 0.0).all()


def test_size_in_the_eyepiece_and_kind_are_worth_something() -> None:
    """Large before small, more power for the same size; few nebulae before many clusters."""
    sizes = [of_objects(major_arcmin=size).view for size in (np.nan, 1.0, 4.0, 8.0, 60.0)]
    for smaller, larger in zip(sizes, sizes[1:], strict=False):
        assert (larger >= smaller).all()
    assert (of_objects(view=2, major_arcmin=4.0).view > of_objects(major_arcmin=4.0).view).all()
    kinds = {kind: of_objects(kind=kind).view.mean() for kind in DEEP_SKY_KINDS}
    assert kinds[Kind.NEBULA] > kinds[Kind.OPEN_CLUSTER]
    assert kinds[Kind.PLANETARY_NEBULA] > kinds[Kind.OPEN_CLUSTER]


def test_a_nebula_of_which_only_the_stars_are_known_is_worth_less() -> None:
    """It may not show itself."""
    itself = of_objects(kind=Kind.NEBULA).view
    assert (of_objects(kind=Kind.NEBULA, by_stars=True).view < itself).all()


@settings(deadline=None, max_examples=40)
@given(st.floats(3.5, 25.0), st.floats(3.5, 25.0))
def test_mars_is_worth_more_the_larger_it_is(one: float, other: float) -> None:
    """3.5" at its farthest, 25" at its nearest. No other goes so."""
    small, large = sorted((one, other))
    names = np.array(["Mars", "Jupiter", "Venus"], dtype=object)
    lesser, greater = (
        body_worth(names, np.full(3, size), np.full(3, 90.0), season(40.0, 3)).total
        for size in (small, large)
    )
    assert greater[0] >= lesser[0]
    assert greater[1:].tolist() == lesser[1:].tolist()
    met = body_worth(names, np.full(3, 15.0), np.full(3, 170.0), season(40.0, 3)).rarity
    assert met[0] > 0.0 and met[1] > 0.0 and met[2] == 0.0


def test_a_red_star_surely_seen_bright_red_or_high_is_worth_more_and_none_much() -> None:
    """One thing changed at a time; the best of them is a modest target, by own judgement."""
    stars = load_red_stars()
    count = len(stars)

    def of(margin: float = 1.0, height: float = 30.0, **columns: float) -> Worth:
        changed = replace(stars, **{name: np.full(count, v) for name, v in columns.items()})
        return red_star_worth(changed, np.full(count, margin), season(height, count))

    assert np.all(of(margin=3.0).view > of().view)
    assert np.all(of(height=60.0).view > of().view)
    assert np.all(of(colour_bv=2.5).view > of(colour_bv=1.3).view)
    bright = of(v_bright_mag=4.0, v_faint_mag=5.0).view
    assert np.all(bright > of(v_bright_mag=9.0, v_faint_mag=10.0).view)
    assert of(margin=np.nan).view.max() < of().view.min()
    assert of(margin=9.0, height=90.0).total.max() < 60.0  # the first 25 of a list are above 80
