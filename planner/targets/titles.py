"""What a target is called in a list: the one name told, and all it has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.targets.place_name import place_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.targets.deepsky import DeepSky
    from planner.targets.pairs import Pairs
    from planner.targets.red_stars import RedStars

GROUPS = (" Chain", " Group", " Triplet")  # how the names of groups end: no name for a member


def object_title(objects: DeepSky, row: int) -> str:
    """Messier number, else the catalogue's own, with the common name unless that is a group's."""
    first = next(
        (name for name in objects.names[row].split("|") if name.startswith("M ")), objects.id[row]
    )
    names = objects.common_name[row].split("|")
    common = next((name for name in names if not name.endswith(GROUPS)), "")
    return f"{first} {common}".strip()


def object_designations(objects: DeepSky, row: int) -> tuple[str, ...]:
    """Every designation of an object, its own first, and the group it belongs to last."""
    names = (name for name in objects.names[row].split("|") if name)
    groups = (name for name in objects.common_name[row].split("|") if name.endswith(GROUPS))
    return tuple(dict.fromkeys((objects.id[row], *names, *groups)))


def red_star_title(stars: RedStars, row: int) -> str:
    """The star's letters, with its name in words."""
    return f"{stars.name[row]} {stars.common_name[row]}".strip()


def red_star_designations(stars: RedStars, row: int) -> tuple[str, ...]:
    """The star's letters and its Hipparcos number."""
    hip = (f"HIP {stars.hip[row]}",) if stars.hip[row] else ()
    return (str(stars.name[row]), *hip)


def pair_title(pairs: Pairs, row: int) -> str:
    """The star's letter or number and its own name; else the discoverer's number."""
    parts = [pairs.name[row] or pairs.discoverer[row], pairs.proper_name[row]]
    words = " ".join(part for part in parts if part)
    components = pairs.components[row]
    if not words:
        place = place_name(pairs.constellation[row], pairs.ra_deg[row], pairs.dec_deg[row])
        words = place or pairs.pair_id[row]
    return words if components in ("", "AB") else f"{words} {components}"


def pair_designations(pairs: Pairs, row: int) -> tuple[str, ...]:
    """Every name of a pair."""
    hip = f"HIP {pairs.hip[row]}" if pairs.hip[row] else ""
    wds = f"WDS {pairs.wds[row]}" if pairs.wds[row] else pairs.place_id[row]
    names = (pairs.proper_name[row], pairs.name[row], pairs.discoverer[row], wds, hip)
    return tuple(str(name) for name in names if name)


def system_title(pairs: Pairs, lead: int, others: Sequence[int]) -> str:
    """The leading pair's name, with the name of its multiple star where it has none itself."""
    own = pairs.proper_name[lead]
    proper = "" if own else next((pairs.proper_name[o] for o in others if pairs.proper_name[o]), "")
    return f"{pair_title(pairs, lead)} {proper}".rstrip()


def system_designations(pairs: Pairs, lead: int, others: Sequence[int]) -> tuple[str, ...]:
    """Every name of the leading pair, then the discoverers' of the further pairs."""
    further = (str(pairs.discoverer[other]) for other in others)
    names = (*pair_designations(pairs, lead), *(name for name in further if name))
    return tuple(dict.fromkeys(names))
