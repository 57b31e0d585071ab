"""Which imported pairs are known already, and what known pairs gain.

The lines are entries of the Washington Double Star Catalog (from memory), some with no more than
the place in their identifier; the known pairs are those that ship.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
import pytest
from wds_maker import summary_line

from planner.angles import unit_vectors
from planner.importers.incoming import as_pairs
from planner.importers.merging import UNKNOWN, enriched, known_rows, turned_round
from planner.importers.near import near_places
from planner.importers.table_import import read_table
from planner.importers.wds_layout import read_summary
from planner.targets.catalog import load_pairs
from planner.targets.columns import frozen, objects, rows_of
from planner.targets.measure import Measures, drift
from planner.targets.pairs import Pairs

# identifier, discoverer, components, year, angle, separation, magnitudes
ENTRIES = (
    ("14450+2704", "STF1877", "AB", 2021, 345, 2.8, 2.58, 4.81),
    ("19087+3446", "STF2470", "", 2019, 267, 13.6, 7.0, 8.4),
    ("19091+3436", "STF2474", "AB", 2019, 263, 15.7, 6.8, 7.9),
    ("21520+5548", "STF2840", "AB", 2018, 196, 17.9, 5.6, 6.4),
    ("22189+3746", "STF2894", "", 2018, 194, 15.9, 6.2, 8.9),
    ("19046+2320", "STF2445", "AB", 2018, 263, 12.3, 7.2, 8.6),
    ("14407+1625", "STF1864", "AB", 2019, 112, 5.5, 4.9, 5.8),
    ("08056+2732", "STF1177", "AB", 2015, 350, 3.5, 6.7, 7.4),
    ("03313+2734", "STF 401", "", 2018, 269, 11.4, 6.6, 6.9),
    ("18359+1659", "STT 358", "AB", 2017, 147, 1.5, 6.9, 7.1),
)
# J2000 places as lists give them (SIMBAD, from memory), to a second of time or a tenth of a minute
ROWS = {
    "21 06 53.9,+38 44 58,31.9,153,5.20,6.05,,61 Cyg": "hip104214-AB",
    "18 05 27.3,+02 30 00,6.6,120,4.22,6.17,,70 Oph": "hip88601-AB",
    "12 41 39.6,-01 26 58,3.2,355,3.48,3.53,,Porrima": "hip61941-AB",
    "00 49 06.3,+57 48 55,13.4,326,3.52,7.36,,eta Cas": "hip3821-AB",
    "14h45.0m,+27 04,2.8,345,2.58,4.81,STF 1877,": "hip72105-AB",
    "07:34:36,+31:53:19,5.4,52,1.93,2.97,STF 1110,": "hip36850-AB",
    "07:34:36,+31:53:18,5.5,52,1.93,2.97,,": "hip36850-AB",
}
SEPARATION_AGREES = 0.15  # shares; between an entry and the Gaia measure it is matched with


@pytest.fixture(scope="module")
def known() -> Pairs:
    return load_pairs()


def incoming(entries: tuple[tuple[object, ...], ...], **more: object) -> tuple[Pairs, np.ndarray]:
    """Entries as pairs, and how far their places may be off."""
    lines = []
    for wds, code, parts, year, angle, separation, v1, v2 in entries:
        lines.append(
            summary_line(
                {
                    "wds": wds, "discoverer": code, "components": parts, "last_year": year,
                    "last_angle": angle, "last_separation": separation, "v1": v1, "v2": v2,
                }
                | more
            )
        )  # fmt: skip
    rows = read_summary(("\n".join(lines) + "\n").encode()).rows
    return as_pairs(rows, "a file", "WDS", objects(("",) * len(rows))), rows.place_error_arcsec


def typed(lines: Iterable[str]) -> tuple[Pairs, np.ndarray, np.ndarray]:
    """Rows of a table as pairs, how far their places may be off, and which have a stated epoch."""
    text = "ra,dec,separation,position_angle,v1,v2,discoverer,name\n" + "\n".join(lines)
    rows = read_table(text.encode(), ".csv", None).rows
    pairs = as_pairs(rows, "a file", "a file", objects(("",) * len(rows)))
    return pairs, rows.place_error_arcsec, ~np.isnan(rows.position_epoch_yr)


def nameless(pairs: Pairs) -> Pairs:
    """The pairs without designations, so that only their places tell."""
    blank = objects(("",) * len(pairs))
    return replace(pairs, discoverer=blank, wds=blank)


def test_entries_meet_the_pairs_that_ship(known: Pairs) -> None:
    pairs, error = incoming(ENTRIES)
    by_name = known_rows(known, pairs, error).row
    by_place = known_rows(nameless(known), pairs, error).row
    assert (by_name != UNKNOWN).all()
    assert by_place.tolist() == by_name.tolist()
    found = rows_of(known, by_place)
    ratio = found.separation_arcsec / pairs.separation_arcsec
    assert np.abs(ratio - 1.0).max() < SEPARATION_AGREES


def test_the_letters_of_a_nameless_pair_do_not_matter(known: Pairs) -> None:
    pairs, error = incoming(ENTRIES[1:2])
    other = replace(pairs, components=objects(("CD",)))
    assert known_rows(nameless(known), other, error).row[0] != UNKNOWN


@pytest.mark.parametrize(
    "changes",
    [
        {"last_separation": 25.0},
        {"last_angle": 90},
        {"v1": 9.5, "v2": 9.9},
        {"wds": "19087+3646"},
        {"discoverer": "ES 2000", "components": "AC"},
    ],
)
def test_another_pair_near_by_is_not_the_known_one(
    known: Pairs, changes: dict[str, object]
) -> None:
    pairs, error = incoming(ENTRIES[1:2], **changes)
    assert known_rows(known, pairs, error).row.tolist() == [UNKNOWN]


def test_an_equal_pair_is_found_with_a_and_b_swapped(known: Pairs) -> None:
    """STF 401 seen from the other star: position angle and place of the companion."""
    pairs, error = incoming(ENTRIES[8:9])
    row = known_rows(known, pairs, error).row[0]
    star = rows_of(known, [row])
    east = star.separation_arcsec * np.sin(np.radians(star.position_angle_deg))
    north = star.separation_arcsec * np.cos(np.radians(star.position_angle_deg))
    other = replace(
        pairs,
        ra_deg=star.ra_deg + east / 3600.0 / np.cos(np.radians(star.dec_deg)),
        dec_deg=star.dec_deg + north / 3600.0,
        position_epoch_yr=star.position_epoch_yr,
        pm_ra_mas_yr=star.pm_ra_mas_yr,
        pm_dec_mas_yr=star.pm_dec_mas_yr,
        position_angle_deg=(pairs.position_angle_deg + 180.0) % 360.0,
    )
    found = known_rows(nameless(known), other, np.array([5.0]))
    assert (found.row[0], found.swapped[0]) == (row, True)
    turned = turned_round(other, found.swapped)
    assert turned.position_angle_deg == pytest.approx(pairs.position_angle_deg)


@pytest.mark.parametrize("line", ROWS)
def test_bright_pairs_of_a_typed_list_are_known(known: Pairs, line: str) -> None:
    found = known_rows(known, *typed([line]))
    assert known.pair_id[found.row[0]] == ROWS[line]
    assert not found.swapped[0]


def test_a_pair_typed_twice_is_told(known: Pairs) -> None:
    found = known_rows(known, *typed(ROWS))
    assert (found.row == UNKNOWN).sum() == found.repeated.sum() == 1
    assert not found.repeated[found.row != UNKNOWN].any()
    pairs, error, dated = typed([*ROWS][-2:])
    other = replace(pairs, components=objects(("AB", "AC")))
    assert not known_rows(known, other, error, dated).repeated.any()


@pytest.mark.parametrize(
    "change", [("2.8,345", "9.8,345"), ("2.58,4.81", "7.58,9.81"), ("14h45.0m", "14h59.0m")]
)
def test_the_discoverers_number_does_not_join_pairs_that_differ(
    known: Pairs, change: tuple[str, str]
) -> None:
    line = [*ROWS][4].replace(*change)
    assert known_rows(known, *typed([line])).row.tolist() == [UNKNOWN]


def test_the_discoverers_number_and_a_coarse_place_are_enough(known: Pairs) -> None:
    """A place to a minute of time and a whole degree."""
    line = "14 45,+27,2.8,345,2.58,4.81,STF 1877,"
    assert known.pair_id[known_rows(known, *typed([line])).row[0]] == "hip72105-AB"
    assert known_rows(known, *typed([line.replace("STF 1877", "")])).row[0] == UNKNOWN


def test_far_pairs_are_not_joined(known: Pairs) -> None:
    """The known pairs at places of chance, 0.2 degrees or more from every known one."""
    rng = np.random.default_rng(7)
    count = len(known)
    ra, dec = rng.uniform(0.0, 360.0, count), np.degrees(np.arcsin(rng.uniform(-1.0, 1.0, count)))
    places = unit_vectors(ra, dec), unit_vectors(known.ra_deg, known.dec_deg)
    far = np.setdiff1d(np.arange(count), near_places(*places, np.radians(0.2))[0])
    assert len(far) > count / 2
    moved = replace(nameless(known), ra_deg=frozen(ra), dec_deg=frozen(dec))
    found = known_rows(
        known, rows_of(moved, far), np.full(len(far), 3600.0), np.full(len(far), False)
    )
    assert (found.row == UNKNOWN).all() and not found.repeated.any()


def test_a_known_pair_is_found_once(known: Pairs) -> None:
    twice = (ENTRIES[7], ("08056+2732", "STF1177", "AC", 2015, 350, 3.5, 6.7, 7.4))
    pairs, error = incoming(twice)
    row = known_rows(known, pairs, error).row
    assert (row != UNKNOWN).tolist() == [True, False]


def test_enriched_keeps_a_gaia_measure_and_adds_the_designation(known: Pairs) -> None:
    pairs, error = incoming(ENTRIES[7:8], last_year=2022)
    before = rows_of(nameless(known), known_rows(known, pairs, error).row)
    after, newer = enriched(before, pairs)
    assert (before.discoverer[0], before.measure_source[0]) == ("", "Gaia DR3")
    assert (after.discoverer[0], after.wds[0], after.components[0]) == (
        "STF 1177",
        "08056+2732",
        "AB",
    )
    assert after.separation_arcsec[0] == before.separation_arcsec[0]
    assert after.measure_source[0] == "Gaia DR3"
    assert not newer[0]
    assert (after.pair_id[0], after.name[0]) == (before.pair_id[0], before.name[0])


@pytest.mark.parametrize(
    ("source", "known_year", "year", "takes"),
    [
        ("Bright Star Catalogue 5", 1980.0, 2021, True),
        ("Bright Star Catalogue 5", np.nan, 2021, True),
        ("Bright Star Catalogue 5", 2021.0, 2021, False),
        ("Bright Star Catalogue 5", 2022.0, 2021, False),
        ("Hipparcos and Gaia DR3", 2016.0, 2021, False),
        ("Sixth Orbit Catalog", 2016.0, 2021, False),
        ("WDS", 2015.0, 2021, True),
    ],
)
def test_enriched_takes_a_newer_measure_only_for_a_worse_one(
    known: Pairs, source: str, known_year: float, year: int, takes: bool
) -> None:
    pairs, error = incoming(ENTRIES[1:2], last_year=year)
    before = rows_of(known, known_rows(known, pairs, error).row)
    before = replace(
        before,
        measure_source=objects((source,)),
        measure_epoch_yr=frozen(np.array([known_year])),
    )
    after, newer = enriched(before, pairs)
    assert newer[0] == takes
    better = pairs if takes else before
    assert after.separation_arcsec[0] == better.separation_arcsec[0]
    assert after.measure_source[0] == better.measure_source[0]
    assert after.position_angle_deg[0] == better.position_angle_deg[0]


# Gamma CrA at 345 degrees in 2016, from Gaia DR3: two nearly equal stars that go round in about
# 122 years; what a measure by eye of each year could be.
@pytest.mark.parametrize(
    ("year", "angle", "separation", "takes"),
    [
        (2024, 318, 1.6, True),
        (2024, 138, 1.6, True),  # the same, from the other star
        (2024, 346, 1.4, False),  # had it not moved the satellite's would stand
        (2000, 61, 1.3, False),
        (1990, 318, 1.6, False),
    ],
    ids=["newer", "newer, A and B swapped", "unmoved", "older", "older by far"],
)
def test_a_newer_measure_wins_over_an_older_one_of_a_moving_pair(
    known: Pairs, year: int, angle: int, separation: float, takes: bool
) -> None:
    pairs, error = incoming((("19064-3704", "HJ 5084", "", year, angle, separation, 4.5, 4.6),))
    found = known_rows(known, pairs, error)
    before = rows_of(known, found.row)
    assert (before.hip[0], before.measure_source[0]) == (93825, "Gaia DR3")
    after, newer = enriched(before, turned_round(pairs, found.swapped))
    assert newer[0] == takes
    assert after.position_angle_deg[0] == (318.0 if takes else before.position_angle_deg[0])
    assert after.measure_epoch_yr[0] == (year if takes else 2016.0)


def test_motion_that_is_known_is_no_reason_to_take_a_rougher_measure(known: Pairs) -> None:
    """A companion that moves by 2.1" in 8 years, as the newer measure finds it; or stands still."""
    pairs, error = incoming(ENTRIES[1:2], last_year=2024)
    met = rows_of(known, known_rows(known, pairs, error).row)
    old = Measures(pairs.separation_arcsec, np.array([258.0]), np.array([2016.0]), np.zeros(1))
    new = replace(old, position_angle_deg=pairs.position_angle_deg, epoch_yr=pairs.epoch_yr)
    years = 8.0 / 80.0  # a drift asks for 10 years: taken over 80, and ten times as fast
    way = drift(old, replace(new, epoch_yr=old.epoch_yr + 80.0))
    before = replace(
        met,
        separation_arcsec=old.separation_arcsec,
        position_angle_deg=frozen(old.position_angle_deg),
        measure_epoch_yr=frozen(old.epoch_yr),
        measure_source=objects(("Gaia DR3",)),
    )
    takes = []
    for factor in (1.0 / years, 0.0):
        moving = replace(
            before,
            motion_ra_mas_yr=frozen(way.east_mas_yr * factor),
            motion_dec_mas_yr=frozen(way.north_mas_yr * factor),
        )
        takes.append(bool(enriched(moving, pairs)[1][0]))
    assert takes == [False, True]


def test_enriched_fills_a_missing_angle_bond_and_motion(known: Pairs) -> None:
    pairs, error = incoming(ENTRIES[1:2], notes="U", pm_ra="-012", pm_dec="+003")
    before = rows_of(known, known_rows(known, pairs, error).row)
    nothing = frozen(np.array([np.nan]))
    before = replace(
        before, position_angle_deg=nothing, physical=objects(("",)), pm_ra_mas_yr=nothing
    )
    after, _ = enriched(before, pairs)
    assert after.position_angle_deg[0] == 267.0
    assert after.physical[0] == "no"
    assert (after.pm_ra_mas_yr[0], after.pm_dec_mas_yr[0]) == (-12.0, 3.0)
