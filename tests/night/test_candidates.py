"""Which targets a request allows; nothing that rises is lost."""

from __future__ import annotations

from datetime import UTC
from functools import cache
from typing import TYPE_CHECKING, Any

import astronomy
import ephem
import numpy as np
import pytest
from sample_nights import MOONLESS, request

from planner.night.candidates import (
    body_candidates,
    deepsky_candidates,
    pair_candidates,
    possible_objects,
)
from planner.night.conditions import night_conditions
from planner.targets.catalog import load_deepsky, load_pairs
from planner.targets.kind import DEEP_SKY_KINDS, Kind

if TYPE_CHECKING:
    from planner.night.conditions import Conditions

PLANETS = ("Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune")


@cache
def night(site: str = "Lindenhof", date: str = MOONLESS, **changes: Any) -> Conditions:
    """The conditions of a request."""
    return night_conditions(request(site, date, **changes))


def together_mag(v1: np.ndarray, v2: np.ndarray) -> np.ndarray:
    """Two lights in one, by the definition of the magnitude."""
    return -2.5 * np.log10(10.0 ** (-0.4 * v1) + 10.0 ** (-0.4 * v2))


def test_a_constellation_gives_its_own_and_all_of_them() -> None:
    """Pairs and objects, with everything asked for."""
    used = night(constellation="Her", include_all=True)
    (pairs, considered), catalog = pair_candidates(used), load_pairs()
    assert set(pairs.constellation) == {"Her"}
    assert set(pairs.pair_id) == set(catalog.pair_id[catalog.constellation == "Her"])
    assert considered == len(pairs) > 100
    found, objects = deepsky_candidates(used), load_deepsky()
    assert set(found.id) == set(objects.id[objects.constellation == "Her"])
    assert len(found) > 10


def test_faintest_is_the_light_of_the_whole() -> None:
    """Both stars of a pair together; what has no magnitude is not known to be so bright."""
    used = night(faintest=6.0, include_all=True)
    pairs, catalog = pair_candidates(used)[0], load_pairs()
    bright = together_mag(catalog.v1, catalog.v2) <= 6.0
    assert set(pairs.pair_id) == set(catalog.pair_id[bright])
    assert (catalog.v1[bright] > 6.0).any()
    found, objects = deepsky_candidates(used), load_deepsky()
    assert set(found.id) == set(objects.id[objects.v_mag <= 6.0])


@pytest.mark.parametrize("kinds", [{Kind.GALAXY}, {Kind.NEBULA, Kind.OPEN_CLUSTER}, {Kind.MOON}])
def test_kinds_are_those_asked_for(kinds: set[Kind]) -> None:
    """All of them and no other."""
    found = deepsky_candidates(night(kinds=frozenset(kinds)))
    wanted = kinds & set(DEEP_SKY_KINDS)
    assert set(found.kind) == wanted
    assert len(found) == sum(kind in wanted for kind in load_deepsky().kind)


def test_only_those_named_are_taken() -> None:
    """By id, of every kind."""
    catalog = load_pairs()
    ids = frozenset({str(catalog.pair_id[5]), "NGC 6205", "Jupiter"})
    used = night(only=ids, include_all=True)
    assert pair_candidates(used)[0].pair_id.tolist() == [catalog.pair_id[5]]
    assert deepsky_candidates(used).id.tolist() == ["NGC 6205"]
    assert body_candidates(used).name.tolist() == ["Jupiter"]


@pytest.mark.parametrize("site", ["Lindenhof", "Kauri", "Nordkapp", "Atoll"])
@pytest.mark.parametrize("least", [0.0, 15.0, 40.0])
def test_nothing_that_rises_is_lost(site: str, least: float) -> None:
    """Of those left out the nearest to the limit stay below it in culmination, by another
    ephemeris; of those kept none is far below it."""
    used = night(site, least_altitude_deg=least)
    (kept, considered), catalog = pair_candidates(used), load_pairs()
    names = set(kept.pair_id.tolist())
    inside = np.array([name in names for name in catalog.pair_id.tolist()])
    out = np.flatnonzero(~inside)
    assert considered == len(catalog)
    rough = 90.0 - np.abs(catalog.dec_deg - used.request.site.latitude_deg)
    # what comes up to the limit by declination alone is kept; slack for refraction, precession
    assert not (rough[out] >= least).any()
    assert rough[inside].min() >= least - 2.0
    there = astronomy.Observer(used.request.site.latitude_deg, used.request.site.longitude_deg, 0.0)
    time = astronomy.Time.Parse("2026-05-14T12:00:00.000Z")
    for row in out[np.argsort(-rough[out])][:6]:
        ra, dec = float(catalog.ra_deg[row]) / 15.0, float(catalog.dec_deg[row])
        astronomy.DefineStar(astronomy.Body.Star1, ra, dec, 1000.0)
        found = astronomy.SearchHourAngle(astronomy.Body.Star1, there, 0.0, time)
        assert found.hor.altitude < least


def test_everything_asked_for_is_everything() -> None:
    """Also what never rises or is hopeless; else both are left out."""
    objects = load_deepsky()
    bright = np.ones(len(objects), dtype=bool)
    assert len(possible_objects(night(include_all=True), objects, ~bright)) == len(objects)
    assert len(possible_objects(night(), objects, ~bright)) == 0
    some = possible_objects(night(), objects, bright)
    assert 0 < len(some) < len(objects)
    assert some.dec_deg.min() > 48.1 - 90.0 + 14.0  # 15 degrees high at 48 N
    assert len(pair_candidates(night(include_all=True))[0]) == len(load_pairs())


def test_bodies_are_found_in_the_constellation_where_they_stand() -> None:
    """Seven planets by another ephemeris, at the middle of the night."""
    used = night()
    middle = used.instants[len(used.instants) // 2]
    utc = middle.astimezone(UTC).utctimetuple()
    for name in PLANETS:
        body = getattr(ephem, name)()
        body.compute(ephem.Date(utc[:6]))
        where = ephem.constellation(body)[0]
        found = body_candidates(
            night(constellation=where, kinds=frozenset({Kind.PLANET, Kind.MOON}))
        )
        assert name in found.name
        elsewhere = "Oct" if where != "Oct" else "UMi"
        assert len(body_candidates(night(constellation=elsewhere))) == 0


def test_bodies_keep_to_kind_and_magnitude() -> None:
    """Uranus and Neptune are fainter than mag 5 (5.4 at best and 7.7); the rest are not, mostly."""
    assert body_candidates(night(kinds=frozenset({Kind.MOON}))).name.tolist() == ["Moon"]
    planets = body_candidates(night(kinds=frozenset({Kind.PLANET})))
    assert planets.name.tolist() == list(PLANETS)
    bright = body_candidates(night(kinds=frozenset({Kind.PLANET}), faintest=5.0)).name
    assert {"Venus", "Jupiter", "Saturn"} <= set(bright) <= set(PLANETS[:5])
    assert len(body_candidates(night(kinds=frozenset({Kind.GALAXY})))) == 0
