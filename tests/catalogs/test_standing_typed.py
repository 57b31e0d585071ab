"""The typed best-of lists: every member is a target of ours, and the printed counts hold."""

import csv
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from planner.importers.library import load_all_names
from planner.targets.catalog import load_deepsky, load_pairs
from planner.targets.names import Domain, find
from planner.targets.standing import best_list_counts, best_lists_of

CATALOGS = Path(__file__).resolve().parents[2] / "catalogs"
# Two halves of one object, or one object catalogued twice: two numbers, one target (from memory).
ONE_TARGET = {("NGC 869", "NGC 884"), ("NGC 2371", "NGC 2372"), ("NGC 6882", "NGC 6885")}


def _rows(name: str) -> list[dict[str, str]]:
    with (CATALOGS / name).open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle))


MEMBERS = _rows("standing_typed.csv")
LISTS = _rows("standing_lists_typed.csv")
TYPED = [row["list"] for row in LISTS if not row["number_prefix"]]


def _names(key: str) -> list[str]:
    return [row["name"] for row in MEMBERS if row["list"] == key]


@cache
def _ids_called(name: str) -> frozenset[str]:
    """The catalogs' ids of all that bears a name."""
    tables = {Domain.PAIR: load_pairs().pair_id, Domain.DEEP_SKY: load_deepsky().id}
    found = find(load_all_names(None), name)
    return frozenset(tables[m.domain][m.row] for m in found if m.domain in tables)


def test_every_member_is_what_the_catalogs_call_by_its_name():
    wrong = [row for row in MEMBERS if row["id"] not in _ids_called(row["name"])]
    assert wrong == []


def test_no_member_is_typed_twice_and_every_list_has_members():
    keys = [(row["list"], row["name"], row["id"]) for row in MEMBERS]
    assert [key for key, count in Counter(keys).items() if count > 1] == []
    assert list(dict.fromkeys(row["list"] for row in MEMBERS)) == TYPED


def test_every_list_says_who_published_it_when_and_how_complete_it_is():
    assert len({row["list"] for row in LISTS}) == len(LISTS)
    for row in LISTS:
        assert re.fullmatch(r"[a-z0-9-]+", row["list"])
        assert row["title"] and row["author"]
        assert 1700 < int(row["year"]) < 2030
        assert re.match(r"complete|partly, from memory|from memory", row["status"])


def test_the_herschel_list_has_400_numbers_and_all_are_targets():
    names = _names("herschel-400")
    assert len(names) == len(set(names)) == 400
    assert [name for name in names if not re.fullmatch(r"NGC [1-9]\d{1,3}", name)] == []
    ids = Counter(row["id"] for row in MEMBERS if row["list"] == "herschel-400")
    shared = {identifier for identifier, count in ids.items() if count > 1}
    pairs = {
        tuple(r["name"] for r in MEMBERS if r["list"] == "herschel-400" and r["id"] == identifier)
        for identifier in shared
    }
    assert pairs == ONE_TARGET


def test_the_herschel_list_has_the_messier_objects_it_is_known_for():
    """Herschel gave numbers to few of Messier's; M 102 taken as NGC 5866 (from memory)."""
    numbers = {20, 33, 47, 48, 61, 76, 82, 91, 102, 104, 105, 106, 107, 108, 109, 110}
    messier = set().union(
        *(
            {int(text[2:]) for text in names.split("|") if re.fullmatch(r"M \d+", text)}
            for identifier, names in zip(load_deepsky().id, load_deepsky().names, strict=True)
            if identifier in {row["id"] for row in MEMBERS if row["list"] == "herschel-400"}
        )
    )
    assert messier == numbers


def test_the_finest_list_has_110_entries_without_messier_objects():
    names = set(_names("finest-ngc"))
    together = ({"NGC 869", "NGC 884"}, {"NGC 6960", "NGC 6992"})  # one entry each, in print
    assert all(pair <= names for pair in together)
    assert len(names) - len(together) == 110
    ids = [row["id"] for row in MEMBERS if row["list"] == "finest-ngc"]
    lists = best_lists_of(ids)
    assert [i for i, own in zip(ids, lists, strict=True) if "messier" in {e.key for e in own}] == []


def test_the_southern_lists_lie_in_the_south():
    """Bennett observed from 26 deg S and Lacaille from 34 deg S, where both saw half of the sky.

    The northernmost of Bennett's: M 14 and M 77 near the equator, M 2 (from memory).
    """
    limits_deg = {"bennett": 0.5, "lacaille": -18.0, "splendours": -20.0}
    dec = dict(zip(load_deepsky().id, load_deepsky().dec_deg, strict=True))
    for row in MEMBERS:
        if row["list"] in limits_deg:
            assert dec[row["id"]] < limits_deg[row["list"]], row


@pytest.mark.parametrize(("key", "printed"), [("messier", 110), ("caldwell", 109)])
def test_numbered_lists_are_taken_whole_from_the_catalog(key, printed):
    prefix = {"messier": "M", "caldwell": "Caldwell"}[key]
    deepsky = load_deepsky()
    found = {
        int(text.split()[1])
        for identifier, names in zip(deepsky.id, deepsky.names, strict=True)
        for text in (identifier, *names.split("|"))
        if re.fullmatch(rf"{prefix} \d+", text)
        and key in {entry.key for entry in best_lists_of([identifier])[0]}
    }
    assert found == set(range(1, printed + 1))


def test_printed_counts_are_not_passed():
    """No list holds more objects than were printed, the double stars counted by system."""
    system = dict(zip(load_pairs().pair_id, load_pairs().system_id, strict=True))
    for row in LISTS:
        if row["entries"] and row["list"] in TYPED:
            held = {system.get(r["id"], r["id"]) for r in MEMBERS if r["list"] == row["list"]}
            doubtful = 2  # single entries typed from memory may be wrong, as the status says
            assert len(held) <= int(row["entries"]) + doubtful, row["list"]


def test_most_of_the_catalog_stands_in_no_list():
    ids = load_deepsky().id.tolist()
    assert (best_list_counts(ids) == 0).mean() > 0.9
