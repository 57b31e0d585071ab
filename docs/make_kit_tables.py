"""Write the tables of blocks and keys into docs/formats.md from the kit file's schema."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from generated import with_part, write_or_check

from planner.kit.schema import BLOCKS, MIRROR, MIRROR_EDGE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.kit.rule import BlockRule

PAGE = Path(__file__).with_name("formats.md")
PARTS = {"kit keys": BLOCKS, "mirror keys": (MIRROR, MIRROR_EDGE)}


def key_tables(rules: Sequence[BlockRule]) -> str:
    """One heading, one line and one table for each block, in the schema's order."""
    lines: list[str] = []
    for rule in rules:
        lines += [f"### `{rule.heading}`", "", rule.about, ""]
        lines += ["| key | meaning | range | default |", "|---|---|---|---|"]
        for key in rule.keys:
            cells = (f"`{key.name}`", key.meaning, key.range_text(), key.default_text())
            lines.append("| " + " | ".join(cells).replace("|  |", "| |").rstrip() + " |")
        lines.append("")
    return "\n".join(lines).replace("|  |", "| |")


if __name__ == "__main__":
    text = PAGE.read_text(encoding="utf-8")
    for name, rules in PARTS.items():
        text = with_part(text, name, key_tables(rules))
    write_or_check(PAGE, text, "make_kit_tables.py")
