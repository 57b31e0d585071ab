"""The chosen view, tonight's class and what limits a pair."""

from __future__ import annotations

import numpy as np
import pytest
from split_telescope import pairs, random_pairs, six_inch, sky, worst_of

from planner.verdict.pairs.choice import (
    choose_view,
    in_view,
    limiting_factor,
    tonight_class,
)
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.lookup import worst_seeing
from planner.verdict.verdicts import Limit

POWERS = np.array([200.0, 50.0, 100.0])
PUPILS = 150.0 / POWERS


def _worst(*rows: tuple[float, float, float]) -> np.ndarray:
    """Worst seeing (1, 3, 4) from (notched, just, clean) of each view."""
    return np.array([[(max(r), *r) for r in rows]], dtype=np.float32)


def test_choose_view_takes_the_lowest_power_within_nine_tenths_of_the_best() -> None:
    worst = _worst((3.0, 2.0, 1.0), (2.0, 1.0, 0.0), (2.9, 1.85, 0.9))
    assert choose_view(worst, POWERS, PUPILS, 0.4).tolist() == [2]


def test_choose_view_gives_no_class_away() -> None:
    """100x is good enough for just, but only 200x ever shows a dark gap."""
    worst = _worst((3.0, 2.0, 1.2), (2.0, 1.0, 0.0), (2.9, 1.9, 0.0))
    assert choose_view(worst, POWERS, PUPILS, 0.4).tolist() == [0]


def test_a_class_that_a_good_view_reaches_is_reached() -> None:
    """Of the views within 0.9 of the best for just, the chosen one keeps most of the rest."""
    worst = worst_of(random_pairs(2000))
    tables = six_inch()
    chosen = in_view(worst, choose_view(worst, tables.powers, tables.exit_pupils_mm, 0.1))
    just, rest = SplitClass.JUST - 1, [SplitClass.NOTCHED - 1, SplitClass.CLEAN - 1]
    best = worst.max(axis=1)
    good = (worst[:, :, just] >= 0.9 * best[:, None, just]) & (best[:, None, just] > 0.0)
    keeps = good & (worst[:, :, rest] >= 0.7 * best[:, None, rest]).all(axis=2)
    one_does = keeps.any(axis=1)
    assert one_does.sum() > 500
    assert (chosen[one_does][:, rest] >= 0.7 * best[one_does][:, rest]).all()
    assert (chosen[:, just] >= 0.9 * best[:, just]).all()


def test_choose_view_falls_back_to_notched() -> None:
    worst = _worst((1.0, 0.0, 0.0), (0.0, 0.0, 0.0), (0.95, 0.0, 0.0))
    assert choose_view(worst, POWERS, PUPILS, 0.4).tolist() == [2]


def test_choose_view_leaves_out_exit_pupils_that_are_too_small() -> None:
    worst = _worst((3.0, 2.0, 1.0), (1.0, 0.5, 0.0), (1.0, 0.5, 0.0))
    assert choose_view(worst, POWERS, PUPILS, 0.4).tolist() == [0]
    assert choose_view(worst, POWERS, PUPILS, 1.0).tolist() == [1]


def test_choose_view_takes_the_highest_allowed_power_where_nothing_shows() -> None:
    worst = np.zeros((1, 3, 4), dtype=np.float32)
    assert choose_view(worst, POWERS, PUPILS, 0.4).tolist() == [0]
    assert choose_view(worst, POWERS, PUPILS, 1.0).tolist() == [2]


def test_choose_view_takes_the_lowest_power_where_no_exit_pupil_is_allowed() -> None:
    worst = _worst((3.0, 2.0, 1.0), (2.0, 1.0, 0.0), (2.9, 1.85, 0.9))
    assert choose_view(worst, POWERS, PUPILS, 9.0).tolist() == [1]


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
    in_any = worst_seeing(six_inch(), pairs(*pair), sky(airmass)).max(axis=1)
    found = limiting_factor(
        six_inch(), pairs(*pair), sky(airmass), np.array([view]), in_any, seeing
    )
    assert found.tolist() == [limit]


def test_limiting_factor_is_nothing_exactly_for_clean_splits() -> None:
    found = random_pairs(1000)
    worst = worst_of(found)
    tables = six_inch()
    view = choose_view(worst, tables.powers, tables.exit_pupils_mm, 0.5)
    clean = tonight_class(in_view(worst, view), 2.0) == SplitClass.CLEAN
    limits = limiting_factor(tables, found, sky(), view, worst.max(axis=1), 2.0)
    assert np.array_equal(limits == Limit.NOTHING, clean)
