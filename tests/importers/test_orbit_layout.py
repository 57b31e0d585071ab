"""The element layout of the Sixth Catalog of Orbits: columns, units, gaps.

Column numbers: format description of the US Naval Observatory, published beside the catalog
(from memory).
"""

from __future__ import annotations

import numpy as np
import pytest

from planner.importers.orbit_layout import (
    OrbitReading,
    is_element_line,
    label_and_components,
    read_elements,
)
from planner.targets.catalog import load_orbits
from planner.targets.columns import rows_of
from planner.targets.orbit import apparent_places

# zeta Herculis, elements of Soderhjelm 1999 as the catalog lists them (from memory)
#         1         2         3         4         5         6         7         8         9
# 1234567890123456789012345678901234567890123456789012345678901234567890123456789012345678901234
ZETA_HER = (
    "164117.16+313609.8 16413+3136 STF2084        10157 150680  81693   2.95   5.40         34.45y"
    "        0.06     1.33a      0.02     131.       2.      50.        2.      1967.7y         0.2"
    "     0.46     0.02     111.       2. 2000 1996 1  Sod1999"
)
# between the orbits of Soderhjelm 1999 and Izmailov 2019, both of grade 1, in 2000-2025
ORBITS_DIFFER_ARCSEC, ORBITS_DIFFER_DEG = 0.1, 6.0


def read(*lines: str) -> OrbitReading:
    return read_elements(("\n".join(lines) + "\n").encode(), "orb6.txt")


def changed(*changes: tuple[int, str], line: str = ZETA_HER) -> str:
    """The line with other characters from a column on, counted from 1."""
    for first, text in changes:
        line = line.ljust(first + len(text))
        line = line[: first - 1] + text + line[first - 1 + len(text) :]
    return line


def test_a_published_line_is_read_by_its_columns() -> None:
    orbits = read("Header of the file", "", ZETA_HER).orbits
    assert (orbits.wds[0], orbits.discoverer[0], orbits.components[0]) == (
        "16413+3136", "STF 2084", "AB",
    )  # fmt: skip
    assert (orbits.hip[0], orbits.v1[0], orbits.v2[0]) == (81693, 2.95, 5.40)
    assert (orbits.period_yr[0], orbits.semi_major_arcsec[0]) == (34.45, 1.33)
    assert (orbits.inclination_deg[0], orbits.node_deg[0]) == (131.0, 50.0)
    assert (orbits.periastron_yr[0], orbits.eccentricity[0]) == (1967.7, 0.46)
    assert (orbits.periastron_longitude_deg[0], orbits.node_equinox_yr[0]) == (111.0, 2000.0)
    assert (orbits.grade[0], orbits.measured_last_yr[0]) == (1, 1996.0)
    assert orbits.reference[0] == "Sod1999"


def test_the_place_is_the_precise_one_or_the_identifiers() -> None:
    # zeta Herculis, J2000 (Hipparcos, from memory): 250.3215 +31.6027
    reading = read("", ZETA_HER, changed((1, " " * 18), (20, "00022+2705")))
    assert reading.line.tolist() == [2, 3]
    assert reading.ra_deg == pytest.approx([250.3215, 0.55], abs=2e-4)
    assert reading.dec_deg == pytest.approx([31.6027, 27.0833], abs=2e-4)


def test_an_imported_orbit_goes_where_a_newer_published_one_goes() -> None:
    shipped = load_orbits()
    newer = rows_of(shipped, shipped.wds == "16413+3136")
    assert newer.reference.tolist() == ["Izm2019"]
    years = np.linspace(2000.0, 2025.0, 26)[None, :]
    own_arcsec, own_deg = apparent_places(read(ZETA_HER).orbits, years)
    arcsec, deg = apparent_places(newer, years)
    assert np.abs(own_arcsec - arcsec).max() < ORBITS_DIFFER_ARCSEC
    assert np.abs((own_deg - deg + 180.0) % 360.0 - 180.0).max() < ORBITS_DIFFER_DEG


@pytest.mark.parametrize(
    ("text", "unit", "years"),
    [("34.45", "y", 34.45), ("2.5", "c", 250.0), ("3652.5", "d", 10.0), ("8766.", "h", 1.0),
     ("525960.", "m", 1.0)],
)  # fmt: skip
def test_periods_become_years(text: str, unit: str, years: float) -> None:
    # a Julian year has 365.25 days, 8766 hours, 525960 minutes: definition
    orbits = read(changed((82, text.rjust(11)), (93, unit))).orbits
    assert orbits.period_yr[0] == pytest.approx(years, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "unit", "arcsec"), [("1.33", "a", 1.33), ("1330.", "m", 1.33), ("1.5", "M", 90.0)]
)
def test_axes_become_arcseconds(text: str, unit: str, arcsec: float) -> None:
    orbits = read(changed((106, text.rjust(9)), (115, unit))).orbits
    assert orbits.semi_major_arcsec[0] == pytest.approx(arcsec, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "unit"), [("2000.0", "y"), ("51545.0", "d"), ("51544.5", "m"), ("20.0", "c")]
)
def test_periastron_times_become_years(text: str, unit: str) -> None:
    # J2000.0 is JD 2,451,545.0: definition
    orbits = read(changed((163, text.rjust(12)), (175, unit))).orbits
    assert orbits.periastron_yr[0] == pytest.approx(2000.0, abs=1e-9)


@pytest.mark.parametrize(
    ("field", "expected"),
    [
        ("STF2084       ", ("STF 2084", "AB")),
        ("STF1110AB     ", ("STF 1110", "AB")),
        ("BU  733AB", ("BU 733", "AB")),
        ("A    14AB,C", ("A 14", "AB,C")),
        ("STT 547 AB", ("STT 547", "AB")),
        ("STF  60Aa,Ab", ("STF 60", "Aa,Ab")),
        ("H 5  12AC", ("H 5 12", "AC")),
        ("CHR 183Ba,Bb", ("CHR 183", "Ba,Bb")),
        ("NoNumbrAB", ("NoNumbr", "AB")),
    ],
)
def test_discoverer_and_components_are_parted_by_rule_or_column(
    field: str, expected: tuple[str, str]
) -> None:
    assert label_and_components(field) == expected


def test_a_missing_equinox_is_taken_as_2000_and_said() -> None:
    reading = read(changed((224, "     ")))
    assert reading.orbits.node_equinox_yr[0] == 2000.0
    assert reading.remarks == ("1 orbits give no equinox of the node; 2000 was taken",)
    assert read(changed((224, " 1900"))).orbits.node_equinox_yr[0] == 1900.0
    assert read(ZETA_HER).remarks == ()


@pytest.mark.parametrize(
    ("first", "text", "reason"),
    [
        (82, " " * 11, "no period"),
        (93, "?", "no period, or its unit is unknown"),
        (106, " " * 9, "no semi-major axis"),
        (115, "x", "no semi-major axis, or its unit is unknown"),
        (163, " " * 12, "no periastron time"),
        (126, " " * 9, "no inclination, node"),
        (144, "        .", "no inclination, node"),
        (188, "     1.02", "no eccentricity"),
        (188, " " * 9, "no eccentricity"),
        (188, "     0,46", "something else than a number"),
        (234, " 9", "grade 9: the orbit of the centre of light"),
        (20, "no name   ", "no identifier in columns 20-29"),
    ],
)
def test_unusable_elements_are_refused_with_their_line(first: int, text: str, reason: str) -> None:
    reading = read(changed((20, "00022+2705")), changed((first, text)))
    assert len(reading.orbits) == 1
    (refused,) = reading.refusals
    assert reason in refused.reason
    assert refused.first_lines == (2,)


def test_a_cut_line_is_refused() -> None:
    reading = read(changed((20, "00022+2705")), ZETA_HER[:150])
    assert "cut short" in reading.refusals[0].reason


def test_the_better_of_several_orbits_of_a_pair_stays() -> None:
    graded = [changed((234, f" {grade}"), (238, f"Ref{grade}000")) for grade in (3, 2, 5)]
    later = changed((234, " 2"), (229, " 2015"), (238, "Ref2015 "))
    reading = read(*graded, later)
    assert reading.orbits.reference.tolist() == ["Ref2015"]
    assert reading.refusals[0].reason == "a better or later orbit of the pair is given"
    assert reading.refusals[0].first_lines == (1, 2, 3)


def test_element_lines_are_told_from_others() -> None:
    assert is_element_line(ZETA_HER.encode())
    assert not is_element_line(b"14450+2704STF1877AB    1822 2021  590 321 345")
