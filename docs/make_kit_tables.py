"""Write the tables of blocks and keys into docs/formats.md from the kit file's schema."""

from __future__ import annotations

from pathlib import Path

from generated import with_part, write_or_check

from planner.kit.schema import BLOCKS

PAGE = Path(__file__).with_name("formats.md")
PART = "kit keys"


def key_tables() -> str:
    """One heading, one line and one table for each block, in the schema's order."""
    lines: list[str] = []
    for rule in BLOCKS:
        lines += [f"### `{rule.heading}`", "", rule.about, ""]
        lines += ["| key | meaning | range | default |", "|---|---|---|---|"]
        for key in rule.keys:
            cells = (f"`{key.name}`", key.meaning, key.range_text(), key.default_text())
            lines.append("| " + " | ".join(cells).replace("|  |", "| |").rstrip() + " |")
        lines.append("")
    return "\n".join(lines).replace("|  |", "| |")


if __name__ == "__main__":
    text = PAGE.read_text(encoding="utf-8")
    write_or_check(PAGE, with_part(text, PART, key_tables()), "make_kit_tables.py")
