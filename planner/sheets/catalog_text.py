"""The catalogs' sources as a table and as rows; what an import or an undo did, in words."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from tabulate import tabulate

from planner.sheets.page_text import cell_text, wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.importers.about import About
    from planner.importers.importing import ImportReport
    from planner.importers.rejected_rows import RejectedRows
    from planner.importers.store import Undone
    from planner.targets.catalog import Source

FIELDS = ("name", "file", "rows", "epoch", "licence", "source", "edition")
WIDTHS = {"name": 20, "licence": 18, "source": 26, "edition": 16}
FILE_WIDTH = 36
LAYOUT_WORDS = {
    "wds": "Washington Double Star summary",
    "orbits": "Sixth Orbit Catalog elements",
    "table": "table of pairs",
}
IMPORT_FORMAT = "planner-import/1"


def catalog_rows(entries: Sequence[Source]) -> list[dict[str, Any]]:
    """One flat dict a catalog, with the same keys in the same order."""
    return [{field: getattr(entry, field) for field in FIELDS} for entry in entries]


def import_rows(own: Sequence[About]) -> list[dict[str, Any]]:
    """One flat dict an import."""
    return [asdict(about) for about in own]


def imports_as_catalog_rows(own: Sequence[About]) -> list[dict[str, Any]]:
    """The imports with the keys that the planner's own catalogs have."""
    return [
        {
            "name": f"own {about.table}",
            "file": about.file_name,
            "rows": about.taken + about.merged,
            "epoch": "",
            "licence": "",
            "source": LAYOUT_WORDS[about.layout],
            "edition": f"imported {about.date}",
        }
        for about in own
    ]


def catalog_text(entries: Sequence[Source]) -> str:
    """A table of at most 100 columns."""
    rows = [
        [
            _cell(entry, "name"),
            entry.rows,
            _cell(entry, "source"),
            _cell(entry, "edition"),
            _cell(entry, "licence"),
        ]
        for entry in entries
    ]
    return _table(
        rows,
        ["catalog", "rows", "source", "edition", "licence"],
        ("left", "right", "left", "left", "left"),
    )


def imports_text(own: Sequence[About]) -> str:
    """The imports as a table of at most 100 columns; empty without any."""
    if not own:
        return ""
    rows = [
        [
            cell_text(about.file_name, FILE_WIDTH),
            about.taken,
            about.merged,
            about.refused,
            cell_text(LAYOUT_WORDS[about.layout], 20),
            about.date,
        ]
        for about in own
    ]
    return _table(
        rows,
        ["your own", "new", "known", "refused", "layout", "imported"],
        ("left", "right", "right", "right", "left", "left"),
    )


def import_text(report: ImportReport) -> str:
    """What became of a file's rows, in lines of at most 100 columns."""
    heading = f"{report.file_name}: {report.layout}, {report.rows} rows"
    if report.about is None:
        return _lines([heading, "imported before, and nothing has changed since: nothing was done"])
    known = "with targets known before"
    if report.about.table == "pairs":
        known += f" ({report.gained} gained a designation, {report.remeasured} a newer measure)"
    refused = sum(each.count for each in report.refusals)
    lines = [
        heading,
        f"{report.taken:9d}  taken",
        f"{report.merged:9d}  merged {known}",
        f"{refused:9d}  refused{':' if refused else ''}",
        *(_refusal_words(each, report.counted_as) for each in report.refusals),
        *(f"note: {remark}" for remark in report.remarks),
    ]
    if report.about.replaces:
        lines.append(f"note: this stands for the earlier import of {report.file_name}")
    return _lines([*lines, "undo with: planner catalog undo"])


def import_document(report: ImportReport) -> dict[str, Any]:
    """The same as plain values for JSON."""
    found = asdict(report)
    about = found.pop("about")
    return {
        "format": IMPORT_FORMAT,
        **found,
        "already_imported": about is None,
        "replaces_earlier": bool(about and about["replaces"]),
    }


def undo_text(undone: Undone) -> str:
    """What an undo did."""
    if undone.removed is None:
        files = ", ".join(undone.damaged_files)
        return _lines([f"removed what was damaged: {files}; import the catalog again"])
    about = undone.removed
    lines = [
        f"took back the import of {about.file_name} from {about.date} "
        f"({about.taken} new, {about.merged} known before)"
    ]
    if undone.restored is not None:
        lines.append(
            f"the import of {undone.restored.file_name} from {undone.restored.date} counts again"
        )
    return _lines(lines)


def _refusal_words(refusal: RejectedRows, counted_as: str) -> str:
    lines = ", ".join(str(line) for line in refusal.first_lines)
    more = ", ..." if refusal.count > len(refusal.first_lines) else ""
    plural = "s" if refusal.count > 1 else ""
    return f"{refusal.count:17d}  {refusal.reason}: {counted_as}{plural} {lines}{more}"


def _lines(lines: list[str]) -> str:
    """Each line wrapped at 100 columns, its continuation set in."""
    return "\n".join(
        wrapped(line, 19 if line.startswith("     ") else 2, break_on_hyphens=False)
        for line in lines
    )


def _table(rows: list[list[Any]], headers: list[str], sides: tuple[str, ...]) -> str:
    return str(tabulate(rows, headers=headers, colalign=sides, disable_numparse=True))


def _cell(entry: Source, field: str) -> str:
    return cell_text(str(getattr(entry, field)), WIDTHS[field])
