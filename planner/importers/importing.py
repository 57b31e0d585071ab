"""Takes an outside catalog into the user's folder: reads it, merges it, keeps it, reports."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import PurePath
from typing import TYPE_CHECKING

from planner.errors import UsageError
from planner.importers.about import About
from planner.importers.derived import next_key, write_derived
from planner.importers.deriving import Known, Made, derived_from, read_file
from planner.importers.harmless import harmless
from planner.importers.incoming import PairReading
from planner.importers.layouts import Layout, layout_of, table_suffix, unpacked
from planner.importers.library import joined
from planner.importers.store import same_source, save
from planner.importers.table_import import FORMATS
from planner.targets.catalog import manifest
from planner.targets.files import PAIRS_FILE

if TYPE_CHECKING:
    import datetime as dt
    from pathlib import Path

    from planner.importers.rejected_rows import RejectedRows
    from planner.importers.store import Import

LAYOUT_WORDS = {
    Layout.WDS: "Washington Double Star summary",
    Layout.ORBITS: "Sixth Orbit Catalog elements",
    Layout.TABLE: "table of pairs",
}


@dataclass(frozen=True, slots=True)
class ImportRequest:
    """Which file goes into which folder.

    ``date`` is the day of the import. ``layout`` None finds out by itself. ``columns`` is the
    map of a table's columns, see ``column_map``. ``shipped`` is the package's own folder of
    catalogs unless given.
    """

    path: Path
    folder: Path
    date: dt.date
    layout: Layout | None = None
    columns: str | None = None
    shipped: Path | None = None


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What became of a file's rows.

    ``rows`` are all that could be a target, ``taken`` the new ones, ``merged`` those known
    before; of these ``gained`` known pairs got a designation and ``remeasured`` a newer measure.
    ``counted_as`` names the rows in words: line (of a text) or row (of a table). ``about`` is
    None when this very file had been imported already.
    """

    file_name: str
    layout: str
    rows: int
    taken: int
    merged: int
    gained: int
    remeasured: int
    refusals: tuple[RejectedRows, ...]
    remarks: tuple[str, ...]
    counted_as: str
    about: About | None


def import_catalog(request: ImportRequest) -> ImportReport:
    """Read a file, merge it with what is known, and store it in the user's folder, or nothing.

    Raises UsageError for a file that cannot be read as its layout or holds nothing usable,
    CatalogError when the folder is in use or holds a damaged import, OSError for a file or
    folder that cannot be read or written. Whatever is raised, the folder is as it was.
    """
    content = unpacked(request.path.read_bytes(), harmless(request.path.name))
    table = Layout.TABLE if request.columns else None
    layout = request.layout or table or layout_of(request.path, content)
    draft = _Draft(request, layout, content)
    added = save(request.folder, draft.prepare)
    if added is not None and draft.made is not None:
        with suppress(OSError):  # it can be made anew
            write_derived(added.table, draft.key, draft.made.derived)
    return draft.report(added.about if added else None)


class _Draft:
    """One file on its way into the folder."""

    def __init__(self, request: ImportRequest, layout: Layout, content: bytes) -> None:
        """Read the file; nothing is written yet."""
        self.request, self.layout, self.content = request, layout, content
        self.about = self._about()
        self.reading = read_file(self.about, content)
        self.made: Made | None = None
        self.key = ""
        found = self.reading
        usable = len(found.rows if isinstance(found, PairReading) else found.orbits)
        self.rows = usable + sum(each.count for each in found.refusals)
        if not usable:
            raise UsageError(self._nothing())

    def _about(self) -> About:
        digests = {each.file: each.sha256 for each in manifest(self.request.shipped)}
        return About(
            number=0,
            table="orbits" if self.layout is Layout.ORBITS else "pairs",
            layout=str(self.layout),
            file_name=harmless(self.request.path.name),
            date=self.request.date.isoformat(),
            columns=harmless(self.request.columns or ""),
            taken=0,
            merged=0,
            refused=0,
            sha256=sha256(self.content).hexdigest(),
            shipped_sha256=digests.get(PAIRS_FILE, ""),
        )

    def _nothing(self) -> str:
        first = max(self.reading.refusals, key=lambda each: each.count, default=None)
        why = f"; {first.count} refused: {first.reason}" if first else ""
        words = LAYOUT_WORDS[self.layout]
        return f"{self.about.file_name} holds nothing usable as {words}{why}"

    def prepare(self, present: tuple[Import, ...]) -> tuple[About, bytes] | None:
        """What is to be kept, given the imports that count; None when it is there already."""
        about = self.about
        if any(_same(entry.about, about) for entry in present):
            return None
        replaced = same_source(present, about)
        others = (entry for entry in present if entry.about.number != replaced)
        known = joined(others, self.request.shipped)
        known_before = Known(known.pairs, known.orbits, self.request.shipped)
        self.made = derived_from(about, self.reading, known_before)
        self.key = next_key(known.key, about)
        refused = sum(each.count for each in self._refusals())
        taken, merged = self.made.taken, self.made.merged
        return replace(about, taken=taken, merged=merged, refused=refused), self.content

    def _refusals(self) -> tuple[RejectedRows, ...]:
        return self.reading.refusals + (self.made.refusals if self.made else ())

    def report(self, about: About | None) -> ImportReport:
        """What is to be said."""
        name, made = self.about.file_name, self.made
        text = self.layout is not Layout.TABLE or FORMATS[table_suffix(PurePath(name))] is None
        return ImportReport(
            file_name=name,
            layout=LAYOUT_WORDS[self.layout],
            rows=self.rows,
            taken=made.taken if made else 0,
            merged=made.merged if made else 0,
            gained=made.gained if made else 0,
            remeasured=made.remeasured if made else 0,
            refusals=self._refusals(),
            remarks=self.reading.remarks + (made.remarks if made else ()),
            counted_as="line" if text else "row",
            about=about,
        )


def _same(kept: About, new: About) -> bool:
    wanted = ("file_name", "layout", "columns", "sha256")
    return all(getattr(kept, name) == getattr(new, name) for name in wanted)
