"""`planner catalog import` and `undo`, as typed."""

from __future__ import annotations

import csv
import io
import json
import re
import textwrap
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sample_nights import one_message

from planner.cli import night_request
from planner.cli.root import main
from planner.importers.column_map import KEYS
from planner.importers.table_import import FORMATS

WIDEST = 100
PAGE = Path(__file__).parents[2] / "docs" / "own-catalogs.md"
WDS = (
    "14450+2704STF1877AB    1822 2021  590 321 345   2.6   2.8  2.58  4.81 K0"
    "II-III  -051+021 -051+021 +27 2417 NV   144459.22+270427.2\n"
)
ORBIT = (
    "164117.16+313609.8 16413+3136 STF2084        10157 150680  81693   2.95   5.40         34.45y"
    "        0.06     1.33a      0.02     131.       2.      50.        2.      1967.7y         0.2"
    "     0.46     0.02     111.       2. 2000 1996 1  Sod1999\n"
)
REFUSED = "".join(
    WDS.replace("STF1877AB", f"STF1877A{n}").replace(" 4.81", "     ") for n in range(9)
)
TABLE = "RAJ2000,DEJ2000,rho,Va,Vb\n150,20,12,7,8\n"
MAP = "ra=RAJ2000,dec=DEJ2000,separation=rho,v1=Va,v2=Vb"


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The tester's own catalogs are left alone."""
    monkeypatch.setattr(night_request, "data_folder", lambda: tmp_path / "data")
    return tmp_path / "data"


def run(*arguments: str, code: int = 0) -> Result:
    result = CliRunner().invoke(main, ("catalog", *arguments), env={"PLANNER_KIT": ""})
    assert result.exit_code == code, result.output
    if "--format" not in arguments:
        assert max(map(len, result.stdout.splitlines()), default=0) <= WIDEST
    if code:
        assert result.stdout == ""
        assert one_message(result.stderr)
    return result


def file(tmp_path: Path, name: str, content: str) -> str:
    (tmp_path / name).write_text(content, encoding="utf-8")
    return str(tmp_path / name)


def test_import_says_what_became_of_every_row(tmp_path: Path) -> None:
    text = run("import", file(tmp_path, "wds.txt", WDS + REFUSED)).stdout
    assert "wds.txt: Washington Double Star summary, 10 rows" in text
    assert re.search(r"\b0  taken", text)
    assert re.search(r"\b1  merged with targets known before", text)
    assert re.search(r"\b9  refused:", text)
    assert "no magnitude of the companion: lines 2, 3, 4, 5, 6, ..." in text
    assert "undo with: planner catalog undo" in text


def test_import_as_json_has_the_same_numbers(tmp_path: Path) -> None:
    name = file(tmp_path, "wds.txt", WDS + REFUSED)
    found = json.loads(run("import", name, "--format", "json").stdout)
    assert found["format"] == "planner-import/1"
    assert (found["rows"], found["taken"], found["merged"]) == (10, 0, 1)
    assert found["refusals"][0]["count"] == 9
    assert found["refusals"][0]["first_lines"] == [2, 3, 4, 5, 6]


def test_a_table_is_imported_by_its_map_listed_and_undone(tmp_path: Path) -> None:
    name = file(tmp_path, "mine.csv", TABLE)
    run("import", name, "--columns", MAP)
    listed = run().stdout
    assert re.search(r"mine\.csv +1 +0 +0 +table of pairs +\d{4}-\d\d-\d\d\n", listed)
    found = json.loads(run("--format", "json").stdout)
    assert [entry["file_name"] for entry in found["imports"]] == ["mine.csv"]
    rows = list(csv.DictReader(io.StringIO(run("--format", "csv").stdout)))
    assert (rows[-1]["name"], rows[-1]["file"], rows[-1]["rows"]) == ("own pairs", "mine.csv", "1")
    assert "took back the import of mine.csv" in run("undo").stdout
    assert "mine.csv" not in run().stdout


def test_the_same_file_again_is_said(tmp_path: Path) -> None:
    name = file(tmp_path, "wds.txt", WDS)
    run("import", name)
    assert "nothing was done" in run("import", name).stdout


def test_a_newer_edition_is_said_and_undone(tmp_path: Path) -> None:
    run("import", file(tmp_path, "mine.csv", TABLE), "--columns", MAP)
    second = run("import", file(tmp_path, "mine.csv", TABLE + "1,2,3,4,5\n"), "--columns", MAP)
    assert "stands for the earlier import of mine.csv" in second.stdout
    assert "counts again" in run("undo").stdout


def test_an_orbit_without_a_pair_is_told(tmp_path: Path) -> None:
    text = run(
        "import", file(tmp_path, "orb6.txt", ORBIT.replace("16413+3136", "00001+0001"))
    ).stdout
    assert "1 orbit fits no known pair" not in text  # found by its Hipparcos number
    lost = ORBIT.replace("164117.16+313609.8 16413+3136", "000006.00+000100.0 00001+0001")
    text = run("import", file(tmp_path, "lost.txt", lost.replace(" 81693 ", "       "))).stdout
    assert "1 orbit fits no known pair and is not used until one is imported: line 1" in text


def test_undo_of_nothing_is_refused() -> None:
    assert "nothing to undo" in one_message(run("undo", code=1).stderr)


def test_a_damaged_import_is_undone_first(tmp_path: Path, data: Path) -> None:
    run("import", file(tmp_path, "wds.txt", WDS))
    (path,) = (data / "catalogs").glob("*.json")
    path.write_bytes(b"damaged")
    assert "planner catalog undo" in one_message(run(code=1).stderr)
    assert "removed what was damaged: import-0001.json" in run("undo").stdout
    assert "wds.txt" not in run().stdout


@pytest.mark.parametrize(
    ("name", "content", "more", "words"),
    [
        ("wds.txt", WDS, ("--columns", MAP, "--layout", "wds"), "--columns is for tables"),
        ("mine.csv", TABLE, (), "name it with --columns ra=COLUMN"),
        ("mine.csv", TABLE, ("--columns", "ra=RA"), "no column 'RA'"),
        ("letter.txt", "Dear reader\n", (), "no known layout"),
        ("wds.txt", REFUSED, (), "nothing usable"),
        ("empty.csv", "", (), "the table is empty"),
        ("mine.fits", TABLE, (), "cannot be read as fits"),
    ],
)
def test_a_file_that_cannot_be_used_is_refused_in_one_line(
    tmp_path: Path, data: Path, name: str, content: str, more: tuple[str, ...], words: str
) -> None:
    refused = run("import", file(tmp_path, name, content), *more, code=2)
    assert words in one_message(refused.stderr)
    assert not list(data.glob("**/import-*"))


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    assert "does not exist" in one_message(run("import", str(tmp_path / "none.txt"), code=2).stderr)


def test_a_long_file_name_keeps_within_the_width(tmp_path: Path) -> None:
    name = file(tmp_path, "a" * 150 + ".txt", WDS)
    run("import", name)
    run()
    run("undo")


def test_the_page_shows_what_the_command_prints(tmp_path: Path) -> None:
    rows = "14 44 59.2,+27 04 27,2.8,2.6,4.8\n150,20,12,7,8\n151,21,,7,8\n152,22,9,7,\n"
    name = file(tmp_path, "mine.csv", "ra,dec,separation,v1,v2\n" + rows)
    shown = textwrap.indent(run("import", name).stdout, "    ")
    assert shown in PAGE.read_text(encoding="utf-8")


def test_the_page_explains_every_key_and_ending() -> None:
    text = PAGE.read_text(encoding="utf-8")
    assert [key for key in KEYS if f"`{key}`" not in text] == []
    assert {".csv", ".ecsv", ".vot", ".xml", ".fits"} <= set(FORMATS)


def test_a_pair_without_a_year_is_told_without_one(tmp_path: Path) -> None:
    """No year in the text, null in the JSON; nothing that is no JSON."""
    own = "ra,dec,separation,v1,v2,name\n12h00m00.0s,+50 00 00,5.5,6.1,7.2,Undated\n"
    run("import", file(tmp_path, "own.csv", own))
    asked = ("target", "undated", "--date", "2026-05-14")
    told = CliRunner().invoke(main, asked, env={"PLANNER_KIT": ""})
    assert "year unknown, from own.csv" in told.stdout
    document = CliRunner().invoke(main, (*asked, "--format", "json"), env={"PLANNER_KIT": ""})
    (target,) = json.loads(document.stdout, parse_constant=pytest.fail)["targets"]
    assert target["measure_epoch"] is None
