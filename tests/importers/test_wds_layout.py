"""The summary layout of the Washington Double Star Catalog: columns, gaps and damage.

Column numbers: format description of the US Naval Observatory, published beside the catalog
(from memory).
"""

from __future__ import annotations

import numpy as np
import pytest
from wds_maker import summary_line

from planner.importers.incoming import PairReading
from planner.importers.wds_layout import is_summary_line, read_summary

# The pair of epsilon Bootis as the summary lists it (from memory). The ruler counts columns.
#         1         2         3         4         5         6         7
# 123456789012345678901234567890123456789012345678901234567890123456789012
IZAR = (
    "14450+2704STF1877AB    1822 2021  590 321 345   2.6   2.8  2.58  4.81 K0"
    "II-III  -051+020 -051+020 +27 2417 NV   144459.22+270427.2"
)
# Izar, J2000: 14h 44m 59.22s, +27d 04' 27.2" (SIMBAD, from memory)
RA_DEG, DEC_DEG = 15.0 * (14 + 44 / 60 + 59.22 / 3600), 27 + 4 / 60 + 27.2 / 3600
EXACT_DEG = 1e-9  # the same digits, so only rounding of the arithmetic


def read(*lines: str, end: str = "\n") -> PairReading:
    return read_summary((end.join(lines) + end).encode("latin-1"))


def line(**fields: object) -> str:
    """A whole line with some fields changed."""
    usual: dict[str, object] = {
        "wds": "14450+2704", "discoverer": "STF1877", "last_year": 2021, "last_angle": 345,
        "last_separation": 2.8, "v1": 2.58, "v2": 4.81, "place": "144459.22+270427.2",
    }  # fmt: skip
    return summary_line(usual | fields)


def reasons(reading: PairReading) -> dict[str, tuple[int, ...]]:
    return {each.reason: each.first_lines for each in reading.refusals}


def test_a_published_line_is_read_by_its_columns() -> None:
    rows = read(IZAR).rows
    assert len(IZAR) == 130
    assert (rows.wds[0], rows.discoverer[0], rows.components[0]) == ("14450+2704", "STF 1877", "AB")
    assert rows.ra_deg[0] == pytest.approx(RA_DEG, abs=EXACT_DEG)
    assert rows.dec_deg[0] == pytest.approx(DEC_DEG, abs=EXACT_DEG)
    assert (rows.separation_arcsec[0], rows.position_angle_deg[0], rows.epoch_yr[0]) == (
        2.8, 345.0, 2021.0,
    )  # fmt: skip
    assert (rows.v1[0], rows.v2[0]) == (2.58, 4.81)
    assert (rows.pm_ra_mas_yr[0], rows.pm_dec_mas_yr[0]) == (-51.0, 20.0)
    assert (rows.physical[0], rows.note[0]) == ("yes", "WDS notes NV")
    assert rows.position_epoch_yr[0] == 2000.0


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_headers_and_trailing_blanks_do_not_matter(end: str) -> None:
    reading = read("Name and date of the file", "", IZAR + "      ", "", end=end)
    assert len(reading.rows) == 1
    assert reading.rows.line[0] == 3
    assert reading.refusals == reading.remarks == ()


def test_a_line_without_trailing_blanks_is_whole() -> None:
    bare = line(place="").rstrip()
    assert len(bare) < 75
    assert len(read(bare).rows) == 1


def test_a_blank_precise_place_falls_back_on_the_identifier() -> None:
    reading = read(line(place=""))
    assert reading.rows.ra_deg[0] == pytest.approx(15.0 * 14.75, abs=EXACT_DEG)
    assert reading.rows.dec_deg[0] == pytest.approx(27 + 4 / 60, abs=EXACT_DEG)
    assert reading.rows.place_error_arcsec[0] > 60.0
    assert "1 pairs have only the place in their identifier" in reading.remarks[0]


def test_a_place_that_cannot_be_falls_back_on_the_identifier() -> None:
    assert read(line(place="144469.22+270427.2")).rows.place_error_arcsec[0] > 60.0


def test_southern_places_keep_their_sign_near_the_equator() -> None:
    rows = read(line(wds="05003-0030", place="050018.00-003012.0")).rows
    assert rows.dec_deg[0] == pytest.approx(-(30 / 60 + 12 / 3600), abs=EXACT_DEG)
    rows = read(line(wds="05003-0030", place="")).rows
    assert rows.dec_deg[0] == pytest.approx(-0.5, abs=EXACT_DEG)


def test_blank_components_mean_ab() -> None:
    assert read(line(components="")).rows.components[0] == "AB"
    assert read(line(components="AB,C")).rows.components[0] == "AB,C"


@pytest.mark.parametrize("angle", [-1, ""])
def test_a_negative_or_blank_position_angle_is_unknown(angle: object) -> None:
    assert np.isnan(read(line(last_angle=angle)).rows.position_angle_deg[0])


def test_the_first_measure_stands_for_a_missing_last_one() -> None:
    rows = read(
        line(last_separation=-1, last_angle=-1, first_separation=2.6, first_angle=321,
             first_year=1829)
    ).rows  # fmt: skip
    assert rows.separation_arcsec[0] == 2.6
    assert (rows.position_angle_deg[0], rows.epoch_yr[0]) == (321.0, 1829.0)


@pytest.mark.parametrize(
    ("fields", "reason"),
    [
        ({"last_separation": -1}, "no separation"),
        ({"last_separation": ""}, "no separation"),
        ({"last_separation": "0.0"}, "a separation of zero or less"),
        ({"last_separation": 999.9}, "wider than the layout can say"),
        ({"v1": "."}, "no magnitude of the primary"),
        ({"v2": "."}, "no magnitude of the companion"),
        ({"v2": ""}, "no magnitude of the companion"),
        ({"v2": "4.8I"}, "something else than a number"),
        ({"last_angle": 400}, "an impossible number"),
        ({"v2": 77.7}, "an impossible number"),
        ({"last_year": 9999}, "an impossible number"),
        ({"notes": "NX"}, "bogus"),
        ({"wds": "99450+2704", "place": ""}, "no position"),
        ({"wds": "14450+9904", "place": ""}, "no position"),
        ({"wds": "not a pair"}, "no identifier in columns 1-10"),
    ],
)
def test_what_cannot_be_judged_is_refused_with_its_line(
    fields: dict[str, object], reason: str
) -> None:
    reading = read(line(discoverer="STF1835", wds="14234+0827"), line(**fields))
    assert len(reading.rows) == 1
    (refused,) = reading.refusals
    assert reason in refused.reason
    assert (refused.count, refused.first_lines) == (1, (2,))


@pytest.mark.parametrize(
    ("letters", "bond"),
    [("U", "no"), ("S", "no"), ("L", "no"), ("V", "yes"), ("O", "yes"), ("N", ""), ("VL", "no")],
)
def test_note_letters_say_what_is_known_of_the_bond(letters: str, bond: str) -> None:
    assert read(line(notes=letters)).rows.physical[0] == bond


def test_a_file_cut_off_in_a_line_loses_only_that_line() -> None:
    content = (IZAR + "\n" + line(discoverer="STF1835", wds="14234+0827"))[: 131 + 66].encode()
    reading = read_summary(content)
    assert len(reading.rows) == 1
    assert reasons(reading) == {"the line is cut short": (2,)}
    assert "may have been cut off" in reading.remarks[0]


def test_characters_outside_ascii_do_not_move_the_columns() -> None:
    for encoding in ("utf-8", "latin-1"):
        other = line(dm="BD é1 ç", discoverer="STF1835").encode(encoding)
        rows = read_summary(other + b"\n").rows
        assert (rows.v2[0], rows.ra_deg[0]) == (4.81, pytest.approx(RA_DEG, abs=EXACT_DEG))


def test_repeated_pairs_count_once() -> None:
    reading = read(IZAR, IZAR, line(components="AC"), IZAR)
    assert len(reading.rows) == 2
    assert reasons(reading) == {"the same pair as an earlier row": (2, 4)}


def test_only_the_first_lines_of_a_reason_are_named() -> None:
    reading = read(IZAR, *(line(v2=".", components=f"A{n}") for n in range(9)))
    assert reading.refusals[0].count == 9
    assert reading.refusals[0].first_lines == (2, 3, 4, 5, 6)


@pytest.mark.parametrize("content", [b"", b"\n\n", b"\0" * 400, b"nothing\nof this kind\n"])
def test_other_files_hold_no_pair(content: bytes) -> None:
    assert len(read_summary(content).rows) == 0


def test_summary_lines_are_told_from_others() -> None:
    assert is_summary_line(IZAR.encode())
    assert not is_summary_line(b"14450+2704,STF 1877,2.8")
    assert not is_summary_line(b"164117.16+313609.8 16413+3136 STF2084")
