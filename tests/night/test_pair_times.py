"""The moment at which a pair is judged, against all the others."""

from __future__ import annotations

import numpy as np
import pytest
from sample_nights import judged

from planner.ephemeris.track import parallactic_angle_at_deg, track
from planner.targets.kind import Kind
from planner.targets.pairs import Pairs, take

COUNT = 30


@pytest.mark.parametrize(
    ("site", "date"),
    [("Lindenhof", "2026-05-14"), ("Lindenhof", "2026-05-28"), ("Glen", "2026-06-21"),
     ("Kauri", "2026-08-20")],
)  # fmt: skip
def test_no_usable_moment_splits_a_pair_better_than_the_one_chosen(site: str, date: str) -> None:
    """Thirty pairs at each moment of the night: dark, in twilight all night, in moonlight."""
    conditions, (found,) = judged(site, date, kinds=frozenset({Kind.DOUBLE}), limit=None)
    everything: Pairs = found.targets
    rows = np.random.default_rng(7).choice(len(everything), COUNT, replace=False)
    pairs = take(everything, rows)
    way = track(conditions.request.site, conditions.grid, pairs.ra_deg, pairs.dec_deg)
    usable = (way.altitude_deg >= 15.0) & conditions.twilight_over
    best = np.full(COUNT, -1)
    for moment in range(len(conditions.instants)):
        moments = np.full(COUNT, moment)
        lines = conditions.sightlines_at(
            way.altitude_deg[:, moment], pairs.ra_deg, pairs.dec_deg, moments
        )
        angle = parallactic_angle_at_deg(conditions.grid, pairs.ra_deg, pairs.dec_deg, moments)
        classes = found.judge.judge(pairs, lines, angle).detail.split_class
        best = np.maximum(best, np.where(usable[:, moment], classes, -1))
    chosen = np.where(found.times.usable[rows], found.verdicts.detail.split_class[rows], -1)
    assert chosen.tolist() == best.tolist()
    assert len(set(best)) > 2
    there = found.times.best[rows]
    assert usable[np.arange(COUNT), there][found.times.usable[rows]].all()
