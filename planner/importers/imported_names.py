"""Names of imported pairs, found by searching one text: a dictionary of them would be slow."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, overload

from planner.targets.name_key import normal_key
from planner.targets.name_sources import pair_labels
from planner.targets.pairs import take

if TYPE_CHECKING:
    from planner.targets.pairs import Pairs

MOST_NEAR = 20000  # more keys with the same beginning say nothing about likeness


@dataclass(frozen=True, slots=True)
class ImportedNames:
    """Search keys of one import, a line for each row: ``|stf1877|stf1877ab|14450+2704|``.

    ``rows`` says in which row of the table of pairs each line's pair stands.
    """

    keys: str
    rows: Sequence[int]

    def find(self, key: str) -> list[int]:
        """Rows of the pairs that bear a key, in the import's order."""
        wanted, found = f"|{key}|", []
        line, counted = 0, 0
        at = self.keys.find(wanted)
        while at >= 0:
            line += self.keys.count("\n", counted, at)
            found.append(self.rows[line])
            counted = at
            at = self.keys.find(wanted, self._line_end(at))
        return found

    def beginning(self, head: str) -> list[str]:
        """The keys that begin with a text; none when there are too many to choose from."""
        found = re.findall(rf"\|({re.escape(head)}[^|\n]*)", self.keys)
        return found if len(found) <= MOST_NEAR else []

    def _line_end(self, at: int) -> int:
        end = self.keys.find("\n", at)
        return len(self.keys) if end < 0 else end


@dataclass(frozen=True, slots=True)
class LabelList(Sequence[str]):
    """The labels of pairs, each made when it is asked for."""

    pairs: Pairs

    def __len__(self) -> int:
        """Number of labels."""
        return len(self.pairs)

    @overload
    def __getitem__(self, at: int) -> str: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[str]: ...
    def __getitem__(self, at: int | slice) -> str | Sequence[str]:
        """The label of a row, or those of a slice."""
        rows = range(len(self))[at]
        chosen = [rows] if isinstance(rows, int) else list(rows)
        labels = list(pair_labels(take(self.pairs, chosen)))
        return labels[0] if isinstance(rows, int) else labels


def key_lines(pairs: Pairs) -> str:
    """The search keys of each pair, a line for each: designations with and without components."""
    columns = (pairs.wds, pairs.discoverer, pairs.name, pairs.proper_name, pairs.components)
    lines = []
    for pair_id, wds, *texts, parts in zip(pairs.pair_id, *columns, strict=True):
        keys = [normal_key(text) for text in texts if text]
        letters = parts.replace(",", "").lower()
        if wds:
            keys += [wds, f"{wds}{keys[0] if texts[0] else ''}{letters}"]
        if not (wds and pair_id.startswith("wds")):
            keys.append(normal_key(pair_id))
        keys += [key + letters for key in keys]
        lines.append(f"|{'|'.join(dict.fromkeys(keys))}|")
    return "\n".join(lines)


def name_lines(pairs: Pairs) -> str:
    """The names worth completing, each once."""
    columns = (pairs.discoverer, pairs.name, pairs.proper_name)
    names = dict.fromkeys(text for column in columns for text in column.tolist() if text)
    return "\n".join(names)
