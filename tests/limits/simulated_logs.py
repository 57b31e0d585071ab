"""Logs of invented observers, drawn from the models themselves: they prove the fit, no model."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from planner.kit.reading import load_kit
from planner.limits.evidence import Evidence, Instrument, Looks, instrument_at, looks_at
from planner.limits.likelihood import NIGHT_SPREAD, WRITTEN_SPREAD, outcome_chances
from planner.limits.priors import TILT_RANGE, Own, Prior, prior_of
from planner.log.record import LoggedPair, Promise, Record
from planner.targets.catalog import load_pairs
from planner.targets.kind import Kind
from planner.verdict.setup import Setup

if TYPE_CHECKING:
    from pathlib import Path

    from planner.log.outcome import Outcome

NIGHT = dt.datetime(2026, 3, 1, 21, tzinfo=dt.UTC)


@dataclass(frozen=True, slots=True, eq=False)
class Pool:
    """Looks to choose from, a target each, and what is believed beforehand."""

    looks: Looks
    prior: Prior


def example_setup() -> Setup:
    """The example kit at its first site."""
    kit = load_kit()
    site = kit.site()
    return Setup(
        kit.telescope(), kit.observer, site.zenith_sky_mag, site.seeing_arcsec, site.extinction_mag
    )


@cache
def example_instrument(folder: Path | None = None) -> Instrument:
    """The example kit with two of its views, which is enough to split by."""
    setup = example_setup()
    views = sorted(load_kit().views(setup.telescope), key=lambda view: view.magnification)
    return instrument_at(setup, views[-2:], folder)


def record(number: int, kind: Kind, outcome: Outcome | None = None, **more: object) -> Record:
    """A look at an invented target of a number."""
    at = NIGHT + dt.timedelta(minutes=number)
    values = {"id": f"{number}", "written": at, "at": at, "night": at.date(), "name": "x"}
    return Record(**({"target": f"T{number}", "kind": kind, "outcome": outcome, **values} | more))


def pair_record(number: int, sep: float, v1: float, v2: float, **more: object) -> Record:
    """A look at a pair."""
    known = LoggedPair(f"P{number}", "AB", sep, None, v1, v2)
    return record(number, Kind.DOUBLE, **({"pair": known, "airmass": 1.2} | more))


def star_record(number: int, margin: float, **more: object) -> Record:
    """A look at a star promised with a margin."""
    said = Promise(None, None, margin, 2.0, 21.0, {}, "m")
    return record(number, Kind.RED_STAR, **({"said": said} | more))


@cache
def pool(folder: Path | None = None, pairs: int = 400, stars: int = 170) -> Pool:
    """Catalog pairs of 0.7" to 8" that someone would try, and stars about the limit."""
    random = np.random.default_rng(5)
    every = load_pairs()
    good = np.flatnonzero(
        (every.separation_arcsec > 0.7)
        & (every.separation_arcsec < 8.0)
        & (np.maximum(every.v1, every.v2) < 10.5)
    )
    rows = random.choice(good, pairs, replace=False)
    records = [
        pair_record(n, float(every.separation_arcsec[r]), float(every.v1[r]), float(every.v2[r]))
        for n, r in enumerate(rows)
    ]
    margins = random.uniform(-1.0, 2.5, stars)
    records += [star_record(pairs + n, float(m)) for n, m in enumerate(margins)]
    instrument = example_instrument(folder)
    return Pool(looks_at(records, instrument), prior_of(instrument.setup))


def truth(prior: Prior, random: np.random.Generator) -> np.ndarray:
    """An observer drawn from the prior (4,)."""
    while True:
        own = prior.values(random.normal(size=(1, 4)))[0]
        if TILT_RANGE[0] <= own[Own.TILT] <= TILT_RANGE[1]:
            return own


def simulated(
    found: Pool, own: np.ndarray, random: np.random.Generator, count: int = 40, wild: float = 0.0
) -> Evidence:
    """A log of ``count`` looks in count / 5 nights, half of them with a written seeing."""
    nights = max(1, count // 5)
    log_seeing = random.normal(own[Own.SEEING], NIGHT_SPREAD, nights)
    night = np.sort(np.arange(count) % nights)
    many = count > len(found.looks.count)
    looks = found.looks.rows(random.choice(len(found.looks.count), count, replace=many))
    chance = outcome_chances(looks, own[None], log_seeing[night][None])[0]
    edges = np.cumsum(chance, axis=1)
    outcome = (random.uniform(size=count)[:, None] * edges[:, -1:] > edges).sum(axis=1)
    astray = random.uniform(size=count) < wild
    outcome = np.where(astray, random.integers(0, looks.count), outcome)
    written = random.normal(log_seeing, WRITTEN_SPREAD)
    written[random.uniform(size=nights) < 0.5] = np.nan
    return Evidence(looks, outcome, night, np.ones(count), written)
