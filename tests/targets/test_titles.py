"""What targets are called in a list."""

from __future__ import annotations

import pytest

from planner.importers.library import load_all_names
from planner.targets.catalog import load_deepsky
from planner.targets.names import find
from planner.targets.titles import object_designations, object_title


def _row(name: str) -> int:
    return find(load_all_names(None), name)[0].row


@pytest.mark.parametrize(
    ("name", "title", "group"),
    [
        ("M 66", "M 66", "Leo Triplet"),
        ("NGC 3628", "NGC 3628 Hamburger Galaxy", "Leo Triplet"),
        ("M 86", "M 86", "Markarian's Chain"),
        ("NGC 4438", "NGC 4438 The Eyes", "Markarian's Chain"),
        ("NGC 7335", "NGC 7335", "Deer Lick Group"),
    ],
)
def test_a_member_is_not_called_by_the_name_of_its_group(name: str, title: str, group: str) -> None:
    """M 66 is one of the Leo Triplet and not it; the group stands among the other names."""
    objects, row = load_deepsky(), _row(name)
    assert object_title(objects, row) == title
    assert object_designations(objects, row)[-1] == group
    assert row in [match.row for match in find(load_all_names(None), group)]


@pytest.mark.parametrize("text", ["markarian chain", "chain of markarian", "markarians chain"])
def test_a_group_is_found_whole_however_its_owner_is_written(text: str) -> None:
    wanted = find(load_all_names(None), "Markarian's Chain")
    assert len(wanted) == 7
    assert {match.row for match in find(load_all_names(None), text)} == {m.row for m in wanted}


def test_other_common_names_stay_in_the_title() -> None:
    objects = load_deepsky()
    assert object_title(objects, _row("M 57")) == "M 57 Ring Nebula"
    assert object_designations(objects, _row("M 57")) == ("NGC 6720", "M 57")
