"""The chosen view, tonight's class and what limits a pair."""

from __future__ import annotations

import numpy as np
import pytest
from split_telescope import pairs, random_pairs, six_inch, sky, worst_of

from planner.verdict.pairs.choice import (
    PowersBorne,
    allowed_views,
    choose_view,
    in_view,
    limiting_factor,
    tonight_class,
)
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.lookup import limiting_seeing
from planner.verdict.verdicts import Limit

POWERS = np.array([200.0, 50.0, 100.0])
PUPILS = 150.0 / POWERS


def _worst(*rows: tuple[float, float, float]) -> np.ndarray:
    """Worst seeing (1, 3, 4) from (notched, just, clean) of each view."""
    return np.array([[(max(r), *r) for r in rows]], dtype=np.float32)


def _chosen(
    worst: np.ndarray,
    seeing: float,
    least_pupil: float = 0.4,
    most: float = 250.0,
    well_apart: float = 250.0,
) -> float:
    """The power chosen for one pair."""
    allowed = allowed_views(POWERS, PUPILS, least_pupil)
    borne = PowersBorne(np.array([most]), np.array([well_apart]))
    return float(POWERS[choose_view(worst, POWERS, allowed, borne, seeing)[0]])


EASY = _worst((5.0, 4.0, 3.0), (4.8, 3.7, 2.5), (5.0, 3.9, 3.0))  # clean at 2" in every view


def test_choose_view_takes_the_highest_power_not_past_what_is_borne() -> None:
    assert _chosen(EASY, 2.0) == 200.0
    assert _chosen(EASY, 2.0, most=199.0) == 100.0
    assert _chosen(EASY, 2.0, most=99.0) == 50.0
    assert _chosen(EASY, 2.0, most=20.0) == 50.0


def test_choose_view_sets_a_wide_pair_no_farther_apart_than_is_wanted() -> None:
    assert _chosen(EASY, 2.0, well_apart=120.0) == 100.0
    assert _chosen(EASY, 2.0, well_apart=60.0) == 50.0
    assert _chosen(EASY, 2.0, well_apart=10.0) == 50.0


def test_choose_view_takes_more_than_well_apart_where_less_is_plainly_worse() -> None:
    """In 1.5" all three show it just split; 50x stands a third less, 100x a twentieth."""
    worst = _worst((4.0, 3.0, 1.0), (3.0, 2.0, 0.0), (4.0, 2.85, 0.9))
    assert _chosen(worst, 1.5, well_apart=60.0) == 100.0
    assert _chosen(worst, 1.5, well_apart=60.0, most=99.0) == 50.0


def test_choose_view_gives_no_class_away() -> None:
    """Only 200x shows a dark gap tonight, though it is more than is borne."""
    worst = _worst((3.0, 2.0, 1.2), (2.0, 1.0, 0.0), (2.9, 1.9, 0.0))
    assert _chosen(worst, 1.1, most=120.0) == 200.0
    assert _chosen(worst, 1.5, most=120.0) == 100.0


@pytest.mark.parametrize("seeing", [0.8, 1.5, 2.0, 3.0, 4.5])
def test_a_class_that_any_view_reaches_is_reached(seeing: float) -> None:
    """Whatever power is borne."""
    worst = worst_of(random_pairs(2000))
    tables = six_inch()
    allowed = allowed_views(tables.powers, tables.exit_pupils_mm, 0.1)
    for most in (30.0, 120.0, 500.0):
        borne = PowersBorne(np.full(len(worst), most), np.full(len(worst), 150.0))
        chosen = choose_view(worst, tables.powers, allowed, borne, seeing)
        assert np.array_equal(
            tonight_class(in_view(worst, chosen), seeing),
            tonight_class(worst, np.float32(seeing)).max(axis=1),
        )


def test_choose_view_falls_back_to_notched() -> None:
    """Nothing is split; 100x is as good as 200x for notched, 50x is not."""
    worst = _worst((1.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.95, 0.0, 0.0))
    assert _chosen(worst, 2.0, well_apart=60.0) == 100.0
    assert _chosen(worst, 0.9, well_apart=60.0) == 100.0


def test_choose_view_leaves_out_exit_pupils_that_are_too_small() -> None:
    """Even where only they show more."""
    worst = _worst((3.0, 2.0, 1.0), (1.0, 0.5, 0.0), (1.0, 0.5, 0.0))
    assert _chosen(worst, 1.5) == 200.0
    assert _chosen(worst, 1.5, least_pupil=1.0) == 100.0


def test_choose_view_takes_the_highest_borne_where_nothing_shows() -> None:
    """The same power as for a pair that does."""
    worst = np.zeros((1, 3, 4), dtype=np.float32)
    assert _chosen(worst, 2.0) == 200.0
    assert _chosen(worst, 2.0, least_pupil=1.0) == 100.0
    assert _chosen(worst, 2.0, most=150.0) == 100.0
    assert _chosen(worst, 2.0, well_apart=60.0) == 50.0


def test_choose_view_takes_the_lowest_power_where_no_exit_pupil_is_allowed() -> None:
    assert _chosen(EASY, 2.0, least_pupil=9.0) == 50.0


def test_a_pair_of_unknown_separation_gets_a_view_all_the_same() -> None:
    worst = np.full((1, 3, 4), np.nan, dtype=np.float32)
    assert _chosen(worst, 2.0, most=float("nan"), well_apart=float("nan")) == 50.0


def test_tonight_class_is_the_best_that_still_holds() -> None:
    worst = np.array([[3.0, 2.5, 2.0, 1.0]], dtype=np.float32)
    tonight = [int(tonight_class(worst, s)[0]) for s in (0.9, 1.5, 2.2, 2.8, 3.5)]
    assert tonight == [4, 3, 2, 1, 0]


def test_worse_seeing_never_splits_more() -> None:
    worst = worst_of(random_pairs(2000))
    nights = [tonight_class(worst, s) for s in np.linspace(0.5, 6.0, 23)]
    assert np.all(np.diff(np.array(nights), axis=0) <= 0)
    assert nights[0].max() == SplitClass.CLEAN


def test_no_pair_of_unknown_separation_is_split() -> None:
    assert tonight_class(np.full((1, 4), np.nan, dtype=np.float32), 1.0)[0] == SplitClass.NOT_SPLIT


@pytest.mark.parametrize(
    ("pair", "airmass", "view", "seeing", "limit"),
    [
        ((5.4, 1.9, 3.0), 1.0, 3, 2.0, Limit.NOTHING),
        ((0.3, 5.0, 5.0), 1.0, 5, 1.0, Limit.RESOLUTION),
        ((2.9, 2.6, 4.8), 1.0, 3, 5.0, Limit.SEEING),
        ((2.4, 5.3, 5.4), 1.0, 0, 1.5, Limit.POWER_TOO_LOW),
        ((30.0, 9.0, 12.9), 1.0, 3, 1.5, Limit.COMPANION_TOO_FAINT),
        ((2.6, 1.0, 5.4), 3.05, 4, 1.2, Limit.ALTITUDE),
        ((11.2, -1.46, 8.5), 1.0, 4, 1.0, Limit.GLARE),
    ],
)
def test_limiting_factor_names_what_an_observer_would_name(
    pair: tuple[float, float, float],
    airmass: float,
    view: int,
    seeing: float,
    limit: Limit,
) -> None:
    """Common practice, no source: Castor, a pair far below Dawes, Izar in poor seeing, eps2
    Lyr at 33x, a faint wide companion, Antares low down, Sirius."""
    in_any = limiting_seeing(six_inch(), pairs(*pair), sky(airmass)).max(axis=1)
    found = limiting_factor(
        six_inch(), pairs(*pair), sky(airmass), np.array([view]), in_any, seeing
    )
    assert found.tolist() == [limit]


def test_a_pair_too_low_for_power_is_kept_by_its_altitude() -> None:
    """An even pair near the limit, 15 degrees up: little power is borne there, high up it shows."""
    close, low = pairs(1.1, 3.5, 3.6), sky(3.8)
    in_any = limiting_seeing(six_inch(), close, low).max(axis=1)
    for view in (0, 5):
        found = limiting_factor(six_inch(), close, low, np.array([view]), in_any, 1.2)
        assert found.tolist() == [Limit.ALTITUDE]


def test_limiting_factor_is_nothing_exactly_for_clean_splits() -> None:
    found = random_pairs(1000)
    worst = worst_of(found)
    tables = six_inch()
    view = np.argmax(worst[:, :, SplitClass.JUST - 1], axis=1)
    clean = tonight_class(in_view(worst, view), 2.0) == SplitClass.CLEAN
    limits = limiting_factor(tables, found, sky(), view, worst.max(axis=1), 2.0)
    assert np.array_equal(limits == Limit.NOTHING, clean)
