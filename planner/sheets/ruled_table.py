"""Columns of text with a rule below their heads."""

from __future__ import annotations

from tabulate import tabulate


def ruled_table(headers: list[str], rows: list[list[str]], align: str, indent: int = 0) -> str:
    """Columns no wider than their cells, set in by ``indent``; ``align`` l or r for each.

    Heads and cells may have several lines.
    """
    columns = zip(headers, *rows, strict=True)
    rule = ["-" * max(len(t) for cell in column for t in cell.split("\n")) for column in columns]
    text = str(
        tabulate(
            [headers, rule, *rows],
            tablefmt="plain",
            colalign=["left" if side == "l" else "right" for side in align],
            disable_numparse=True,
        )
    )
    return "\n".join(" " * indent + line for line in text.splitlines())
