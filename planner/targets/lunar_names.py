"""Names of lunar features as people say them: Rupes Recta, the straight wall, crater Atlas.

Holds text only and does not load numpy, so that names complete quickly in a shell.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from planner.targets.files import read_columns
from planner.targets.name_key import normal_key
from planner.targets.spelling import nearest

if TYPE_CHECKING:
    from pathlib import Path

LUNAR_FEATURES_FILE = "lunar_features_typed.csv"
NEAR_FEATURES = 4
_KINDS = re.compile(r"(?i)^\s*(?:the\s+)?(crater|lunar|moon|moon's|dome|mountain|cape)\s+")
_RILLE = re.compile(r"(?i)^\s*(?:the\s+)?(.+?)(?:'s)?\s+(?:rille|rilles|rill|rills)\s*$")
_THE = re.compile(r"(?i)^\s*the\s+")
# English names in common use; common practice, no source.
_ENGLISH = {
    "straight wall": "Rupes Recta", "alpine valley": "Vallis Alpes", "alps": "Montes Alpes",
    "apennines": "Montes Apenninus", "lunar apennines": "Montes Apenninus",
    "caucasus": "Montes Caucasus", "bay of rainbows": "Sinus Iridum",
    "schroter's valley": "Vallis Schroteri", "sea of crises": "Mare Crisium",
    "sea of tranquillity": "Mare Tranquillitatis", "sea of tranquility": "Mare Tranquillitatis",
    "sea of serenity": "Mare Serenitatis", "sea of rains": "Mare Imbrium",
    "sea of showers": "Mare Imbrium", "sea of clouds": "Mare Nubium",
    "sea of moisture": "Mare Humorum", "sea of nectar": "Mare Nectaris",
    "sea of fertility": "Mare Fecunditatis", "sea of cold": "Mare Frigoris",
    "ocean of storms": "Oceanus Procellarum", "hortensius domes": "Domes Hortensius",
}  # fmt: skip


@cache
def lunar_names(folder: Path | None = None) -> tuple[str, ...]:
    """The name of every feature in the table's order. Raises CatalogError."""
    return read_columns(LUNAR_FEATURES_FILE, ("name",), folder)["name"]


def lunar_row(text: str) -> int | None:
    """The row of the feature that a text names, None where it names none.

    Case, spaces and accents do not matter; a kind may stand before a name (crater Atlas), a rille
    may follow its crater's (Hadley rille), and some English names are known.
    """
    keys = _keys()
    for attempt in _attempts(text):
        row = keys.get(normal_key(attempt))
        if row is not None:
            return row
    return None


def says_lunar(text: str) -> bool:
    """Whether the text itself says that a feature of the Moon is meant: crater Atlas."""
    return bool(_KINDS.match(text))


def near_lunar(text: str) -> list[str]:
    """Features whose names are few slips away from the text; four at most."""
    keys = _keys()
    found: dict[str, None] = {}
    for attempt in (text, _KINDS.sub("", text)):
        for key in nearest(normal_key(attempt), keys):
            found[lunar_names()[keys[key]]] = None
    return list(found)[:NEAR_FEATURES]


def _attempts(text: str) -> list[str]:
    """The text as it is, without its kind, and as Latin would have it."""
    bare = _THE.sub("", text).strip()
    found = [bare, _KINDS.sub("", bare)]
    if rille := _RILLE.match(bare):
        found += [f"Rima {rille[1]}", f"Rimae {rille[1]}"]
    return found


@cache
def _keys() -> dict[str, int]:
    keys = {normal_key(name): row for row, name in enumerate(lunar_names())}
    rows = {name: row for row, name in enumerate(lunar_names())}
    return keys | {normal_key(said): rows[name] for said, name in _ENGLISH.items()}
