"""What must hold of any plan: more light, darker skies and steadier air never show less."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_nights import KIT, plan, request

from planner.night.plan import Plan
from planner.night.planning import make_plan
from planner.optics.view import all_views
from planner.sheets.verdict_words import reason_words, verdict_words
from planner.targets.columns import rows_of
from planner.targets.kind import DEEP_SKY_KINDS, Kind

DEEP_SKY = frozenset(DEEP_SKY_KINDS)
DOUBLES = frozenset({Kind.DOUBLE})
FLAT_MAG = 0.02  # of interpolation in the tables of limits
EXAMPLES = 8  # each is two whole plans


@cache
def deep_margins(aperture_mm: float, zenith_sky_mag: float) -> dict[str, float]:
    """Margin of every deep-sky object of two constellations, in a telescope without obstruction."""
    telescope = replace(
        KIT.telescope("Little"), aperture_mm=aperture_mm, clear_aperture_mm=aperture_mm
    )
    made = make_plan(
        request(
            telescope=telescope, views=all_views(telescope, KIT.eyepieces, KIT.barlows),
            kinds=DEEP_SKY, constellation="CVn", include_all=True, limit=None,
            zenith_sky_mag=zenith_sky_mag,
        )
    )  # fmt: skip
    return {t.id: t.margin for t in made.targets if t.margin is not None}


@cache
def shown_deep(aperture_mm: float, zenith_sky_mag: float) -> set[str]:
    """Those of them that are shown."""
    return {
        name for name, margin in deep_margins(aperture_mm, zenith_sky_mag).items() if margin >= 0.0
    }


@cache
def classes(seeing_arcsec: float) -> dict[tuple[str, str, float], int]:
    """How well each pair of a constellation is split, as the number of its class."""
    made = plan(
        kinds=DOUBLES, constellation="UMa", include_all=True, limit=None,
        seeing_arcsec=seeing_arcsec,
    )  # fmt: skip
    found = {}
    for target in made.targets:
        assert target.double is not None
        for pair in (target.double, *target.double.others):
            found[pair.name, pair.components, pair.separation_arcsec] = int(pair.split_class)
    return found


def stars_and_objects(made: Plan) -> set[str]:
    """The names of all targets in a plan, with those of the further pairs of each star."""
    names = {target.name for target in made.targets}
    doubles = [target.double for target in made.targets if target.double is not None]
    return names | {other.name for double in doubles for other in double.others}


APERTURES = st.sampled_from([60.0, 80.0, 100.0, 130.0, 154.0, 200.0, 250.0, 300.0])
SKIES = st.sampled_from([17.5, 18.5, 19.5, 20.5, 21.0, 21.5, 22.0])
SEEINGS = st.sampled_from([0.5, 0.8, 1.2, 1.7, 2.0, 2.5, 3.3, 5.0])


@settings(deadline=None, max_examples=EXAMPLES)
@given(APERTURES, APERTURES, SKIES)
def test_a_larger_aperture_never_shows_fewer_deepsky_objects(
    one: float, other: float, zenith_sky_mag: float
) -> None:
    """The same focal length and eyepieces, so the same powers with wider pupils."""
    small, large = sorted((one, other))
    assert len(shown_deep(small, zenith_sky_mag)) <= len(shown_deep(large, zenith_sky_mag))
    lesser, greater = deep_margins(small, zenith_sky_mag), deep_margins(large, zenith_sky_mag)
    assert len(lesser) > 50
    lost = [greater[name] - lesser[name] for name in lesser]
    assert min(lost) > -FLAT_MAG


@settings(deadline=None, max_examples=EXAMPLES)
@given(SKIES, SKIES, APERTURES)
def test_a_brighter_sky_never_shows_more(one: float, other: float, aperture_mm: float) -> None:
    """Not one object more, whatever the aperture."""
    bright, dark = sorted((one, other))
    assert shown_deep(aperture_mm, bright) <= shown_deep(aperture_mm, dark)


@settings(deadline=None, max_examples=EXAMPLES)
@given(SEEINGS, SEEINGS)
def test_worse_seeing_never_splits_a_pair_better(one: float, other: float) -> None:
    """Pair by pair, class by class."""
    steady, poor = (classes(seeing) for seeing in sorted((one, other)))
    assert len(steady) > 50
    assert all(poor[name] <= steady[name] for name in poor)


@pytest.mark.parametrize(
    "narrower",
    [
        {"least_altitude_deg": 40.0},
        {"start": time(23, 0), "end": time(1, 0)},
        {"constellation": "Her"},
    ],
    ids=lambda value: next(iter(value)),
)
def test_narrowing_never_shows_more(narrower: dict[str, object]) -> None:
    """Every narrower list is part of the whole one."""
    whole, part = plan(limit=None), plan(limit=None, **narrower)
    gained = {target.name for target in part.targets} - stars_and_objects(whole)
    assert not gained
    assert 0 < part.shown_count < whole.shown_count


def test_shown_targets_stand_before_the_others_and_by_worth() -> None:
    """The order of the list."""
    made = plan(constellation="Vir", include_all=True, limit=None)
    keys = [not target.shown for target in made.targets]
    assert keys == sorted(keys)
    points = [target.worth.total for target in made.targets if target.shown]
    assert all(later <= earlier + 1e-9 for earlier, later in zip(points, points[1:], strict=False))
    assert sum(target.shown for target in made.targets) == made.shown_count


@pytest.mark.parametrize("limit", [1, 5, 40])
def test_the_limit_is_kept(limit: int) -> None:
    """The best of the long list."""
    assert plan(limit=limit).targets == plan(limit=60).targets[:limit]


def test_the_order_of_the_catalog_does_not_matter(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same rows shuffled give the same objects, worths and places in the list."""
    from planner.night import candidates

    wanted = {"kinds": DEEP_SKY, "constellation": "Vir", "limit": None}
    straight = make_plan(request(**wanted))
    objects = candidates.load_deepsky()
    shuffled = rows_of(objects, np.random.default_rng(5).permutation(len(objects)))
    monkeypatch.setattr(candidates, "load_deepsky", lambda: shuffled)
    mixed = make_plan(request(**wanted))
    assert sorted((-t.worth.total, t.id) for t in mixed.targets) == sorted(
        (-t.worth.total, t.id) for t in straight.targets
    )
    assert [t.worth for t in mixed.targets] == [t.worth for t in straight.targets]


def test_everything_is_judged_once_and_nothing_that_shows_is_left_out_early() -> None:
    """With everything asked for: every pair and object once, with a reason; shown ones the same."""
    made = plan(include_all=True, limit=None)
    pairs = sum(1 + len(t.double.others) for t in made.targets if t.double is not None)
    others = sum(t.double is None for t in made.targets)
    assert pairs + others == made.considered > 10_000
    assert len({target.id for target in made.targets}) == len(made.targets)
    assert all(reason_words(t).strip() and verdict_words(t) for t in made.targets)
    shown = [target for target in made.targets if target.shown]
    assert len(shown) == made.shown_count
    short = plan(limit=None).targets
    assert [target.id for target in short] == [target.id for target in shown]
    assert [t.margin for t in short if t.margin is not None] == pytest.approx(
        [t.margin for t in shown if t.margin is not None]
    )
