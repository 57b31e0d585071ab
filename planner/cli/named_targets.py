"""Turns names on the command line into the ids of targets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.cli.night_request import library_folder
from planner.errors import UnknownTargetError

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

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
    return tuple(dict.fromkeys(i for name in names for i in listed_ids(find(index, name))))


def judged_ids(names: Sequence[str]) -> frozenset[str]:
    """The ids by which each of the names is judged: all the pairs of a multiple star.

    Raises:
        UnknownTargetError: a name is not known, or is no target.
    """
    from planner.importers.library import load_all_names
    from planner.targets.names import find

    index = load_all_names(library_folder())
    return frozenset().union(*(ids_judged(find(index, name)) for name in names))


def ids_judged(matches: list[Match]) -> frozenset[str]:
    """The ids of the targets that a name means; a star neither double nor red is refused."""
    from planner.importers.library import load_all_pairs
    from planner.targets.catalog import load_deepsky
    from planner.targets.names import Domain

    found = _red_star_ids(matches)
    for match in matches:
        if match.domain is Domain.PAIR:
            found.add(str(load_all_pairs(library_folder()).pair_id[match.row]))
        elif match.domain is Domain.DEEP_SKY and load_deepsky().kind[match.row] != "double":
            found.add(str(load_deepsky().id[match.row]))
        elif match.domain is Domain.SOLAR_SYSTEM:
            found.add(match.label)
    if not found:
        raise UnknownTargetError(
            f"{matches[0].label} is a star, but no double in the catalogs; only doubles, red "
            "stars, deep-sky objects, the Moon and planets are judged"
        )
    return frozenset(found)


def _red_star_ids(matches: list[Match]) -> set[str]:
    """The ids of the red stars among the stars that a name means."""
    from planner.targets.catalog import load_designations, load_red_stars
    from planner.targets.names import Domain
    from planner.targets.red_stars import NO_RED_STAR, red_star_row

    stars, found = load_red_stars(), set()
    hip = load_designations().hip
    for match in matches:
        if match.domain is Domain.STAR:
            row = red_star_row(stars, hip[match.row], match.label)
            found |= {str(stars.name[row])} if row != NO_RED_STAR else set()
    return found


def listed_ids(matches: list[Match]) -> list[str]:
    """The ids that the targets of a name have in a night's list. Raises UnknownTargetError."""
    from planner.importers.library import load_all_pairs
    from planner.targets.catalog import load_deepsky
    from planner.targets.names import Domain

    found = sorted(_red_star_ids(matches))
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
            "red star, a deep-sky object, the Moon or a planet"
        )
    return found


def system_ids(ids: Iterable[str]) -> tuple[str, ...]:
    """The ids as the lines of a list have them: a pair's is that of its multiple star."""
    from planner.importers.library import load_all_pairs

    pairs = load_all_pairs(library_folder())
    systems = dict(zip(pairs.pair_id.tolist(), pairs.system_id.tolist(), strict=True))
    return tuple(dict.fromkeys(str(systems.get(name, name)) for name in ids))
