"""The one shape of every verdict, and what must hold of every judge that makes one."""

from __future__ import annotations

from dataclasses import fields, replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from deepsky_samples import objects, setup, tables, views
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_nights import KIT

from planner.ephemeris.bodies import Bodies
from planner.optics.eyepiece import Filter
from planner.optics.view import all_views
from planner.targets.catalog import load_pairs
from planner.targets.columns import rows_of
from planner.targets.deepsky import DeepSky
from planner.targets.pairs import Pairs, take
from planner.verdict.bodies.judge import BodyJudge
from planner.verdict.deepsky.judge import DeepSkyJudge
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.judge import PairJudge, split_instrument
from planner.verdict.pairs.spectrum import SiteAir
from planner.verdict.pairs.tables import build_split_tables
from planner.verdict.setup import Setup
from planner.verdict.sightlines import Sightlines
from planner.verdict.steps import Step
from planner.verdict.verdicts import MarginUnit, Verdicts

COLUMNS = ("step", "shown", "limit", "margin", "uncertainty", "view", "filter_index")
KINDS = ("pairs", "deepsky", "bodies")
DEEP = (
    "NGC 3031", "NGC 4594", "NGC 891", "NGC 6205", "NGC 6720", "NGC 6853", "NGC 1952",
    "NGC 1976", "NGC 2682", "Melotte 22", "NGC 7789", "NGC 5457", "NGC 3587", "NGC 6543",
)  # fmt: skip
PLANETS = ("Moon", "Venus", "Jupiter", "Saturn", "Uranus", "Neptune")
PAIRS = 40
FLAT_MAG = 0.02  # of interpolation in the tables of limits


def pairs() -> Pairs:
    """Forty of the catalog, of every kind of separation."""
    catalog = load_pairs()
    order = np.argsort(catalog.separation_arcsec, kind="stable")
    return take(catalog, order[:: len(catalog) // PAIRS][:PAIRS])


def bodies() -> Bodies:
    """Six bodies as they may stand (invented round values)."""
    count = len(PLANETS)
    magnitude = np.array([-11.0, -4.0, -2.2, 0.6, 5.7, 7.8])
    place = np.linspace(10.0, 300.0, count)
    size = np.array([1800.0, 20.0, 44.0, 18.0, 3.7, 2.3])
    return Bodies(
        np.array(PLANETS, dtype=object), place, place / 20.0, np.full(count, 40.0), place,
        magnitude, size, np.full(count, 0.9), np.full(count, 70.0),
    )  # fmt: skip


def lines(count: int, seed: int = 4) -> Sightlines:
    """Targets here and there, some low, some in moonlight."""
    rng = np.random.default_rng(seed)
    moon = rng.uniform(0.0, 0.8, count) * (rng.uniform(size=count) < 0.5)
    sky = rng.uniform(19.5, 21.5, count) + 2.5 * np.log10(1.0 - moon)
    return Sightlines(rng.uniform(12.0, 89.0, count), sky, moon, np.zeros(count))


@cache
def pair_judge(aperture_mm: float = 154.0, seeing_arcsec: float = 2.0) -> PairJudge:
    """A judge of pairs with a telescope without obstruction where the aperture is another."""
    used, chosen = setup_of(aperture_mm, seeing_arcsec)
    built = _split_tables(aperture_mm)
    return PairJudge(used, chosen, built, SiteAir())


@cache
def _split_tables(aperture_mm: float) -> Any:
    used, chosen = setup_of(aperture_mm, 2.0)
    return build_split_tables(
        split_instrument(used),
        [view.magnification for view in chosen],
        [view.exit_pupil_mm for view in chosen],
    )


def setup_of(aperture_mm: float, seeing_arcsec: float) -> tuple[Setup, tuple[Any, ...]]:
    """The setup and five of its views; the powers are the same for every aperture."""
    base = setup()
    telescope = replace(base.telescope, aperture_mm=aperture_mm, clear_aperture_mm=aperture_mm)
    chosen = all_views(telescope, KIT.eyepieces, KIT.barlows)[::2]
    return replace(base, telescope=telescope, seeing_arcsec=seeing_arcsec), chosen


def judge(kind: str, rows: Any = slice(None), used: Any = None) -> Verdicts[Any]:
    """Some rows of the sample of a kind, judged by its judge."""
    if kind == "pairs":
        table, angle = pairs(), np.linspace(-90.0, 90.0, PAIRS)
        chosen = np.arange(len(table))[rows]
        where = rows_of(lines(len(table)), chosen)
        return (used or pair_judge()).judge(take(table, chosen), where, angle[chosen])
    if kind == "deepsky":
        found = objects(*DEEP)
        chosen = np.arange(len(found))[rows]
        where = rows_of(lines(len(found)), chosen)
        return (used or deepsky_judge()).judge(rows_of(found, chosen), where)
    chosen = np.arange(len(PLANETS))[rows]
    where = rows_of(lines(len(PLANETS)), chosen)
    return (used or BodyJudge(setup(), views())).judge(bodies().rows(chosen), where)


@cache
def deepsky_judge() -> DeepSkyJudge:
    """With a filter, so that its column is not empty."""
    oxygen = Filter(name="O III", passes="O III", bandwidth_nm=12.0, transmission=0.9)
    return DeepSkyJudge.of(setup(), views(), (oxygen,))


def columns(found: Verdicts[Any]) -> dict[str, np.ndarray]:
    """Every column by name, those of the kind's own table too."""
    own = {field.name: getattr(found.detail, field.name) for field in fields(found.detail)}
    return {**{name: getattr(found, name) for name in COLUMNS}, **own}


def assert_same(one: Verdicts[Any], other: Verdicts[Any]) -> None:
    """Equal column by column; NaN equals NaN."""
    for name, values in columns(one).items():
        assert values == pytest.approx(columns(other)[name], nan_ok=True), name


@pytest.mark.parametrize("kind", KINDS)
def test_every_judge_answers_in_one_shape(kind: str) -> None:
    """One row a target in every column, uncertainties above 0, steps and views that exist."""
    found = judge(kind)
    count = len(found.step)
    assert count == {"pairs": PAIRS, "deepsky": len(DEEP), "bodies": len(PLANETS)}[kind]
    assert {len(values) for values in columns(found).values()} == {count}
    assert all(getattr(found, name).shape == (count,) for name in COLUMNS)
    assert found.shown.dtype == bool and found.shown.any()
    assert (found.uncertainty > 0.0).all()
    assert set(found.step) <= set(Step)
    assert ((found.view >= -1) & (found.view < len(views()))).all()
    unit = MarginUnit.SEEING if kind == "pairs" else MarginUnit.MAGNITUDES
    assert found.unit is unit


@pytest.mark.parametrize("kind", KINDS)
def test_one_target_is_judged_as_in_a_crowd(kind: str) -> None:
    """Each alone gives its row of the whole."""
    whole = judge(kind)
    for row in range(0, len(whole.step), 3):
        assert_same(judge(kind, slice(row, row + 1)), whole.rows([row]))


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_shown_is_inside_and_what_is_not_is_outside(kind: str) -> None:
    """The sign of the margin; steps above borderline are shown, those below it are not."""
    found = judge(kind)
    assert (found.margin[found.shown] >= 0.0).all()
    assert not (found.margin[~found.shown] > 0.0).any()
    assert found.shown[found.step >= Step.SEEN].all()
    assert not found.shown[found.step == Step.NOT_SEEN].any()
    borderline = found.step == Step.BORDERLINE
    assert (np.abs(found.inside[borderline]) <= 1.0 + 1e-6).all()


@pytest.mark.parametrize("kind", KINDS)
def test_rows_are_the_rows_asked_for(kind: str) -> None:
    """By number in any order, and by mask."""
    whole = judge(kind)
    count = len(whole.step)
    order = np.random.default_rng(2).permutation(count)[: count // 2]
    mask = np.isin(np.arange(count), order)
    for name, values in columns(whole).items():
        assert columns(whole.rows(order))[name] == pytest.approx(values[order], nan_ok=True)
        assert columns(whole.rows(mask))[name] == pytest.approx(values[mask], nan_ok=True)
    assert len(whole.rows(np.zeros(count, dtype=bool)).step) == 0


@pytest.mark.parametrize("kind", KINDS)
def test_rows_put_back_give_the_whole_again(kind: str) -> None:
    """And rows of another table change those rows alone, in a copy."""
    whole = judge(kind)
    rows = np.array([4, 1])
    assert_same(whole.with_rows(rows, whole.rows(rows)), whole)
    crossed = whole.with_rows(rows, whole.rows(rows[::-1]))
    assert_same(crossed.rows(rows), whole.rows(rows[::-1]))
    others = np.setdiff1d(np.arange(len(whole.step)), rows)
    assert_same(crossed.rows(others), whole.rows(others))
    assert_same(whole, judge(kind))


@cache
def _first(count: int) -> Verdicts[Any]:
    return judge("deepsky", slice(0, count))


def _inside(margin: list[float], uncertainty: list[float]) -> np.ndarray:
    found = _first(len(margin))
    return replace(found, margin=np.array(margin), uncertainty=np.array(uncertainty)).inside


MARGINS = st.floats(-50.0, 50.0, allow_subnormal=False)  # half the least number is none
SPREADS = st.floats(0.05, 3.0)


@settings(deadline=None, max_examples=60)
@given(MARGINS, MARGINS, SPREADS, st.floats(0.1, 10.0))
def test_inside_is_one_scale_for_every_unit(
    one: float, other: float, uncertainty: float, unit: float
) -> None:
    """Margins in uncertainties: the sign kept, rising, cut at 10, whatever the unit."""
    low, high = sorted((one, other))
    found = _inside([low, high, unit * low], [uncertainty, uncertainty, unit * uncertainty])
    assert found[0] <= found[1]
    assert (np.sign(found[:2]) == np.sign([low, high])).all()
    assert found[2] == pytest.approx(found[0], abs=1e-9)
    assert (np.abs(found) <= 10.0).all()
    if abs(low) < 10.0 * uncertainty:
        assert found[0] * uncertainty == pytest.approx(low, abs=1e-9)


def test_inside_at_its_ends() -> None:
    """An even chance at 0, one uncertainty at 1, the Moon at the end, unknown unknown."""
    found = _inside([0.0, 0.3, np.inf, np.nan, -60.0], [0.5, 0.3, 0.3, 0.5, 0.1])
    assert found[[0, 1, 2, 4]] == pytest.approx([0.0, 1.0, 10.0, -10.0])
    assert np.isnan(found[3])


def _spread(table: Any, count: int) -> Any:
    """Each row of a Sightlines of N targets through T moments, here the same N heights mixed."""
    rows = [np.roll(np.arange(count), shift) for shift in range(3)]
    stacked = {
        field.name: np.stack([getattr(table, field.name)[r] for r in rows], axis=1)
        for field in fields(table)
    }
    return Sightlines(**stacked)


@pytest.mark.parametrize("kind", ["deepsky", "bodies"])
def test_the_curve_passes_through_the_verdict(kind: str) -> None:
    """Margin, view and filter of each target at each moment, as judged then."""
    if kind == "deepsky":
        used, table = deepsky_judge(), objects(*DEEP)
    else:
        used, table = BodyJudge(setup(), views()), bodies()
    night = _spread(lines(len(table)), len(table))
    if kind == "deepsky":
        curve = used.curve(table, night)
    else:
        wide = {
            field.name: np.repeat(getattr(table, field.name)[:, None], 3, axis=1)
            for field in fields(table)
            if field.name != "name"
        }
        curve = used.curve(Bodies(table.name, **wide), night)
    for moment in range(3):
        at_once = Sightlines(*(getattr(night, f.name)[:, moment] for f in fields(night)))
        found = used.judge(table, at_once)
        assert curve.margin[:, moment] == pytest.approx(found.margin, nan_ok=True)
        assert curve.view[:, moment].tolist() == found.view.tolist()
        assert curve.filter_index[:, moment].tolist() == found.filter_index.tolist()


def test_the_curve_of_a_pair_passes_through_its_verdict() -> None:
    """In the best view of each moment; in a view that is given never better than that."""
    used, table = pair_judge(), pairs()
    angle = np.linspace(-60.0, 60.0, PAIRS)
    for row in range(0, PAIRS, 8):
        same = take(table, np.full(PAIRS, row))
        found = used.judge(same, lines(PAIRS), angle)
        curve = used.curve(same, lines(PAIRS), angle)
        assert curve.margin == pytest.approx(found.margin, nan_ok=True)
        assert curve.view.tolist() == found.view.tolist()
        held = used.curve(same, lines(PAIRS), angle, found.view)
        assert held.margin == pytest.approx(found.margin, nan_ok=True)
        lowest = used.curve(same, lines(PAIRS), angle, np.zeros(PAIRS, dtype=np.intp))
        gained = (lowest.margin >= 0.0) & (found.margin < 0.0)
        assert not gained.any()


@pytest.mark.parametrize("small", [60.0, 100.0, 154.0])
def test_a_larger_aperture_never_puts_a_glow_less_inside(small: float) -> None:
    """The same powers; clusters by their margin, since their uncertainty is another's."""
    found = objects(*DEEP)
    both = []
    for aperture_mm in (small, 1.5 * small):
        used, chosen = setup_of(aperture_mm, 2.0)
        both.append(DeepSkyJudge.of(used, chosen, ()).judge(found, lines(len(found))))
    lesser, greater = both
    assert (greater.margin >= lesser.margin - FLAT_MAG).all()
    glow = ~lesser.detail.by_stars
    assert (greater.inside >= lesser.inside - 2.0 * FLAT_MAG)[glow].all()
    assert (greater.margin > lesser.margin + 0.1).sum() > len(DEEP) // 2


def test_a_larger_aperture_never_splits_a_pair_worse() -> None:
    """Twice the aperture at the same powers, in good seeing, high up."""
    small, large = (judge("pairs", used=pair_judge(size, 1.0)) for size in (77.0, 154.0))
    assert (large.detail.split_class >= small.detail.split_class).all()
    assert (large.inside >= small.inside - 0.2).all()
    assert (large.inside > small.inside + 0.2).any()


@settings(deadline=None, max_examples=12)
@given(st.floats(0.5, 5.0), st.floats(0.5, 5.0))
def test_better_seeing_is_never_worse_for_any_kind(one: float, other: float) -> None:
    """Pairs, objects and planets in two seeings.

    A pair's class never falls, and in the same view neither does its margin. Where steadier air
    bears another power, the one chosen may bear less than the other's seeing, for a class as high.
    """
    steady, poor = sorted((one, other))
    judges = [pair_judge(154.0, seeing) for seeing in (steady, poor)]
    calm, wild = (judge("pairs", used=used) for used in judges)
    assert (calm.detail.split_class >= wild.detail.split_class).all()
    angle = np.linspace(-90.0, 90.0, PAIRS)
    held = judges[0].curve(take(pairs(), np.arange(PAIRS)), lines(PAIRS), angle, wild.view)
    assert held.view.tolist() == wild.view.tolist()
    assert (held.margin >= wild.margin + (poor - steady) - 1e-5).all()
    same = calm.view == wild.view
    assert (calm.inside[same] >= wild.inside[same] - 1e-6).all()
    assert (calm.shown >= wild.shown).all()
    for kind, make in (
        ("deepsky", lambda s: DeepSkyJudge(replace(setup(), seeing_arcsec=s), tables())),
        ("bodies", lambda s: BodyJudge(replace(setup(), seeing_arcsec=s), views())),
    ):
        calm, wild = judge(kind, used=make(steady)), judge(kind, used=make(poor))
        assert (calm.margin >= wild.margin - 1e-6).all()
        assert (calm.shown >= wild.shown).all()


def test_a_pair_is_plain_when_it_is_cleanly_split_beyond_doubt() -> None:
    """Within a seventh of the seeing it bears it is borderline, in either direction."""
    found = judge("pairs")
    notched = found.margin + 2.0
    doubt = np.maximum(0.1, 0.15 * notched)  # stated for the image model in docs/models.md
    assert found.uncertainty == pytest.approx(doubt)
    near = np.abs(found.margin) <= doubt
    assert (found.step[near] == Step.BORDERLINE).all()
    clean = found.detail.split_class == SplitClass.CLEAN
    assert (found.step[clean & ~near] == Step.PLAIN).all()
    assert (clean & ~near).any()


def test_an_object_of_unknown_brightness_has_no_step() -> None:
    """Neither a magnitude nor counted stars; with either the answer is a number."""
    nothing: DeepSky = objects(
        "NGC 2682", "NGC 2682", "NGC 3031",
        v_mag=[np.nan, np.nan, np.nan], member_v_mag=[np.nan, 10.0, 10.0],
    )  # fmt: skip
    found = deepsky_judge().judge(nothing, lines(3))
    assert found.step[[0, 2]].tolist() == [Step.UNKNOWN, Step.UNKNOWN]
    assert found.step[1] != Step.UNKNOWN and np.isfinite(found.margin[1])
    assert not found.shown[[0, 2]].any()
