"""Orbits find their pairs by place where no identifier says whose they are.

The orbits are those of the Sixth Catalog of Orbits of Visual Binary Stars (USNO), as typed into
the shipped table; the pairs mostly Gaia's measures.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.importers.orbit_match import fitted, named_by_orbits
from planner.targets.catalog import load_orbits, load_pairs
from planner.targets.columns import frozen, objects, rows_of
from planner.targets.orbit import Orbits
from planner.targets.pairs import NO_ORBIT, Pairs, match_orbits, places_at

FOUND = 0.95  # share of the orbits; a few rough ones miss the measure by too much


@pytest.fixture(scope="module")
def known() -> tuple[Pairs, Orbits, np.ndarray, np.ndarray]:
    """All pairs, all orbits, whose each is, and the places (J2000) of their pairs."""
    pairs, orbits = load_pairs(), load_orbits()
    by_name = match_orbits(pairs, orbits)
    whose = np.full(len(orbits), -1)
    whose[by_name[by_name != NO_ORBIT]] = np.flatnonzero(by_name != NO_ORBIT)
    own = np.flatnonzero(whose >= 0)
    return (
        pairs,
        rows_of(orbits, own),
        whose[own],
        np.stack(places_at(pairs, 2000.0))[:, whose[own]],
    )


def nameless(pairs: Pairs) -> Pairs:
    blank = objects(("",) * len(pairs))
    return replace(pairs, wds=blank, discoverer=blank, hip=frozen(np.zeros_like(pairs.hip)))


def test_orbits_find_their_pairs_by_place(
    known: tuple[Pairs, Orbits, np.ndarray, np.ndarray],
) -> None:
    pairs, orbits, whose, (ra, dec) = known
    found = fitted(nameless(pairs), orbits, ra, dec)
    placed = found.gains_from != ""
    assert placed.mean() > FOUND
    assert (found.gains_from[placed] == pairs.pair_id[whose[placed]]).all()
    np.testing.assert_array_equal(found.unused, ~placed)
    named = named_by_orbits(nameless(pairs), whose[placed], rows_of(found.orbits, placed))
    assert (match_orbits(named, found.orbits)[whose[placed]] == np.flatnonzero(placed)).all()


def test_orbits_elsewhere_find_none(known: tuple[Pairs, Orbits, np.ndarray, np.ndarray]) -> None:
    pairs, orbits, _, (ra, dec) = known
    found = fitted(nameless(pairs), orbits, (ra + 1.0) % 360.0, dec)
    assert found.unused.all() and not (found.gains_from != "").any()


def test_an_orbit_that_misses_the_measure_finds_none(
    known: tuple[Pairs, Orbits, np.ndarray, np.ndarray],
) -> None:
    """Twice as large orbits of pairs over 1": off by the whole separation."""
    pairs, orbits, whose, (ra, dec) = known
    wide = np.flatnonzero(pairs.separation_arcsec[whose] > 1.0)
    larger = rows_of(orbits, wide)
    larger = replace(larger, semi_major_arcsec=2.0 * larger.semi_major_arcsec)
    assert fitted(nameless(pairs), larger, ra[wide], dec[wide]).unused.all()


def test_an_orbit_takes_the_identifier_that_its_pair_has(
    known: tuple[Pairs, Orbits, np.ndarray, np.ndarray],
) -> None:
    """Identifiers come from places and may differ by a unit of the last digit."""
    pairs, orbits, whose, (ra, dec) = known
    one = int(np.flatnonzero(orbits.discoverer == "STF 1670")[0])
    other = replace(rows_of(orbits, [one]), wds=objects(("12416-0126",)))
    unnumbered = replace(pairs, hip=frozen(np.zeros_like(pairs.hip)))
    found = fitted(unnumbered, other, ra[[one]], dec[[one]])
    assert not found.unused[0] and found.gains_from[0] == ""
    assert found.orbits.wds[0] == pairs.wds[whose[one]] == "12417-0127"


def test_a_pair_keeps_the_names_it_has() -> None:
    pairs, orbits = load_pairs(), load_orbits()
    same = named_by_orbits(pairs, np.flatnonzero(pairs.discoverer != "")[:1], rows_of(orbits, [0]))
    assert (same.discoverer == pairs.discoverer).all() and (
        same.components == pairs.components
    ).all()
