"""Parts of these pages that a script writes: kept between two marks, never edited by hand."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


def with_part(text: str, name: str, body: str) -> str:
    """The page with one part replaced.

    The part stands between ``<!-- name: begin -->`` and ``<!-- name: end -->``.
    Raises ValueError when a mark is missing.
    """
    begin, end = f"<!-- {name}: begin -->\n", f"<!-- {name}: end -->"
    before, found, rest = text.partition(begin)
    _, closed, after = rest.partition(end)
    if not (found and closed):
        raise ValueError(f"the marks of the part {name!r} are missing")
    return f"{before}{begin}{body.strip()}\n{end}{after}"


def write_or_check(path: Path, text: str, script: str) -> None:
    """Write a page; with ``--check`` on the command line only compare, exit 1 where it differs."""
    parser = argparse.ArgumentParser(prog=f"docs/{script}")
    parser.add_argument("--check", action="store_true", help="compare only; exit 1 when stale")
    if not parser.parse_args().check:
        path.write_text(text, encoding="utf-8")
    elif not path.is_file() or path.read_text(encoding="utf-8") != text:
        sys.exit(f"{path.name} is stale; write it anew with: python docs/{script}")
