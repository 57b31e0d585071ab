"""Bounds, uses, reasons and purposes in words."""

from __future__ import annotations

from dataclasses import replace
from enum import Enum

import pytest

from planner.eye.observer import Observer
from planner.optics.eyepiece import Eyepiece
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.optics.view import all_views
from planner.sheets.mask_words import PAIR_NAMES, VERDICT_WORDS
from planner.sheets.purpose_words import FIT_WORDS, TARGET_WORDS, rank_words, unit_words
from planner.sheets.scope_words import CAUSE_NAMES, USE_WORDS, bound_words
from planner.verdict.powers import Bound
from planner.verdict.scope.instrument import instrument_summary
from planner.verdict.scope.limit_reasons import Cause
from planner.verdict.scope.mask_study import MaskVerdict, PairType
from planner.verdict.scope.purpose import (
    Fit,
    Purpose,
    rank_by_exit_pupil,
    rank_for_purpose,
)
from planner.verdict.scope.typical import FaintTarget
from planner.verdict.scope.view_summary import Use
from planner.verdict.setup import Setup

TUBE = Telescope(
    "six", Design.NEWTONIAN, Mount.HAND_MOVED, 150.0, 150.0, 900.0, 36.0, Glass(0.05), 0.8, 50.8
)
SETUP = Setup(TUBE, Observer("o", 40.0, 6.5, 2.0, 0.0, 0.5), 21.3, 4.0, 0.2)
VIEWS = all_views(TUBE, [Eyepiece(f"{f:g} mm", f, 60.0) for f in (30.0, 12.0, 4.0)])


def words_of(purpose: Purpose, setup: Setup = SETUP) -> dict[str, str]:
    """The reason of each view."""
    return {r.view.name: rank_words(setup, r) for r in rank_for_purpose(setup, VIEWS, purpose)}


@pytest.mark.parametrize(
    ("table", "values"),
    [
        (USE_WORDS, Use), (CAUSE_NAMES, Cause), (FIT_WORDS, Fit), (TARGET_WORDS, FaintTarget),
        (PAIR_NAMES, PairType), (VERDICT_WORDS, MaskVerdict),
    ],
)  # fmt: skip
def test_every_value_has_words_of_its_own(table: dict[object, str], values: type[Enum]) -> None:
    assert set(table) == set(values)
    assert len(set(table.values())) == len(table)


@pytest.mark.parametrize(
    ("bound", "part"),
    [
        (Bound.EYE_PUPIL, "wider than your own (6.5 mm)"),
        (Bound.SEEING, "seeing of 4.0\" blurs a star to 5'"),
        (Bound.RESOLUTION, "Dawes's 0.77\" is spread to 2'"),
        (Bound.LEAST_EXIT_PUPIL, "your least, 0.5 mm"),
    ],
)
def test_bound_words_name_the_number_behind_the_bound(bound: Bound, part: str) -> None:
    """Dawes 1867: 116/150 mm."""
    assert part in bound_words(instrument_summary(SETUP), bound)


@pytest.mark.parametrize("purpose", [Purpose.PLANETS, Purpose.DOUBLES])
def test_rank_words_name_the_seeing_only_where_it_keeps_the_power_down(purpose: Purpose) -> None:
    assert all('no more in seeing of 4.0"' in words for words in words_of(purpose).values())
    steady = words_of(purpose, replace(SETUP, seeing_arcsec=0.5))
    assert not any("seeing" in words for words in steady.values())
    assert words_of(purpose)["30 mm"].startswith("too low: ")


def test_rank_words_say_that_a_nebula_does_not_fit() -> None:
    """Half a degree: in a field of two degrees, and in one of a quarter."""
    words = words_of(Purpose.NEBULAE)
    assert words["30 mm"].startswith("looks 15.0 deg across")
    assert "too large for the field" in words["4 mm"]
    assert "too large" not in words["30 mm"]


def test_rank_words_say_how_far_an_exit_pupil_is() -> None:
    """30 mm at f/6 is 5 mm, 12 mm is 2 mm, 4 mm is 0.67 mm."""
    words = {r.view.name: rank_words(SETUP, r) for r in rank_by_exit_pupil(VIEWS, 2.0)}
    assert words["12 mm"] == "exit pupil 2.00 mm for 2 mm: as wanted"
    assert words["30 mm"] == "exit pupil 5.00 mm for 2 mm: 2.50x brighter, less power"
    assert words["4 mm"] == "exit pupil 0.67 mm for 2 mm: 3.00x darker, more power"


def test_unit_words_say_what_the_score_counts() -> None:
    units = {p: unit_words(rank_for_purpose(SETUP, VIEWS, p)[0].reason) for p in Purpose}
    assert "galaxy" in units[Purpose.GALAXIES]
    assert "emission nebula" in units[Purpose.NEBULAE]
    assert units[Purpose.PLANETS] == units[Purpose.DOUBLES] == "1 is the power wanted"
    assert units[Purpose.SWEEPING] == "degrees of field x share of the aperture used"
    assert "exit pupil" in unit_words(rank_by_exit_pupil(VIEWS, 2.0)[0].reason)
