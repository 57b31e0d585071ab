"""What a filter gains, and when it is worth naming."""

from __future__ import annotations

from functools import cache
from itertools import permutations

import numpy as np
import pytest
from deepsky_samples import objects, setup, tables, views

from planner.optics.eyepiece import Filter
from planner.targets.kind import Kind
from planner.verdict.deepsky.filtering import LINE_SHARES, filter_effect, sky_darkening_mag
from planner.verdict.deepsky.glow import glow_of
from planner.verdict.deepsky.margins import DeepSkyMargins, deepsky_margins, deepsky_tables
from planner.verdict.verdicts import NO_FILTER

WORTH_NAMING_MAG = 0.2  # docs/models.md
NEBULAE = ("NGC 3587", "NGC 6853", "NGC 6720", "NGC 1976", "NGC 1952", "NGC 6543", "NGC 3031")
SKIES = np.linspace(17.0, 21.8, 25)
LINES = (
    Filter("narrow", "nebula", 24.0, 0.92),
    Filter("O III", "O III", 12.0, 0.90),
    Filter("broad", "broad", 60.0, 0.8),
    Filter("H beta", "H beta", 9.0, 0.85),
)


@cache
def judged(*filters: Filter) -> DeepSkyMargins:
    """Seven nebulae and a galaxy under skies from a town's to the darkest."""
    found = objects(*NEBULAE)
    sky = np.tile(SKIES, (len(found), 1))
    used = deepsky_tables(setup(), views(), filters) if filters else tables()
    return deepsky_margins(used, found, np.zeros_like(sky), sky)


def test_the_sky_darkens_by_the_light_kept_out() -> None:
    """A tenth of the night eye's 98 nm is 2.5 mag; half let through 0.75 mag more."""
    assert sky_darkening_mag(Filter("", "O III", 9.8, 1.0)) == pytest.approx(2.5)
    assert sky_darkening_mag(Filter("", "O III", 9.8, 0.5)) == pytest.approx(3.2526, abs=1e-3)
    assert sky_darkening_mag(Filter("", "broad", 300.0, 1.0)) == 0.0


def test_light_without_lines_is_lost_altogether() -> None:
    """A galaxy and a cluster; a planetary keeps nearly all in both lines of its oxygen."""
    found = objects("NGC 3031", "NGC 3587")
    effect = filter_effect(Filter("", "O III", 12.0, 1.0), found, glow_of(found))
    assert np.isinf(effect.fainter_mag[0])
    assert 0.0 <= effect.fainter_mag[1] < 0.75  # at least half its light
    dim = filter_effect(Filter("", "O III", 12.0, 0.5), found, glow_of(found))
    assert dim.fainter_mag[1] - effect.fainter_mag[1] == pytest.approx(2.5 * np.log10(2.0))


@pytest.mark.parametrize("used", LINES, ids=lambda used: used.name)
def test_a_filter_is_named_where_it_gains_a_fifth_of_a_magnitude(used: Filter) -> None:
    """And nowhere else; the margin is the better of both."""
    bare, found = judged(), judged(used)
    gain = found.margin_mag - bare.margin_mag
    assert (gain >= 0.0).all()
    named = found.filter_index != NO_FILTER
    clear = np.abs(gain - WORTH_NAMING_MAG) > 1e-6
    assert (named == (gain >= WORTH_NAMING_MAG))[clear].all()
    assert (found.view == bare.view)[~named].all()


def test_samples_lie_on_both_sides_of_what_is_worth_naming() -> None:
    """Some gains between nothing and 0.2 mag, some just above it."""
    bare = judged()
    gains = np.concatenate([(judged(f).margin_mag - bare.margin_mag).ravel() for f in LINES])
    assert ((gains > 0.15) & (gains < 0.2)).sum() > 0
    assert ((gains > 0.2) & (gains < 0.24)).sum() > 0


def test_the_best_of_several_filters_is_named_in_whatever_order_they_lie() -> None:
    """One that gains less than 0.2 mag does not stand in the way of one that gains more."""
    alone = np.stack([judged(f).margin_mag for f in LINES[:3]])
    bare = judged().margin_mag
    best = alone.max(axis=0)
    worth_it = best >= bare + WORTH_NAMING_MAG + 1e-6
    assert worth_it.any()
    for order in permutations(range(3)):
        found = judged(*(LINES[i] for i in order))
        assert found.margin_mag == pytest.approx(best)
        names = np.array(order)[found.filter_index]
        assert ((found.filter_index != NO_FILTER) == worth_it)[worth_it].all()
        there = np.take_along_axis(alone, names[None], axis=0)[0]
        assert there[worth_it] == pytest.approx(best[worth_it])


@pytest.mark.parametrize("kind", LINE_SHARES)
def test_a_filter_for_both_lines_passes_what_the_single_ones_do_together(kind: Kind) -> None:
    """Whatever the shares; a broad filter passes no less."""
    shares = LINE_SHARES[kind]
    assert shares["nebula"] == pytest.approx(shares["O III"] + shares["H beta"])
    assert shares["nebula"] < shares["broad"] < 1.0


def test_light_thrown_back_by_dust_gains_nothing() -> None:
    """M 78 and NGC 7023 shine by starlight, the Veil and M 42 by lines: common practice."""
    dust, gas = objects("NGC 2068", "NGC 7023"), objects("NGC 6992", "NGC 1976")
    for used in LINES:
        assert np.isinf(filter_effect(used, dust, glow_of(dust)).fainter_mag).all()
        assert np.isfinite(filter_effect(used, gas, glow_of(gas)).fainter_mag).all()
