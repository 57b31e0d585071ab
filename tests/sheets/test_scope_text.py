"""The scope command's text: complete, within 100 columns, honest about what is unknown."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from planner.eye.observer import Observer
from planner.optics.eyepiece import Barlow, Eyepiece
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.optics.view import all_views
from planner.sheets.page_text import PAGE_COLUMNS
from planner.sheets.purpose_words import rank_words
from planner.sheets.scope_text import ranking_text, scope_text
from planner.verdict.faintest_star import faintest_star
from planner.verdict.scope.closest_pairs import closest_pairs
from planner.verdict.scope.instrument import instrument_summary
from planner.verdict.scope.limit_reasons import limit_reasons
from planner.verdict.scope.purpose import Purpose, rank_by_exit_pupil, rank_for_purpose
from planner.verdict.scope.view_summary import view_summaries
from planner.verdict.setup import Setup

TUBE = Telescope(
    "Lindenhof tube", Design.NEWTONIAN, Mount.HAND_MOVED,
    160.0, 158.0, 1027.0, 35.0, Glass(0.06), 0.8, 31.75, 205.0,
)  # fmt: skip
SETUP = Setup(TUBE, Observer("o", 70.0, 4.5, 2.0, 0.0, 0.6), 20.9, 2.0, 0.2)
PIECES = (
    Eyepiece("Wide-angle of a very long name 32 mm", 32.0, 50.0, 27.0),
    Eyepiece("9 mm", 9.0, 60.0),
    Eyepiece("3 mm", 3.0, 60.0),
)
VIEWS = all_views(TUBE, PIECES, [Barlow("short Barlow lens 2x", 2.0)])


def text_for(setup: Setup) -> str:
    """The whole page."""
    faintest = faintest_star(setup, [v.exit_pupil_mm for v in VIEWS])
    return scope_text(
        instrument_summary(setup),
        view_summaries(setup, VIEWS),
        faintest,
        limit_reasons(setup, faintest.exit_pupil_mm),
        closest_pairs(setup, VIEWS),
    )


def test_scope_text_stays_within_the_page() -> None:
    """At most 100 columns, whatever the names, and no trailing blanks to trip over."""
    pages = [text_for(SETUP)]
    pages += [
        ranking_text(SETUP, rank_for_purpose(SETUP, VIEWS, purpose), f"Best for {purpose}")
        for purpose in Purpose
    ]
    for page in pages:
        assert max(map(len, page.splitlines())) <= PAGE_COLUMNS


def test_scope_text_tells_every_fact() -> None:
    """Figures worked out by hand: 115.8/158, 158/4.5, 300/2, and the words for each row."""
    page = text_for(SETUP)
    for fact in ('Dawes 0.73"', "Sparrow", "Strehl ratio", "   35x  below", "  150x  seeing"):
        assert fact in page
    for fact in ("fully lit field", "coma-free field", "collimation", "faintest star", "drift"):
        assert fact in page
    assert "(glass 160 mm)" in page


def test_scope_text_promises_no_more_than_the_cautious_model() -> None:
    """Both ends are named for what they are, and the old rule stands apart."""
    page = " ".join(text_for(SETUP).split())
    faintest = faintest_star(SETUP, [v.exit_pupil_mm for v in VIEWS])
    assert (
        f"about {faintest.low_mag:.1f} (cautious) to {faintest.high_mag:.1f} (hopeful) overhead"
        in page
    )
    assert "Published limits for one aperture spread by about 0.9 mag" in page
    assert f"Old handbook rule, any dark sky: {faintest.handbook_mag:.1f}" in page
    assert f"Why {faintest.low_mag:.1f} (Crumey's model)" in page


@pytest.mark.parametrize("seeing", [0.8, 1.5, 2.0, 4.0])
def test_scope_text_agrees_with_the_order_for_doubles(seeing: float) -> None:
    """The power it says close doubles bear is the highest that --for doubles wants."""
    setup = replace(SETUP, seeing_arcsec=seeing)
    page = " ".join(text_for(setup).split())
    (best, *_) = rank_for_purpose(setup, VIEWS, Purpose.DOUBLES)
    found = re.search(r"x to (\d+)x wanted", rank_words(setup, best))
    assert found is not None
    assert f"Close doubles bear {found[1]}x: they show in the best moments of the seeing" in page


def test_scope_text_marks_what_is_approximate_wasted_or_too_small() -> None:
    """The legend is printed when its mark is used, and only then."""
    page = text_for(SETUP)
    assert "~ field from the apparent field" in page
    assert "! exit pupil below your least" in page
    assert "Lost: mm of aperture" in page
    young = replace(SETUP, observer=Observer("o", 20.0, 7.0, 2.0, False, 0.2))
    assert "! exit pupil below your least" not in text_for(young)
    assert "Lost: mm of aperture" not in text_for(young)


def test_scope_text_says_when_the_lit_field_is_unknown() -> None:
    """And names the key that would tell."""
    unknown = replace(SETUP, telescope=replace(TUBE, diagonal_to_focus_mm=None))
    assert "give diagonal_to_focus in the kit file" in text_for(unknown)


def test_scope_text_of_a_refractor_is_silent_on_diagonals() -> None:
    """Coma and collimation lines are the Newtonian's."""
    lens = replace(TUBE, design=Design.REFRACTOR, obstruction_mm=0.0, diagonal_to_focus_mm=None)
    assert "coma-free" not in text_for(replace(SETUP, telescope=lens))


@pytest.mark.parametrize("wanted", [0.5, 2.0])
def test_ranking_text_opens_with_the_answer(wanted: float) -> None:
    """The best view is named before the table, and every view follows with its reason."""
    ranked = rank_by_exit_pupil(VIEWS, wanted)
    page = ranking_text(SETUP, ranked, f"Nearest to {wanted:g} mm")
    opening = f"Nearest to {wanted:g} mm: {ranked[0].view.name}, "
    assert opening in " ".join(page.split())
    assert page.count("exit pupil ") >= len(VIEWS)
