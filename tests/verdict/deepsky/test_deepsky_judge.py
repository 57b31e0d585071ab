"""What is left out at once as hopeless, and what is not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from deepsky_samples import objects, setup, views

from planner.optics.eyepiece import Filter
from planner.targets.catalog import load_deepsky
from planner.targets.columns import rows_of
from planner.verdict.deepsky.judge import DeepSkyJudge
from planner.verdict.setup import Setup
from planner.verdict.sightlines import Sightlines

OXYGEN = Filter(name="O III", passes="O III", bandwidth_nm=12.0, transmission=0.9)


@pytest.mark.parametrize(
    "used",
    [
        setup(),
        replace(setup(), extinction_mag=0.6),
        # an eye measured in haze, used in clear air: the stars are brighter than at its measure
        replace(setup(factor_air_mag=0.5), extinction_mag=0.15),
    ],
    ids=["usual", "haze", "measured in haze"],
)
def test_nothing_that_shows_overhead_is_left_out_as_hopeless(used: Setup) -> None:
    """Every object of the catalog at the zenith under the site's own sky."""
    found = load_deepsky()
    judge = DeepSkyJudge.of(used, views(), (OXYGEN,))
    count = len(found)
    overhead = Sightlines(
        np.full(count, 90.0), np.full(count, used.zenith_sky_mag), np.zeros(count), np.zeros(count)
    )
    bright = judge.bright_enough(found)
    assert 0 < bright.sum() < count
    hopeless = rows_of(found, ~bright)
    assert not judge.judge(hopeless, rows_of(overhead, ~bright)).shown.any()


def test_the_faintest_stars_at_the_place_are_those_of_its_air_and_sky() -> None:
    """Half a magnitude of air costs half a magnitude; the best view shows most."""
    found = objects("NGC 2682", "NGC 6205")
    judge = DeepSkyJudge.of(setup(), views(), ())
    sky = np.full(2, 21.5)
    high, low = (
        judge.judge(found, Sightlines(np.full(2, h), sky, np.zeros(2), np.zeros(2)))
        for h in (90.0, 30.0)
    )
    # 30 degrees is two airmasses (1/sin 30): 0.2 mag more than overhead
    lost = high.detail.best_star_limit_mag - low.detail.best_star_limit_mag
    assert lost == pytest.approx(0.2, abs=0.002)
    assert (high.detail.star_limit_mag <= high.detail.best_star_limit_mag + 1e-6).all()
    # 2.7 + 5 log 154 = 13.6, a handbook rule for high power; rules differ by about a magnitude
    assert high.detail.best_star_limit_mag == pytest.approx(13.6, abs=0.7)


def test_how_far_a_margin_may_be_out_goes_by_the_kind() -> None:
    """Half a magnitude for a glow of known sort, one for a galaxy without a type or a nebula."""
    names = ("NGC 3031", "NGC 3031", "NGC 6720", "NGC 1952", "NGC 6205")
    found = replace(objects(*names), hubble_type=np.array(["Sab", "", "", "", ""], dtype=object))
    count = len(found)
    lines = Sightlines(np.full(count, 90.0), np.full(count, 20.5), np.zeros(count), np.zeros(count))
    verdicts = DeepSkyJudge.of(setup(), views(), ()).judge(found, lines)
    assert verdicts.uncertainty.tolist() == [0.5, 1.0, 0.5, 1.0, 0.5]


def test_only_a_nebula_known_by_its_stars_is_left_open() -> None:
    """M 67 is a cluster, the Ring a glow, IC 1311's like a nebula with the light of its stars."""
    catalog = load_deepsky()
    row = np.flatnonzero((catalog.v_of == "stars") & np.isnan(catalog.bright_v_mag))[0]
    found = objects("NGC 2682", "NGC 6720", str(catalog.id[row]))
    zero = np.zeros(3)
    lines = Sightlines(np.full(3, 90.0), np.full(3, 20.5), zero, zero)
    detail = DeepSkyJudge.of(setup(), views(), ()).judge(found, lines).detail
    assert detail.by_stars.tolist() == [True, False, True]
    assert detail.nebula_unknown.tolist() == [False, False, True]
