"""Reads the project's pages: their tables by heading, and their fenced blocks."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def fenced(page: Path, language: str) -> list[str]:
    """The text of every fenced block of a language, in order."""
    found = _FENCE.findall(page.read_text(encoding="utf-8"))
    return [text for name, text in found if name == language]


@cache
def tables(page: Path) -> dict[str, list[list[str]]]:
    """The rows of the tables under each heading, without head and rule; cells stripped."""
    found: dict[str, list[list[str]]] = {}
    heading = ""
    for line in page.read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            heading = line.lstrip("#").strip()
        elif line.startswith("|"):
            cells = [cell.strip() for cell in line.strip("|").split("|")]
            found.setdefault(heading, []).append(cells)
    return {heading: rows[2:] for heading, rows in found.items()}


def bare(cell: str) -> str:
    """A cell without its code marks."""
    return cell.replace("`", "")
