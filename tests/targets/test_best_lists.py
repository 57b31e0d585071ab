"""The standing of targets: lists, counts, and files that do not fit together."""

import gzip
from dataclasses import fields
from pathlib import Path

import pytest

from planner.errors import CatalogError
from planner.targets.deepsky import DeepSky
from planner.targets.standing import best_list_counts, best_lists_of, load_best_lists


def _keys(identifier: str) -> set[str]:
    return {entry.key for entry in best_lists_of([identifier])[0]}


@pytest.mark.parametrize(
    ("identifier", "expected"),
    [  # what the printed lists are known to hold (from memory)
        ("NGC 6205", {"messier", "webb", "burnham", "harvest"}),  # M 13
        ("NGC 104", {"caldwell", "lacaille", "bennett", "hartung"}),  # 47 Tuc, Lacaille I.1
        ("Caldwell 14", {"caldwell", "herschel-400", "finest-ngc"}),  # the Double Cluster
        ("NGC 598", {"messier", "herschel-400"}),  # M 33 is one of the Messier objects in it
        ("hip95947-AB", {"double-100", "webb", "burnham", "harvest", "haas"}),  # Albireo
        ("hip71683-AB", {"burnham", "haas", "hartung"}),  # alpha Cen
    ],
)
def test_a_showpiece_stands_in_the_lists_that_print_it(identifier, expected):
    assert expected <= _keys(identifier)


@pytest.mark.parametrize(
    ("identifier", "key"),
    [
        ("NGC 6205", "herschel-400"),  # has only a few Messier objects, M 13 not among them
        ("NGC 869", "messier"),  # the Double Cluster has no Messier number
        ("NGC 7293", "herschel-400"),  # the Helix was not found by Herschel
        ("NGC 224", "finest-ngc"),  # made of objects without a Messier number
    ],
)
def test_an_object_does_not_stand_in_a_list_that_leaves_it_out(identifier, key):
    assert key not in _keys(identifier)


def test_counts_keep_the_order_asked_and_are_none_for_strangers():
    counts = best_list_counts(["hip95947-AB", "no such thing", "NGC 6205"])
    assert counts[1] == 0
    assert counts[0] >= 5
    assert counts[2] >= 4
    assert best_list_counts([]).tolist() == []


def test_counts_agree_with_the_lists_named():
    ids = ["NGC 7662", "hip36850-AB", "NGC 5139", "IC 5370"]
    assert best_list_counts(ids).tolist() == [len(lists) for lists in best_lists_of(ids)]


def test_a_list_counts_once_for_an_object_with_two_numbers_in_it():
    lists = best_lists_of(["Caldwell 14"])[0]  # NGC 869 and 884 are two of the Herschel 400
    assert len({entry.key for entry in lists}) == len(lists)


def test_famous_objects_stand_in_more_lists_than_the_run_of_the_catalog():
    famous = best_list_counts(["NGC 1976", "NGC 5139", "hip36850-AB", "hip61941-AB", "NGC 7009"])
    assert famous.min() >= 4


def _folder(tmp_path: Path, lists: str, members: str) -> Path:
    (tmp_path / "standing_lists_typed.csv").write_text(
        "list,title,author,year,entries,number_prefix,status\n" + lists, encoding="utf-8"
    )
    (tmp_path / "standing_typed.csv").write_text("list,name,id\n" + members, encoding="utf-8")
    columns = [field.name for field in fields(DeepSky)]
    objects = {"NGC 1": "M 1|Caldwell 2", "M 40": "", "NGC 3": "M 1x"}
    rows = [{"id": key, "names": names, "kind": "galaxy"} for key, names in objects.items()]
    lines = [columns, *([row.get(column, "") for column in columns] for row in rows)]
    deepsky = "\n".join(",".join(line) for line in lines)
    (tmp_path / "deepsky.csv.gz").write_bytes(gzip.compress(deepsky.encode()))
    return tmp_path


def test_members_of_a_numbered_list_are_those_the_catalog_names(tmp_path: Path):
    folder = _folder(tmp_path, "messier,t,a,1781,110,M,s\nown,t,a,1900,,,s\n", "own,x,NGC 3\n")
    assert best_list_counts(["NGC 1", "M 40", "NGC 3"], folder).tolist() == [1, 1, 1]
    assert best_lists_of(["NGC 3"], folder)[0][0].key == "own"
    assert [entry.entries for entry in load_best_lists(folder)] == [110, 0]


def test_loading_rejects_a_member_of_an_unknown_list(tmp_path: Path):
    folder = _folder(tmp_path, "own,t,a,1900,,,s\n", "other,x,NGC 3\n")
    with pytest.raises(CatalogError, match="standing_typed.csv .*no list other"):
        best_list_counts(["NGC 3"], folder)


def test_loading_rejects_a_year_that_is_no_number(tmp_path: Path):
    folder = _folder(tmp_path, "own,t,a,long ago,,,s\n", "own,x,NGC 3\n")
    with pytest.raises(CatalogError, match="standing_lists_typed.csv .*long ago"):
        load_best_lists(folder)
