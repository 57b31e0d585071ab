"""The shipped catalogs as the program reads them: complete, found by name, true to the sky."""

from __future__ import annotations

import numpy as np
import pytest

from planner.importers.library import load_all_names
from planner.targets import catalog
from planner.targets.kind import DEEP_SKY_KINDS, Kind
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


@pytest.mark.parametrize(
    ("name", "year", "separation", "angle"),
    [  # ephemerides of the Sixth Catalog of Orbits of Visual Binary Stars, state of about 2023
        ("61 Cyg", 2026.9, 32.18, 154.4),
        ("36 Oph", 2026.9, 5.17, 136.9),
        ("alp Cen", 2026.9, 9.74, 13.5),
        ("70 Oph", 2026.9, 6.72, 116.0),
        # Bright pairs in observing handbooks of about 2000 (from memory): 1.3" at 61 deg
        ("gam CrA", 2000.0, 1.3, 61.0),
    ],
)
def test_moving_pairs_stand_where_ephemerides_put_them(
    name: str, year: float, separation: float, angle: float
) -> None:
    pairs = catalog.load_pairs()
    row = pairs.name.tolist().index(name)
    then = at_epoch(pairs, catalog.load_orbits(), year)
    assert then.separation_arcsec[row] == pytest.approx(separation, abs=0.05)
    assert then.position_angle_deg[row] == pytest.approx(angle, abs=3.0)


def test_gamma_coronae_australis_has_left_its_angle_of_2016() -> None:
    # Kepler's equation by hand (Meeus 1998, ch. 57) for the elements of Heintz 1986: M 77.6,
    # E 95.8, v 114.1 deg, r 1.957"; so 1.70" at 305 deg, 40 deg beyond Gaia's measure of 2016
    pairs = catalog.load_pairs()
    row = pairs.name.tolist().index("gam CrA")
    assert pairs.position_angle_deg[row] == pytest.approx(345.0, abs=0.1)
    now = at_epoch(pairs, catalog.load_orbits(), 2026.9)
    assert now.separation_arcsec[row] == pytest.approx(1.70, abs=0.01)
    assert now.position_angle_deg[row] == pytest.approx(305.0, abs=0.5)


def test_pairs_with_a_trusted_motion_are_carried_to_the_date() -> None:
    pairs, orbits = catalog.load_pairs(), catalog.load_orbits()
    now = at_epoch(pairs, orbits, 2026.9)
    moved = now.measure_epoch_yr == 2026.9
    known = ~np.isnan(pairs.motion_ra_mas_yr)
    assert np.sum(known) > 400
    assert np.all(moved[known & ~np.isnan(pairs.position_angle_deg)])
    still = ~moved
    assert np.array_equal(now.separation_arcsec[still], pairs.separation_arcsec[still])
    way = np.hypot(pairs.motion_ra_mas_yr, pairs.motion_dec_mas_yr)[known & moved] * 0.0109
    assert np.all(way < 3.0)  # nobody knows a pair of bright stars so fast; a slip would be


@pytest.mark.parametrize(
    ("name", "hip"), [("STT 338", 87427), ("STF 761", 0), ("lambda cas", 2505), ("HN 39", 80399)]
)
def test_bright_pairs_named_as_missing_are_found(name: str, hip: int) -> None:
    found = find(load_all_names(None), name)
    pairs = catalog.load_pairs()
    assert {match.domain for match in found} == {Domain.PAIR}
    assert pairs.hip[found[0].row] == hip


def test_the_identifier_for_a_log_leads_to_one_pair_only() -> None:
    index, pairs = load_all_names(None), catalog.load_pairs()
    names = [
        f"{text} {parts}" for text, parts in zip(pairs.place_id, pairs.components, strict=True)
    ]
    assert len(set(names)) == len(names)
    for row in range(0, len(names), 40):
        assert [match.row for match in find(index, names[row])] == [row], names[row]


@pytest.mark.parametrize("identifier", ["hip62886-AC", "hip107354-AB", "j0538348-023416-AB"])
def test_an_identifier_whose_letters_have_changed_is_found(identifier: str) -> None:
    pairs = catalog.load_pairs()
    rows = [match.row for match in find(load_all_names(None), identifier)]
    assert pairs.pair_id[rows[0]].split("-A")[0].startswith(identifier[:8])


def test_every_orbit_belongs_to_a_pair() -> None:
    row = match_orbits(catalog.load_pairs(), catalog.load_orbits())
    used = row[row != NO_ORBIT]
    assert len(np.unique(used)) == len(used) == len(catalog.load_orbits())


@pytest.mark.parametrize("name", FAMOUS)
def test_famous_doubles_are_found(name: str) -> None:
    first = find(load_all_names(None), name)[0]
    assert first.domain is Domain.PAIR


@pytest.mark.parametrize(
    ("name", "hip", "discoverer"),
    [  # common practice, no source: h with a small letter is John Herschel's catalogue
        ("h3945", 35210, "HJ 3945"),
        ("h 3945", 35210, "HJ 3945"),
        ("STF 2398", 91768, "STF 2398"),
        ("STT 525", 92833, "STT 525"),
        ("OΣ 525", 92833, "STT 525"),
        ("STF 1604", 59272, "STF 1604"),
        ("S 715", 94823, "S 715"),
    ],
)
def test_discoverers_numbers_are_found(name: str, hip: int, discoverer: str) -> None:
    pairs = catalog.load_pairs()
    row = find(load_all_names(None), name)[0].row
    assert (pairs.hip[row], pairs.discoverer[row]) == (hip, discoverer)


@pytest.mark.parametrize(
    ("name", "label"),
    [  # Bright Star Catalogue and Aitken's catalogue of double stars, from memory
        ("HR 7417", "bet1 Cyg"),
        ("ADS 12540", "bet1 Cyg"),
        ("HR 7051", "eps1 Lyr"),
        ("HR 8316", "mu Cep"),
        ("HR 7001", "alp Lyr"),
    ],
)
def test_numbers_of_bright_stars_are_found(name: str, label: str) -> None:
    labels = [match.label for match in find(load_all_names(None), name)]
    assert any(found.startswith(label) for found in labels), labels


@pytest.mark.parametrize(
    ("name", "label"),
    [  # proper names of the International Astronomical Union (from memory)
        ("Markab", "alp Peg (Markab)"),
        ("Tarazed", "gam Aql (Tarazed)"),
        ("Menkar", "alp Cet (Menkar)"),
    ],
)
def test_proper_names_belong_to_one_star(name: str, label: str) -> None:
    assert [match.label for match in find(load_all_names(None), name)] == [label]


def test_mu_bootis_is_one_system_of_a_wide_and_a_close_pair() -> None:
    pairs = catalog.load_pairs()
    rows = [match.row for match in find(load_all_names(None), "mu Boo")]
    assert pairs.discoverer[rows].tolist() == ["STFA 28", "STF 1938"]
    assert len(set(pairs.system_id[rows])) == 1


@pytest.mark.parametrize(
    ("name", "identifier"),
    [
        ("SMC", "NGC 292"),
        ("LMC", "ESO 56-115"),
        ("Tarantula", "NGC 2070"),
        ("Jewel Box", "NGC 4755"),
        ("Eta Carinae Nebula", "NGC 3372"),
        ("Veil", "NGC 6960"),
        ("Double Cluster", "Caldwell 14"),
        ("NGC 884", "Caldwell 14"),
        ("Running Man", "NGC 1977"),
        ("Coathanger", "Collinder 399"),
        ("Alpha Persei Cluster", "Melotte 20"),
        ("Pal 11", "Palomar 11"),
    ],
)
def test_showpieces_are_found_by_what_people_call_them(name: str, identifier: str) -> None:
    first = find(load_all_names(None), name)[0]
    assert first.domain is Domain.DEEP_SKY
    assert catalog.load_deepsky().id[first.row] == identifier


def test_pairs_without_a_name_are_called_by_constellation_and_place() -> None:
    index, pairs = load_all_names(None), catalog.load_pairs()
    nameless = np.flatnonzero((pairs.name == "") & (pairs.discoverer == ""))
    labels = index.labels[Domain.PAIR]
    assert len(nameless) > 3000
    assert all(labels[row].startswith(f"{pairs.constellation[row]} ") for row in nameless)
    for row in nameless[::500].tolist():
        assert row in [match.row for match in find(index, labels[row].rsplit(" ", 1)[0])]
    assert not [label for label in labels if label.startswith(("HIP", "J0", "J1", "J2"))]


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


# What observers type, and what must come first: common practice, no source.
SPOKEN = {
    "helix": ["NGC 7293 (Helix Nebula)", "NGC 2685 (Helix Galaxy)"],
    "leo triplet": ["M 66 (Leo Triplet)", "M 65 (Leo Triplet)", "NGC 3628 (Hamburger Galaxy)"],
    "east veil": ["NGC 6992 (Eastern Veil Nebula)"],
    "eastern veil": ["NGC 6992 (Eastern Veil Nebula)"],
    "cat's eye": ["NGC 6543 (Cat's Eye Nebula)"],
    "little gem": ["NGC 6818 (Little Gem)"],
    "seven sisters": ["M 45 (Pleiades)"],
    "ngc 1269": ["NGC 1291"],
    "ruprecht 147": ["NGC 6774"],
}


@pytest.mark.parametrize("text", SPOKEN)
def test_common_names_find_what_observers_mean(text: str) -> None:
    assert [match.label for match in find(load_all_names(None), text)] == SPOKEN[text]


def test_a_chain_of_galaxies_is_found_with_all_its_members() -> None:
    found = {match.label for match in find(load_all_names(None), "markarian's chain")}
    assert {"M 84 (Markarian's Chain)", "M 86 (Markarian's Chain)", "NGC 4435 (The Eyes)"} < found


@pytest.mark.parametrize("text", ["double double", "eps lyr", "epsilon Lyrae"])
def test_the_double_double_is_found_whole(text: str) -> None:
    labels = {match.label for match in find(load_all_names(None), text)}
    assert labels == {f"{pair} (Double Double)" for pair in DOUBLE_DOUBLE}


DOUBLE_DOUBLE = ("eps Lyr AB,CD", "eps1 Lyr AB", "eps2 Lyr CD")
# Names of old lists or of one author only: own judgement.
UNCOMMON = (
    "Zubanah", "Al Salib", "Spiral Cluster", "Pinwheel Cluster", "King Cobra Cluster",
    "Termite Hole Cluster", "Pearce's Star", "Sculptor Filament", "Flying Unicorn Cluster",
)  # fmt: skip


def test_uncommon_names_are_not_shipped() -> None:
    shipped = {name for text in catalog.load_deepsky().common_name for name in text.split("|")}
    shipped |= set(catalog.load_designations().proper_name) | set(catalog.load_pairs().proper_name)
    assert shipped.isdisjoint(UNCOMMON)
    assert catalog.load_deepsky().common_name[_row("NGC 7331")] == ""
    assert "Cocoon Galaxy" not in catalog.load_deepsky().common_name[_row("NGC 4990")]


def _row(name: str) -> int:
    return int(np.flatnonzero(catalog.load_deepsky().id == name)[0])
