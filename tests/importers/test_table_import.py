"""Tables of pairs in the common formats: columns, units, and what is refused."""

from __future__ import annotations

import io
import itertools

import numpy as np
import pytest
from astropy import units
from astropy.table import Table

from planner.errors import UsageError
from planner.importers.table_import import read_table

# Izar (SIMBAD and the Washington catalog, from memory)
CSV = """# two pairs
RAJ2000,DEJ2000,sep,PA,Vmag,Bmag,year,Name,rest
221.24674,27.07422,2.8,345,2.58,4.81,2021.3,Izar,x
14 45 00.0,+27 04 27,12.0,,7.0,9.5,,,y
"""
MAP = "ra=RAJ2000,dec=DEJ2000,separation=sep,position_angle=PA,v1=Vmag,v2=Bmag,epoch=year,name=Name"
PLAIN = "ra,dec,separation,v1,v2\n"


def rows(text: str, columns: str | None = None, suffix: str = ".csv"):  # type: ignore[no-untyped-def]
    return read_table(text.encode(), suffix, columns)


def outside(suffix: str, **columns: object) -> bytes:
    """A table as astropy writes it in the format."""
    stream = io.BytesIO()
    table = Table(columns)  # type: ignore[arg-type]
    if suffix == ".ecsv":
        text = io.StringIO()
        table.write(text, format="ascii.ecsv")
        return text.getvalue().encode()
    table.write(stream, format={".vot": "votable", ".fits": "fits"}[suffix])
    return stream.getvalue()


def test_a_mapped_csv_is_read_in_degrees_and_sexagesimal() -> None:
    reading = rows(CSV, MAP)
    found = reading.rows
    assert found.ra_deg == pytest.approx([221.24674, 221.25], abs=1e-9)
    assert found.dec_deg == pytest.approx([27.07422, 27 + 4 / 60 + 27 / 3600], abs=1e-9)
    assert found.separation_arcsec.tolist() == [2.8, 12.0]
    assert found.epoch_yr[0] == 2021.3
    assert np.isnan(found.epoch_yr[1]) and np.isnan(found.position_angle_deg[1])
    assert found.name.tolist() == ["Izar", ""]
    assert found.line.tolist() == [3, 4]
    assert found.components.tolist() == ["AB", "AB"]
    assert np.isnan(found.position_epoch_yr).all()


def test_columns_named_like_the_keys_need_no_map() -> None:
    assert len(rows("DEC,RA,V1,V2,Separation\n20,10,7,8,3\n").rows) == 1


def test_a_place_may_be_off_by_a_unit_of_its_last_digits() -> None:
    """At 60 degrees north a second of time is 7.5 arcseconds; the rest is for unknown motion."""
    found = rows(f"{PLAIN}14 45 00,+60 00 00,3,7,8\n14h45.0m,+60 00,4,7,8\n10.00001,60.00001,5,7,8")
    digits = [np.hypot(7.5, 1.0), np.hypot(45.0, 60.0), 0.0]
    assert found.rows.place_error_arcsec == pytest.approx(np.hypot(5.0, digits), abs=0.01)


def test_the_epoch_of_a_place_is_known_where_it_is_stated() -> None:
    found = rows(f"place_epoch,{PLAIN}2016,10,20,3,7,8\n,11,20,3,7,8\n99,12,20,3,7,8\n")
    assert found.rows.position_epoch_yr == pytest.approx([2016.0, np.nan], nan_ok=True)
    assert (found.refusals[0].reason, found.refusals[0].first_lines) == (
        "an impossible number",
        (4,),
    )


@pytest.mark.parametrize("delimiter", ["\t", ";", "|"])
def test_other_delimiters_are_recognised(delimiter: str) -> None:
    text = (PLAIN + "10,20,3,7,8\n").replace(",", delimiter)
    assert rows(text, suffix=".tsv").rows.separation_arcsec.tolist() == [3.0]


@pytest.mark.parametrize("suffix", [".ecsv", ".vot", ".fits"])
def test_tables_of_other_formats_are_read(suffix: str) -> None:
    content = outside(
        suffix, RAJ2000=[221.25, 30.0] * units.deg, DEJ2000=[27.0, 1.5] * units.deg,
        rho=[2.8, 5.0], v1=[2.5, 7.0], v2=[4.8, np.nan], WDS=["14450+2704", "x"],
    )  # fmt: skip
    reading = read_table(content, suffix, "ra=RAJ2000,dec=DEJ2000,separation=rho,wds=WDS")
    assert reading.rows.ra_deg.tolist() == [221.25]
    assert reading.rows.wds.tolist() == ["14450+2704"]
    assert reading.refusals[0].reason == "no magnitude of the companion"
    assert reading.refusals[0].first_lines == (2,)


@pytest.mark.parametrize("unit", [units.hourangle, units.hour])
def test_hours_as_unit_become_degrees(unit: units.Unit) -> None:
    content = outside(".ecsv", ra=[14.75] * unit, dec=[27.0], separation=[2.8], v1=[2.5], v2=[4.8])
    assert read_table(content, ".ecsv", None).rows.ra_deg[0] == pytest.approx(221.25)


def test_decimal_hours_can_be_asked_for() -> None:
    text = "hours,dec,separation,v1,v2\n14.75,27,2.8,2.5,4.8\n"
    assert rows(text, "ra_hours=hours").rows.ra_deg[0] == pytest.approx(221.25)


def test_masked_cells_are_unknown() -> None:
    table = Table({"ra": [1.0, 2.0], "dec": [1.0, 2.0], "separation": [3.0, 4.0],
                   "v1": [7.0, 8.0], "v2": [7.5, 8.5]}, masked=True)  # fmt: skip
    table["v2"].mask = [False, True]
    stream = io.BytesIO()
    table.write(stream, format="votable")
    assert read_table(stream.getvalue(), ".vot", None).rows.v2.tolist() == [7.5]


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        ("ten,20,3,7,8", "a position that cannot be read"),
        ("10 70 00,20,3,7,8", "a position that cannot be read"),
        (",20,3,7,8", "no position"),
        ("10,120,3,7,8", "a declination outside -90 to 90 degrees"),
        ("10,-95,3,7,8", "a declination outside -90 to 90 degrees"),
        ("370,20,3,7,8", "a right ascension outside 0 to 360 degrees"),
        ("10,20,,7,8", "no separation"),
        ("10,20,-1,7,8", "a separation of zero or less"),
        ("10,20,3,,8", "no magnitude of the primary"),
        ("10,20,3,7,nan", "no magnitude of the companion"),
        ("10,20,3,7,8m5", "something else than a number"),
        ("10,20,3,7", "more or fewer cells than the header"),
        ("10,20,3,7,8,9", "more or fewer cells than the header"),
        ("30,30,3,7,8", "the same pair as an earlier row"),
    ],
)
def test_rows_that_cannot_be_judged_are_refused_with_their_line(row: str, reason: str) -> None:
    reading = rows(f"{PLAIN}30,30,3,7,8\n\n{row}\n")
    assert len(reading.rows) == 1
    (refused,) = reading.refusals
    assert reason in refused.reason
    assert refused.first_lines == (4,)


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        ("10;20;3;7,5;8", "something else than a number in column v1, such as '7,5': write 7.5"),
        ("10;20;2,80;7;8", "than a number in column separation, such as '2,80': write 2.80"),
        ("10;-20,5;3;7;8", "cannot be read in column dec, such as '-20,5': write -20.5"),
        ("10;20;3;7m;8", "something else than a number in column v1, such as '7m'"),
    ],
)
def test_a_number_that_cannot_be_read_is_told_with_column_and_line(row: str, reason: str) -> None:
    reading = rows(f"{PLAIN.replace(',', ';')}30;30;3;7;8\n{row}\n")
    assert len(reading.rows) == 1
    (refused,) = reading.refusals
    assert refused.reason.endswith(reason)
    assert refused.first_lines == (3,)


@pytest.mark.parametrize(
    ("text", "columns", "match"),
    [
        ("", None, "empty"),
        (PLAIN, "ra", "not of the form key=COLUMN"),
        (PLAIN, "ra=", "not of the form key=COLUMN"),
        (PLAIN, "sepration=x", "no key; did you mean 'separation'"),
        (PLAIN, "name=sepration", "no column 'sepration'; did you mean 'separation'"),
        (PLAIN, "ra=ra,ra=dec", "'ra' is given twice"),
        ("a,b\n1,2\n", None, "no column called ra, dec, separation, v1, v2: .*its columns: a, b"),
        ("ra,ra\n1,2\n", None, "two columns called ra"),
    ],
)
def test_a_table_or_map_that_makes_no_sense_is_refused(
    text: str, columns: str | None, match: str
) -> None:
    with pytest.raises(UsageError, match=match):
        rows(text, columns)


@pytest.mark.parametrize("suffix", [".ecsv", ".vot", ".fits"])
def test_a_damaged_table_is_refused_in_one_line(suffix: str) -> None:
    whole = outside(suffix, ra=[1.0], dec=[2.0], separation=[3.0], v1=[4.0], v2=[5.0])
    for content in (b"", b"nonsense", whole[: len(whole) // 2]):
        with pytest.raises(UsageError) as caught:
            read_table(content, suffix, None)
        assert "\n" not in str(caught.value)


def test_latin_letters_and_a_byte_order_mark_are_read() -> None:
    text = f"name,{PLAIN}Sterné,10,20,3,7,8\n"
    for encoding, mark in itertools.product(("utf-8", "latin-1"), (b"", b"\xef\xbb\xbf")):
        if encoding == "utf-8" or not mark:
            reading = read_table(mark + text.encode(encoding), ".csv", None)
            assert reading.rows.name.tolist() == ["Sterné"]
