"""Lists of targets: published ones by their key, the user's own from a file of names."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner.cli.night_request import library_folder
from planner.errors import UnknownTargetError, UsageError

if TYPE_CHECKING:
    from planner.cli.options import F
    from planner.targets.names import NameIndex

SHIPPED = ("messier", "caldwell", "herschel-400")
REMARK = "#"


def list_option(command: F) -> F:
    """The option that narrows a night to a list."""
    return click.option(
        "--list",
        "wanted_list",
        metavar="NAME|FILE",
        help=f"Only targets of a list: {', '.join(SHIPPED)}, or a file of your own with a name on "
        "each line.",
    )(command)


def list_members(name: str) -> tuple[str, ...]:
    """The ids of a list's targets, as the lines of a night have them; sorted, each once.

    Raises:
        UsageError: no such list or file, or names that are not known, each with its line.
    """
    key = name.strip().casefold()
    if key in SHIPPED:
        from planner.cli.named_targets import system_ids
        from planner.targets.standing import members_of

        return tuple(sorted(system_ids(members_of(key))))
    path = Path(name)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise UsageError(
            f"--list {name}: not a text file in UTF-8; save it as plain text"
        ) from error
    except OSError as error:
        raise UsageError(
            f"--list {name}: no such list ({', '.join(SHIPPED)}), and no file that can be read: "
            f"{(error.strerror or str(error)).lower()}"
        ) from error
    return _own_members(name, text)


def _own_members(source: str, text: str) -> tuple[str, ...]:
    from planner.importers.library import load_all_names

    index = load_all_names(library_folder())
    found: dict[str, None] = {}
    faults = []
    for number, line in enumerate(text.splitlines(), 1):
        words = line.partition(REMARK)[0].strip()
        if not words:
            continue
        try:
            found |= dict.fromkeys(_ids(index, words))
        except UnknownTargetError as error:
            faults.append(f"{source}, line {number}: {error}")
    if faults:
        raise UsageError(faults[0], tuple(faults[1:]))
    if not found:
        raise UsageError(f"--list {source}: it names no target; write one name on each line")
    return tuple(sorted(found))


def _ids(index: NameIndex, name: str) -> list[str]:
    from planner.cli.named_targets import listed_ids
    from planner.targets.names import find

    return listed_ids(find(index, name))
