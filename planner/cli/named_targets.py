"""Turns names on the command line into the ids of targets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.cli.night_request import library_folder
from planner.errors import UnknownTargetError

if TYPE_CHECKING:
    from planner.targets.names import Match


def list_ids(text: str | None) -> tuple[str, ...]:
    """The ids that names between commas have in a night's list; one for a multiple star.

    Raises:
        UnknownTargetError: a name is not known, or is no target.
    """
    from planner.importers.library import load_all_names
    from planner.targets.names import find

    if text is None:
        return ()
    names = [name.strip() for name in text.split(",") if name.strip()]
    index = load_all_names(library_folder())
    return tuple(dict.fromkeys(i for name in names for i in _ids_of(find(index, name))))


def _ids_of(matches: list[Match]) -> list[str]:
    from planner.importers.library import load_all_pairs
    from planner.targets.catalog import load_deepsky
    from planner.targets.names import Domain

    found = []
    for match in matches:
        if match.domain is Domain.PAIR:
            found.append(str(load_all_pairs(library_folder()).system_id[match.row]))
        elif match.domain is Domain.DEEP_SKY and load_deepsky().kind[match.row] != "double":
            found.append(str(load_deepsky().id[match.row]))
        elif match.domain is Domain.SOLAR_SYSTEM:
            found.append(match.label)
    if not found:
        raise UnknownTargetError(
            f"{matches[0].label} is a star, but no double in the catalogs; name a double, a "
            "deep-sky object, the Moon or a planet"
        )
    return found
