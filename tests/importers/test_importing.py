"""From an outside file to the tables the planner works on, and back."""

from __future__ import annotations

import datetime as dt
import gzip
import shutil
import threading
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from filelock import FileLock
from target_samples import write_catalogs
from test_orbit_layout import ZETA_HER, changed
from test_wds_layout import IZAR
from wds_maker import summary_file, summary_line

from planner import files
from planner.errors import CatalogError, UsageError
from planner.importers import library, store
from planner.importers.completion import own_names
from planner.importers.importing import ImportReport, ImportRequest, import_catalog
from planner.importers.layouts import Layout
from planner.importers.library import load_all_names, load_all_orbits, load_all_pairs
from planner.targets.columns import objects
from planner.targets.names import complete, find, near_names
from planner.targets.pairs import NO_ORBIT, at_epoch, match_orbits

DATE = dt.date(2026, 5, 14)
COUNT = 60
KNOWN_LINE = IZAR + "\n"
KRUGER_60 = changed(
    (1, "222759.47+574145.2 22280+5742 KR   60AB     "),
    (46, "15972 239960 110893   9.93  11.41         44.67y"),
    (106, "    2.383a"), (126, "    167.2"), (144, "    154.5"), (163, "     1970.22y"),
    (188, "     0.41"), (206, "    217.8"), (229, " 1984 2  Hei1986"),
)  # fmt: skip
TABLE = "ra,dec,separation,v1,v2,name\n150,20,12,7,8,My pair\n"


@pytest.fixture
def shipped(tmp_path: Path) -> Path:
    (tmp_path / "shipped").mkdir()
    return write_catalogs(tmp_path / "shipped")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "own" / "catalogs"


def take_in(
    folder: Path, shipped: Path | None, content: str | bytes, name: str = "wds.txt", **more: object
) -> ImportReport:
    path = folder.parent.parent / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return import_catalog(ImportRequest(path, folder, DATE, shipped=shipped, **more))  # type: ignore[arg-type]


def state(folder: Path) -> dict[str, bytes]:
    """Every import file and its bytes."""
    return {path.name: path.read_bytes() for path in folder.glob("*") if path.suffix != ".lock"}


def names_of(*numbers: int) -> list[str]:
    """The files of imports: the kept file, what it is, and the table made from it."""
    return [f"import-{number:04d}{end}" for number in numbers for end in (".gz", ".json", ".npz")]


def without_tables(folder: Path) -> None:
    """As on a system that clears caches."""
    for path in folder.glob("*.npz"):
        path.unlink()


def summary() -> bytes:
    return summary_file(COUNT) + KNOWN_LINE.encode()


def test_without_imports_everything_is_as_shipped(folder: Path, shipped: Path) -> None:
    for nothing in (None, folder):
        assert load_all_pairs(nothing, shipped).pair_id.tolist()[0] == "hip72105-AB"
        assert len(load_all_pairs(nothing, shipped)) == 9
        assert len(load_all_orbits(nothing, shipped)) == 8
    assert not folder.exists()


def test_every_row_is_taken_merged_or_refused(folder: Path, shipped: Path) -> None:
    report = take_in(folder, shipped, summary())
    refused = sum(each.count for each in report.refusals)
    assert report.rows == COUNT + 1 == report.taken + report.merged + refused
    assert report.merged == 1 and refused > 0
    pairs = load_all_pairs(folder, shipped)
    assert len(pairs) == 9 + report.taken
    assert len(set(pairs.pair_id)) == len(pairs)
    assert set(pairs.constellation.tolist()) - {""} and "" not in pairs.constellation[9:]


def test_shipped_pairs_keep_their_rows_and_measures(folder: Path, shipped: Path) -> None:
    before = load_all_pairs(None, shipped)
    take_in(folder, shipped, summary())
    after = load_all_pairs(folder, shipped)
    assert after.pair_id[:9].tolist() == before.pair_id.tolist()
    assert not after.v1.flags.writeable
    # the sample's measure of 2016 is of no named make, so the one of 2021 stands for it
    assert (before.separation_arcsec[0], after.separation_arcsec[0]) == (2.94, 2.8)
    assert after.measure_source[0] == "WDS"


def test_a_pair_that_stands_twice_in_a_file_is_refused_once(folder: Path, shipped: Path) -> None:
    header = "ra,dec,separation,position_angle,v1,v2,discoverer\n"
    rows = "14h45.0m,+27 04,2.8,345,2.58,4.81,STF 1877\n14 44 59,+27 04 27,2.9,344,2.6,4.8,\n"
    report = take_in(folder, shipped, header + rows, "mine.csv")
    assert (report.taken, report.merged, report.rows) == (0, 1, 2)
    assert [each.reason for each in report.refusals] == ["the same known pair as another row"]
    assert report.about is not None and report.about.refused == 1
    assert len(load_all_pairs(folder, shipped)) == 9


def test_imported_pairs_are_found_by_name(folder: Path, shipped: Path) -> None:
    line = summary_line(
        {"wds": "10000+2000", "discoverer": "BU 1234", "components": "AB,C", "last_year": 2015,
         "last_separation": 4.0, "last_angle": 10, "v1": 8.0, "v2": 9.0}
    )  # fmt: skip
    take_in(folder, shipped, summary() + line.encode() + b"\n")
    index, pairs = load_all_names(folder, shipped), load_all_pairs(folder, shipped)
    for text in ("BU 1234", "bu1234", "Burnham 1234", "β1234", "BU 1234 AB,C", "10000+2000",
                 "WDS 10000+2000", "wds10000+2000-BU1234-AB:C"):  # fmt: skip
        (match,) = find(index, text)
        assert match.label == "BU 1234 AB,C", text
        assert pairs.discoverer[match.row] == "BU 1234"
    assert [match.label for match in find(index, "Izar")] == ["eps Boo AB (Izar)"]
    assert [match.label for match in find(index, "STF 1877")] == ["eps Boo AB (Izar)"]
    assert "BU 1234 AB,C" in near_names(index, "BU 12345")
    assert len(index.labels["pair"]) == len(pairs)  # type: ignore[index]
    assert "BU 1234" in complete("bu123", own=own_names(folder, shipped))
    assert "BU 1234" not in complete("bu123")


def test_the_star_catalogs_name_the_primary(folder: Path, shipped: Path) -> None:
    """Another companion of the sample's star HIP 72105 (V 2.59, B-V 1.0)."""
    line = summary_line(
        {"wds": "14450+2704", "discoverer": "XYZ 1", "components": "AC", "last_year": 2015,
         "last_separation": 175.0, "last_angle": 300, "v1": 2.6, "v2": 12.0,
         "place": "144500.00+270412.0"}
    )  # fmt: skip
    take_in(folder, shipped, line + "\n")
    pairs = load_all_pairs(folder, shipped)
    assert (pairs.hip[-1], pairs.name[-1], pairs.proper_name[-1]) == (72105, "eps Boo", "Izar")
    assert pairs.colour1_bv[-1] == pytest.approx(1.0)
    assert pairs.system_id[-1] == pairs.system_id[0]


def test_orbits_are_imported_and_matched(folder: Path, shipped: Path) -> None:
    pair = summary_line(
        {"wds": "16413+3136", "discoverer": "STF2084", "last_year": 2020, "last_separation": 1.5,
         "last_angle": 90, "v1": 2.95, "v2": 5.4, "place": "164117.16+313609.8"}
    )  # fmt: skip
    take_in(folder, shipped, pair + "\n")
    report = take_in(folder, shipped, ZETA_HER + "\n", "orb6.txt")
    assert (report.taken, report.merged, report.layout) == (1, 0, "Sixth Orbit Catalog elements")
    orbits = load_all_orbits(folder, shipped)
    assert len(orbits) == 9
    row = match_orbits(load_all_pairs(folder, shipped), orbits)
    assert row[-1] != NO_ORBIT and orbits.reference[row[-1]] == "Sod1999"


def test_an_orbit_without_a_pair_is_told_with_its_line(folder: Path, shipped: Path) -> None:
    """Zeta Herculis is not in the sample; gamma Virginis is."""
    known = ZETA_HER.replace("16413+3136", "12417-0127")
    report = take_in(folder, shipped, f"{known}\n{ZETA_HER}\n", "orb6.txt")
    assert report.remarks == (
        "1 orbit fits no known pair and is not used until one is imported: line 2",
    )
    report = take_in(folder, shipped, f"{known}\n", "orb6.txt")
    assert report.remarks == ()


def without_number(shipped: Path) -> Path:
    """The shipped tables with Kruger 60 added as Gaia has it, without number or identifier."""
    path = shipped / "pairs.csv.gz"
    row = (
        "kr60,kr60,336.992113,57.694032,,,,,9.11,10.42,1.42,280.03,2016,AB,,Kruger 60,,,"
        "22280+5742,0,110893,,,Cep,0.01,,Gaia DR3 positions 2016.0,\n"
    )
    path.write_bytes(gzip.compress(gzip.decompress(path.read_bytes()) + row.encode()))
    return shipped


def test_an_orbit_names_the_pair_it_finds_by_place(folder: Path, shipped: Path) -> None:
    """Elements of Heintz 1986 (from memory)."""
    shipped = without_number(shipped)
    take_in(folder, shipped, KRUGER_60 + "\n", "orb6.txt")
    pairs, orbits = load_all_pairs(folder, shipped), load_all_orbits(folder, shipped)
    (match,) = find(load_all_names(folder, shipped), "KR 60")
    found = match_orbits(pairs, orbits)[match.row]
    assert pairs.proper_name[match.row] == "Kruger 60"
    assert pairs.wds[match.row] == "22280+5742"
    assert orbits.reference[found] == "Hei1986"
    store.undo(folder)
    assert load_all_pairs(folder, shipped).wds[match.row] == ""


UNDATED = (
    "ra,dec,separation,position_angle,v1,v2,name\n150.00000,20.00000,12,90,7,8,My pair\n",
    summary_line(
        {"wds": "10000+2000", "discoverer": "BU 1234", "last_separation": 12.0, "last_angle": 90,
         "v1": 7.0, "v2": 8.0, "place": "100000.00+200000.0"}
    ) + "\n",
)  # fmt: skip


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize(("text", "name"), [(UNDATED[0], "mine.csv"), (UNDATED[1], "wds.txt")])
def test_a_measure_without_a_year_goes_through(
    folder: Path, shipped: Path, text: str, name: str
) -> None:
    take_in(folder, shipped, text, name)
    pairs, orbits = load_all_pairs(folder, shipped), load_all_orbits(folder, shipped)
    assert np.isnan(pairs.measure_epoch_yr[-1])
    then = at_epoch(pairs, orbits, 2026.0)
    assert np.isnan(then.measure_epoch_yr[-1]) and then.separation_arcsec[-1] == 12.0
    one = ZETA_HER.replace("164117.16+313609.8 16413+3136", "100000.00+200000.0 10000+2100")
    report = take_in(folder, shipped, one + "\n", "orb6.txt")
    assert report.remarks[0].startswith("1 orbit fits no known pair")


def test_a_measure_with_a_year_stands_for_one_without(folder: Path, shipped: Path) -> None:
    undated, dated = UNDATED[0], summary_line(
        {"wds": "10000+2000", "discoverer": "BU 1234", "last_year": 2015, "last_angle": 92,
         "last_separation": 12.4, "v1": 7.0, "v2": 8.0, "place": "100000.00+200000.0"}
    ) + "\n"  # fmt: skip
    for first, second in ((undated, dated), (dated, undated)):
        names = ["mine.csv" if text is undated else "wds.txt" for text in (first, second)]
        take_in(folder, shipped, first, names[0])
        assert take_in(folder, shipped, second, names[1]).merged == 1
        pairs = load_all_pairs(folder, shipped)
        assert len(pairs) == 10
        assert (pairs.measure_epoch_yr[-1], pairs.separation_arcsec[-1]) == (2015.0, 12.4)
        store.undo(folder)
        store.undo(folder)


def test_an_orbit_is_not_believed_without_a_year_of_the_measure(shipped: Path) -> None:
    """Gamma Virginis has its orbit by number; without number and year it has none."""
    pairs, orbits = load_all_pairs(None, shipped), load_all_orbits(None, shipped)
    row = int(np.flatnonzero(pairs.pair_id == "hip61941-AB")[0])
    unnamed = replace(pairs, wds=objects(("",) * len(pairs)))
    assert match_orbits(unnamed, orbits)[row] != NO_ORBIT
    undated = replace(unnamed, epoch_yr=np.full(len(pairs), np.nan))
    assert match_orbits(undated, orbits)[row] == NO_ORBIT


@pytest.mark.parametrize(("grade", "used"), [(1, "Sod1999"), (2, "Sod1999"), (3, "Sca2007c")])
def test_an_imported_orbit_replaces_one_that_is_not_better(
    folder: Path, shipped: Path, grade: int, used: str
) -> None:
    """The sample's orbit of gamma Virginis has grade 2."""
    line = ZETA_HER.replace("16413+3136", "12417-0127").replace(" 1  Sod", f" {grade}  Sod")
    report = take_in(folder, shipped, line + "\n", "orb6.txt")
    assert (report.taken, report.merged) == (0, 1)
    orbits = load_all_orbits(folder, shipped)
    assert len(orbits) == 8
    assert orbits.reference[orbits.wds == "12417-0127"].tolist() == [used]


def test_undo_brings_back_what_was(folder: Path, shipped: Path) -> None:
    before = load_all_pairs(folder, shipped)
    take_in(folder, shipped, summary())
    take_in(folder, shipped, TABLE, "mine.csv")
    assert find(load_all_names(folder, shipped), "my pair")
    assert store.undo(folder).removed.file_name == "mine.csv"  # type: ignore[union-attr]
    assert "My pair" not in load_all_pairs(folder, shipped).name
    assert store.undo(folder).removed.file_name == "wds.txt"  # type: ignore[union-attr]
    after = load_all_pairs(folder, shipped)
    for name in before.__dataclass_fields__:
        np.testing.assert_array_equal(getattr(after, name), getattr(before, name))
    with pytest.raises(CatalogError, match="nothing to undo"):
        store.undo(folder)


def test_a_second_catalog_merges_with_the_first(folder: Path, shipped: Path) -> None:
    first = take_in(folder, shipped, summary())
    again = take_in(folder, shipped, summary(), "copy.txt")
    assert (again.taken, again.merged) == (0, first.taken + first.merged)
    assert len(load_all_pairs(folder, shipped)) == 9 + first.taken


def test_the_same_file_again_changes_nothing(folder: Path, shipped: Path) -> None:
    take_in(folder, shipped, summary())
    before = state(folder)
    assert take_in(folder, shipped, summary()).about is None
    assert state(folder) == before


def test_a_newer_edition_stands_for_the_older_until_undone(folder: Path, shipped: Path) -> None:
    first = take_in(folder, shipped, TABLE, "mine.csv")
    newer = TABLE.replace(",12,", ",13,") + "151,21,5,7,8,Other\n"
    second = take_in(folder, shipped, newer, "mine.csv")
    assert (first.taken, second.taken, second.merged) == (1, 2, 0)
    assert second.about is not None and second.about.replaces == 1
    pairs = load_all_pairs(folder, shipped)
    assert pairs.separation_arcsec[9:].tolist() == [13.0, 5.0]
    undone = store.undo(folder)
    assert undone.restored is not None and undone.restored.number == 1
    assert load_all_pairs(folder, shipped).separation_arcsec[9:].tolist() == [12.0]


def test_only_the_last_but_one_edition_is_kept(folder: Path, shipped: Path) -> None:
    for separation in (12, 13, 14):
        take_in(folder, shipped, TABLE.replace(",12,", f",{separation},"), "mine.csv")
    assert sorted(state(folder)) == names_of(2, 3)
    assert load_all_pairs(folder, shipped).separation_arcsec[9:].tolist() == [14.0]
    store.undo(folder)
    assert load_all_pairs(folder, shipped).separation_arcsec[9:].tolist() == [13.0]


def test_after_a_new_edition_of_the_shipped_pairs_the_tables_are_made_anew(
    folder: Path, shipped: Path
) -> None:
    """An import merges with a shipped pair that a later edition of the planner drops."""
    take_in(folder, shipped, KNOWN_LINE)
    assert len(load_all_pairs(folder, shipped)) == 9
    later = folder.parent / "later"
    shutil.copytree(shipped, later)
    lines = gzip.decompress((later / "pairs.csv.gz").read_bytes()).splitlines(keepends=True)
    without = [line for line in lines if not line.startswith(b"hip72105-AB")]
    assert len(without) == len(lines) - 1
    (later / "pairs.csv.gz").write_bytes(gzip.compress(b"".join(without)))
    manifest = later / "manifest.json"
    manifest.write_text(manifest.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    pairs = load_all_pairs(folder, later)
    assert len(pairs) == 9
    assert (pairs.wds[-1], pairs.discoverer[-1]) == ("14450+2704", "STF 1877")
    assert len(load_all_pairs(folder, shipped)) == 9


def same_tables(first: object, second: object) -> None:
    for name in first.__dataclass_fields__:  # type: ignore[attr-defined]
        np.testing.assert_array_equal(getattr(first, name), getattr(second, name))


@pytest.mark.parametrize("spoilt", ["missing", "empty", "cut", "of another import"])
def test_a_spoilt_table_only_costs_time(folder: Path, shipped: Path, spoilt: str) -> None:
    take_in(folder, shipped, summary())
    take_in(folder, shipped, TABLE, "mine.csv")
    take_in(folder, shipped, ZETA_HER + "\n", "orb6.txt")
    before, orbits = load_all_pairs(folder, shipped), load_all_orbits(folder, shipped)
    path = folder / "import-0001.npz"
    whole = path.read_bytes()
    other = (folder / "import-0002.npz").read_bytes()
    content = {"empty": b"", "cut": whole[: len(whole) // 2], "of another import": other}
    path.unlink()
    if spoilt in content:
        path.write_bytes(content[spoilt])
    library._library.cache_clear()
    same_tables(load_all_pairs(folder, shipped), before)
    same_tables(load_all_orbits(folder, shipped), orbits)
    assert path.read_bytes() == whole


def test_tables_that_cannot_be_kept_are_made_every_time(
    folder: Path, shipped: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    take_in(folder, shipped, TABLE, "mine.csv")
    without_tables(folder)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(library, "write_derived", full)
    library._library.cache_clear()
    assert len(load_all_pairs(folder, shipped)) == 10
    assert not list(folder.glob("*.npz"))


def test_the_imported_file_is_kept_as_it_was(folder: Path, shipped: Path) -> None:
    take_in(folder, shipped, summary())
    assert gzip.decompress((folder / "import-0001.gz").read_bytes()) == summary()


def test_an_edition_that_goes_takes_its_marks_from_later_imports(
    folder: Path, shipped: Path
) -> None:
    """The second catalog had merged with the first, whose newer edition lacks the pair."""
    take_in(folder, shipped, TABLE, "first.csv")
    take_in(folder, shipped, TABLE, "second.csv")
    assert load_all_pairs(folder, shipped).source[9:].tolist() == ["first.csv"]
    take_in(folder, shipped, TABLE.replace("150", "200"), "first.csv")
    assert load_all_pairs(folder, shipped).source[9:].tolist() == ["second.csv", "first.csv"]


@pytest.mark.parametrize("step", ["replace", "fsync"])
def test_failing_midway_leaves_the_old_state(
    folder: Path, shipped: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    take_in(folder, shipped, TABLE, "mine.csv")
    before = state(folder)

    def fails(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, step, fails)
    with pytest.raises(OSError, match="No space left"):
        take_in(folder, shipped, summary())
    monkeypatch.undo()
    assert state(folder) == before
    assert len(load_all_pairs(folder, shipped)) == 10


def test_an_import_that_fails_at_its_last_step_leaves_nothing(
    folder: Path, shipped: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(path: Path, content: bytes) -> None:
        if path.suffix == ".json":
            raise OSError(28, "No space left on device", str(path))
        files.write_whole(path, content)

    monkeypatch.setattr(store, "write_whole", fails)
    with pytest.raises(OSError, match="No space left"):
        take_in(folder, shipped, TABLE, "mine.csv")
    assert state(folder) == {}


LEFT_OVER = ("import-0001.gz.77.part", "import-0009.gz", "import-0008.npz")


@pytest.mark.parametrize("act", ["import", "undo"])
def test_what_killed_processes_left_is_cleared_away(folder: Path, shipped: Path, act: str) -> None:
    take_in(folder, shipped, TABLE, "other.csv")
    for name in LEFT_OVER:
        (folder / name).write_bytes(b"half")
    if act == "import":
        take_in(folder, shipped, TABLE, "mine.csv")
        assert sorted(state(folder)) == names_of(1, 2)
    else:
        store.undo(folder)
        assert state(folder) == {}


@pytest.mark.parametrize("keep", [0.0, 0.5, 0.98])
@pytest.mark.parametrize("end", ["gz", "json"])
def test_a_damaged_import_names_the_remedy_and_undo_removes_it(
    folder: Path, shipped: Path, keep: float, end: str
) -> None:
    take_in(folder, shipped, summary())
    take_in(folder, shipped, TABLE, "mine.csv")
    path = folder / f"import-0001.{end}"
    path.write_bytes(path.read_bytes()[: int(keep * path.stat().st_size)])
    without_tables(folder)
    library._library.cache_clear()
    with pytest.raises(CatalogError, match="damaged.*remove it with: planner catalog undo"):
        load_all_pairs(folder, shipped)
    with pytest.raises(CatalogError, match="planner catalog undo"):
        take_in(folder, shipped, summary(), "other.txt")
    assert store.undo(folder).damaged_files == (path.name,)
    assert len(load_all_pairs(folder, shipped)) == 10


def test_a_changed_byte_is_noticed(folder: Path, shipped: Path) -> None:
    take_in(folder, shipped, summary())
    path = folder / "import-0001.gz"
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 0xFF
    path.write_bytes(bytes(content))
    without_tables(folder)
    with pytest.raises(CatalogError, match="planner catalog undo"):
        load_all_pairs(folder, shipped)
    assert store.undo(folder).damaged_files == ("import-0001.gz",)


@pytest.mark.parametrize(
    ("part", "other"),
    [
        ('"number": 1', '"number": "1"'),
        ('"number": 1', '"number": ' + "1" * 5000),
        ('"table": "pairs"', '"table": "planets"'),
        ('"layout": "table"', '"layout": "chart"'),
        ('"taken": 1', '"taken": NaN'),
        ('"taken": 1', '"took": 1'),
        ('"format": "planner-import-kept/1"', '"format": "planner-import-kept/9"'),
    ],
)
def test_a_changed_word_in_what_an_import_is_names_the_remedy(
    folder: Path, shipped: Path, part: str, other: str
) -> None:
    take_in(folder, shipped, TABLE, "mine.csv")
    path = folder / "import-0001.json"
    text = path.read_text(encoding="utf-8")
    assert part in text
    path.write_text(text.replace(part, other), encoding="utf-8")
    with pytest.raises(CatalogError, match="damaged.*planner catalog undo"):
        load_all_pairs(folder, shipped)
    assert store.undo(folder).damaged_files == ("import-0001.json",)


def test_a_store_in_use_is_not_touched(
    folder: Path, shipped: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store, "LOCK_TIMEOUT_S", 0.1)
    folder.mkdir(parents=True)
    with (
        FileLock(folder / store.LOCK_FILE),
        pytest.raises(CatalogError, match="another planner is changing the catalogs"),
    ):
        take_in(folder, shipped, TABLE, "mine.csv")
    assert state(folder) == {}


def test_imports_at_once_come_one_after_the_other(folder: Path, shipped: Path) -> None:
    def one(number: int) -> None:
        text = TABLE.replace("150", str(100 + number))
        take_in(folder, shipped, text, f"mine{number}.csv")

    threads = [threading.Thread(target=one, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(load_all_pairs(folder, shipped)) == 9 + 4
    assert sorted(state(folder)) == names_of(1, 2, 3, 4)


@pytest.mark.parametrize(
    ("content", "name", "match"),
    [
        (b"", "empty.txt", "in no known layout"),
        (b"some text\nof no kind\n", "letter.txt", "in no known layout"),
        (b"\x1f\x8bnot gzip", "wds.txt.gz", "cannot be unpacked.*fetch it again"),
        (IZAR.replace("4.81", "    ").encode(), "wds.txt", "nothing usable.*no magnitude of the c"),
        (b"a,b\n1,2\n", "mine.csv", "mine.csv: the table has no column called ra"),
    ],
)
def test_a_file_without_a_usable_row_is_refused(
    folder: Path, shipped: Path, content: bytes, name: str, match: str
) -> None:
    with pytest.raises(UsageError, match=match):
        take_in(folder, shipped, content, name)
    assert not folder.exists() or state(folder) == {}


def test_a_packed_file_is_unpacked(folder: Path, shipped: Path) -> None:
    assert take_in(folder, shipped, gzip.compress(KNOWN_LINE.encode()), "wds.txt.gz").merged == 1
    assert take_in(folder, shipped, gzip.compress(TABLE.encode()), "mine.csv.gz").taken == 1


def test_the_layout_can_be_said(folder: Path, shipped: Path) -> None:
    report = take_in(folder, shipped, KNOWN_LINE, "odd.csv", layout=Layout.WDS)
    assert report.layout == "Washington Double Star summary"
    with pytest.raises(UsageError, match="a table's name must end in"):
        take_in(folder, shipped, TABLE, "mine.dat", layout=Layout.TABLE)


def test_names_outside_ascii_survive(folder: Path, shipped: Path) -> None:
    take_in(folder, shipped, TABLE.replace("My pair", "Zwölf Häuser"), "mine.csv")
    assert load_all_pairs(folder, shipped).name[-1] == "Zwölf Häuser"
    assert find(load_all_names(folder, shipped), "zwolf hauser")[0].label.startswith("Zwölf")


def test_places_without_designation_get_identifiers_of_their_own(
    folder: Path, shipped: Path
) -> None:
    text = TABLE + "150,20,30,7,9,Wide\n150,20,50,7,9.5,Wider\n"
    take_in(folder, shipped, text, "mine.csv")
    ids = load_all_pairs(folder, shipped).pair_id[9:].tolist()
    assert ids == ["j1000000+200000-AB", "j1000000+200000-AB-2", "j1000000+200000-AB-3"]
    assert len(find(load_all_names(folder, shipped), "J1000000+200000-AB-2")) == 1
