"""Names to targets, on small tables of well-known ones."""

from __future__ import annotations

import subprocess
import sys

import pytest
from target_samples import write_catalogs

from planner.errors import UnknownTargetError
from planner.importers.library import load_all_names
from planner.targets.names import Domain, NameIndex, find, near_names

# what the user types, and the labels of what it must find. Common practice, no source.
FOUND = [
    ("eps boo", ["eps Boo AB (Izar)"]),
    ("epsilon Bootis", ["eps Boo AB (Izar)"]),
    ("ε Boo", ["eps Boo AB (Izar)"]),
    ("36 Boo", ["eps Boo AB (Izar)"]),
    ("IZAR", ["eps Boo AB (Izar)"]),
    ("HIP 72105", ["eps Boo AB (Izar)"]),
    ("HD 129988", ["eps Boo AB (Izar)"]),
    ("HR 5506", ["eps Boo AB (Izar)"]),
    ("ads 9372", ["eps Boo AB (Izar)"]),
    ("STF1877", ["eps Boo AB (Izar)"]),
    ("Struve 1877", ["eps Boo AB (Izar)"]),
    ("Σ1877", ["eps Boo AB (Izar)"]),
    ("STF 1877 AB", ["eps Boo AB (Izar)"]),
    ("eps Boo A", ["eps Boo AB (Izar)"]),
    ("14450+2704", ["eps Boo AB (Izar)"]),
    ("WDS 14450+2704", ["eps Boo AB (Izar)"]),
    ("16 Cyg", ["16 Cyg AB"]),
    ("16 Cygni", ["16 Cyg AB"]),
    ("M13", ["M 13 (Hercules Globular Cluster)"]),
    ("m 13", ["M 13 (Hercules Globular Cluster)"]),
    ("Messier 13", ["M 13 (Hercules Globular Cluster)"]),
    ("NGC6205", ["M 13 (Hercules Globular Cluster)"]),
    ("Ring Nebula", ["M 57 (Ring Nebula)"]),
    ("the ring nebula", ["M 57 (Ring Nebula)"]),
    ("ring", ["M 57 (Ring Nebula)"]),
    ("hip72105-AB", ["eps Boo AB (Izar)"]),
    ("J0040000+200000", ["Psc 0040+20"]),
    ("Psc 0040+20", ["Psc 0040+20"]),
    ("psc 0040 20", ["Psc 0040+20"]),
    ("C 14", ["Caldwell 14 (h and chi Persei)"]),
    ("Caldwell 14", ["Caldwell 14 (h and chi Persei)"]),
    ("Double Cluster", ["Caldwell 14 (h and chi Persei)"]),
    ("Sh2-184", ["NGC 281"]),
    ("ngc 281", ["NGC 281"]),
    ("jupiter", ["Jupiter"]),
    ("the Moon", ["Moon"]),
    ("Arcturus", ["alp Boo (Arcturus)"]),
    ("alpha Lyrae", ["alp Lyr (Vega)"]),
    ("Meissa", ["lam Ori (Meissa)"]),
]


@pytest.fixture(scope="module")
def index(tmp_path_factory: pytest.TempPathFactory) -> NameIndex:
    return load_all_names(None, write_catalogs(tmp_path_factory.mktemp("names")))


@pytest.mark.parametrize(("text", "labels"), FOUND, ids=[text for text, _ in FOUND])
def test_find_forgives_spelling(index: NameIndex, text: str, labels: list[str]) -> None:
    assert [match.label for match in find(index, text)] == labels


def test_find_prefers_the_exact_name(index: NameIndex) -> None:
    assert [m.label for m in find(index, "eps1 Lyr")][0] == "eps1 Lyr AB (Double Double)"
    assert [m.label for m in find(index, "eps Lyr")][0] == "eps Lyr AB,CD"


def test_find_brings_the_close_pairs_of_a_wide_one_of_that_letter(index: NameIndex) -> None:
    labels = ["eps Lyr AB,CD", "eps1 Lyr AB (Double Double)", "eps2 Lyr CD"]
    assert [m.label for m in find(index, "eps Lyr")] == labels


def test_find_gives_every_target_of_a_shared_name(index: NameIndex) -> None:
    assert len(find(index, "18443+3940")) == 3
    assert {m.label for m in find(index, "gam Vir")} == {"gam Vir AB (Porrima)", "Vir 1241-01"}


def test_find_puts_pairs_before_stars_and_primaries_before_secondaries(index: NameIndex) -> None:
    found = find(index, "HIP 91926")
    assert [m.label for m in found] == ["eps2 Lyr CD", "eps Lyr AB,CD"]
    assert all(m.domain is Domain.PAIR for m in found)
    assert find(index, "HIP 69673")[0].domain is Domain.STAR


def test_find_rows_count_in_their_tables(index: NameIndex) -> None:
    assert [(m.domain, m.row) for m in find(index, "M 57")] == [(Domain.DEEP_SKY, 1)]
    assert [(m.domain, m.row) for m in find(index, "Porrima")][0] == (Domain.PAIR, 6)
    assert [(m.domain, m.row) for m in find(index, "Saturn")] == [(Domain.SOLAR_SYSTEM, 5)]


@pytest.mark.parametrize(
    ("text", "near"), [("Isar", "Izar"), ("Porima", "Porrima"), ("Juppiter", "Jupiter")]
)
def test_find_rejects_unknown_names_with_near_ones(index: NameIndex, text: str, near: str) -> None:
    with pytest.raises(UnknownTargetError, match=f"{text}.*near names: .*{near}"):
        find(index, text)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   ",
        "???",
        "M 9999999",
        "qqqqq",
        "pluto",
        "comet",
        "leo triplet",
        "HD 129989",
        "nebula",
    ],
)
def test_find_rejects_what_nobody_is_called(index: NameIndex, text: str) -> None:
    """With examples of names, and none that is far-fetched."""
    with pytest.raises(UnknownTargetError, match="no target is called .*; write a name like Izar"):
        find(index, text)


@pytest.mark.parametrize("text", ["sun", "The Sun", "SUN"])
def test_find_refuses_the_sun_with_a_caution(index: NameIndex, text: str) -> None:
    with pytest.raises(UnknownTargetError, match="Never point a telescope or finder at or near"):
        find(index, text)


def test_find_takes_all_the_words_of_a_common_name_for_it(index: NameIndex) -> None:
    """In any order, some left out; but not words that only say what a thing is."""
    for text in ("hercules cluster", "Cluster Hercules", "the hercules globular"):
        assert [m.label for m in find(index, text)] == ["M 13 (Hercules Globular Cluster)"]
    with pytest.raises(UnknownTargetError, match="no target"):
        find(index, "globular cluster")


def test_near_names_of_a_number_stay_in_its_catalog(index: NameIndex) -> None:
    assert near_names(index, "STF 1878")[0] == "eps Boo AB (Izar)"
    assert near_names(index, "M 5")[0].startswith("M 57")


def test_names_load_no_numerical_package() -> None:
    code = (
        "import sys, planner.targets.names\n"
        "heavy = {'numpy', 'pandas', 'astropy'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
