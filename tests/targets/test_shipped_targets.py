"""The shipped catalogs as the program reads them: complete, found by name, true to the sky."""

from __future__ import annotations

import numpy as np
import pytest

from planner.targets import catalog
from planner.targets.kind import DEEP_SKY_KINDS, Kind
from planner.targets.library import load_all_names
from planner.targets.names import Domain, complete, find
from planner.targets.pairs import NO_ORBIT, at_epoch, match_orbits
from planner.targets.stars import stars_near

# Orbits and Gaia DR3 are independent of one another. Scatter found over about 80 orbits of all
# grades: 0.03" in separation, 1.1 deg in position angle; half of them within 0.02" and 0.2 deg.
MEDIAN_ARCSEC, MEDIAN_DEG = 0.03, 0.5
WORST_SHARE = 0.10  # of the separation, for an orbit of grade 1 to 3
BRIGHTEST_MAG = 0.1  # Hipparcos Hp of the very brightest, from which their V comes
FAMOUS = (
    "Izar",
    "Mizar",
    "Albireo",
    "Castor",
    "Polaris",
    "Rigel",
    "Sirius",
    "Almach",
    "eps1 Lyr",
    "eps2 Lyr",
    "gam Vir",
    "61 Cyg",
    "16 Cyg",
    "del Cyg",
    "zet Her",
    "Algieba",
    "Antares",
    "alp Her",
    "eta Cas",
    "iot Cas",
    "bet Mon",
    "the1 Ori",
    "36 And",
    "STF 1877",
    "Struve 2382",
    "Σ 2383",
)


def test_files_are_those_of_the_manifest() -> None:
    catalog.verify()
    rows = {source.file: source.rows for source in catalog.manifest()}
    assert rows["pairs.csv.gz"] == len(catalog.load_pairs())
    assert rows["deepsky.csv.gz"] == len(catalog.load_deepsky())
    assert rows["stars.npz"] == len(catalog.load_stars())
    assert rows["designations.csv.gz"] == len(catalog.load_designations().hip)


def test_orbits_agree_with_gaia_dr3_measures() -> None:
    pairs, orbits = catalog.load_pairs(), catalog.load_orbits()
    row = match_orbits(pairs, orbits)
    seen = np.flatnonzero((row != NO_ORBIT) & (pairs.measure_source == "Gaia DR3"))
    assert len(seen) > 50
    then = at_epoch(pairs, orbits, 2016.0)
    off = np.abs(then.separation_arcsec - pairs.separation_arcsec)[seen]
    turn = then.position_angle_deg - pairs.position_angle_deg
    turn = np.abs((turn[seen] + 180.0) % 360.0 - 180.0)
    assert np.median(off) < MEDIAN_ARCSEC
    assert np.median(turn) < MEDIAN_DEG
    good = orbits.grade[row[seen]] <= 3
    assert np.all((off / pairs.separation_arcsec[seen])[good] < WORST_SHARE)


def test_every_orbit_belongs_to_a_pair() -> None:
    row = match_orbits(catalog.load_pairs(), catalog.load_orbits())
    used = row[row != NO_ORBIT]
    assert len(np.unique(used)) == len(used) == len(catalog.load_orbits())


@pytest.mark.parametrize("name", FAMOUS)
def test_famous_doubles_are_found(name: str) -> None:
    first = find(load_all_names(None), name)[0]
    assert first.domain is Domain.PAIR


def test_every_messier_and_caldwell_number_is_found() -> None:
    index = load_all_names(None)
    for name in [f"Messier {n}" for n in range(1, 111)] + [f"C {n}" for n in range(1, 110)]:
        expected = Domain.PAIR if name == "Messier 40" else Domain.DEEP_SKY  # M 40 is a double
        assert find(index, name)[0].domain is expected, name


def test_names_lead_to_the_row_of_their_table() -> None:
    index, pairs, objects = (
        load_all_names(None),
        catalog.load_pairs(),
        catalog.load_deepsky(),
    )
    assert pairs.hip[find(index, "Izar")[0].row] == 72105
    ring = find(index, "Ring Nebula")[0].row
    assert objects.kind[ring] is Kind.PLANETARY_NEBULA
    assert objects.ra_deg[ring] == pytest.approx(283.396, abs=0.01)  # 18h53m35s, from memory


def test_bright_stars_stand_where_they_are_known_to_stand() -> None:
    # Vega: 279.2347, +38.7837 (J2000), V 0.03; Sirius: 101.2872, -16.7161, V -1.46. Hipparcos
    # (ESA 1997) and Bright Star Catalogue, from memory
    stars = catalog.load_stars()
    for hip, ra, dec, v in ((91262, 279.2347, 38.7837, 0.03), (32349, 101.2872, -16.7161, -1.46)):
        found = stars_near(stars, ra, dec, 0.02, 5.0)
        assert found.hip.tolist() == [hip]
        assert found.v_mag[0] == pytest.approx(v, abs=BRIGHTEST_MAG)


def test_kinds_and_places_are_possible() -> None:
    objects, pairs = catalog.load_deepsky(), catalog.load_pairs()
    assert set(objects.kind) <= {*DEEP_SKY_KINDS, Kind.DOUBLE}  # M 40 is a double star
    for table in (objects, pairs):
        assert np.all((table.ra_deg >= 0.0) & (table.ra_deg < 360.0))
        assert np.all(np.abs(table.dec_deg) <= 90.0)
    assert np.all(pairs.separation_arcsec > 0.0)
    assert len(set(pairs.pair_id)) == len(pairs)


def test_complete_offers_names_that_begin_so() -> None:
    assert {"M 1", "M 13"} <= set(complete("m1"))
    assert complete("iza") == ["Izar"]
    assert complete("JUP")[0] == "Jupiter"
    assert "STF 1877" in complete("stf 187")
    assert complete("zzzzzz") == []
    assert len(complete("")) == 200
