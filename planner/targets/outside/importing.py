"""Takes an outside catalog into the user's folder: reads it, merges it, stores it, reports."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from hashlib import sha256
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.errors import UsageError
from planner.targets.catalog import load_designations, load_stars, manifest
from planner.targets.columns import objects, rows_of
from planner.targets.files import PAIRS_FILE
from planner.targets.library import joined_orbits, joined_pairs, orbit_keys
from planner.targets.outside.incoming import PairReading, as_pairs
from planner.targets.outside.layouts import Layout, layout_of, table_suffix, unpacked
from planner.targets.outside.merging import UNKNOWN, enriched, known_rows, turned_round
from planner.targets.outside.orbit_layout import read_elements
from planner.targets.outside.orbit_match import fitted
from planner.targets.outside.outside_names import key_lines, name_lines
from planner.targets.outside.refusals import LINES_NAMED, judged, refusal
from planner.targets.outside.shelf import save
from planner.targets.outside.star_match import named_by_stars
from planner.targets.outside.stored import About, Content
from planner.targets.outside.table_import import FORMATS, read_table
from planner.targets.outside.wds_layout import read_summary
from planner.targets.pairs import take

if TYPE_CHECKING:
    import datetime as dt
    from pathlib import Path

    from numpy.typing import NDArray

    from planner.targets.outside.refusals import Refusal
    from planner.targets.outside.shelf import Import
    from planner.targets.pairs import Pairs

REPEATED = "the same known pair as another row"
LAYOUT_WORDS = {
    Layout.WDS: "Washington Double Star summary",
    Layout.ORBITS: "Sixth Orbit Catalog elements",
    Layout.TABLE: "table of pairs",
}
SOURCES = {
    Layout.WDS: ("Washington Double Star Catalog, imported from {}", "WDS"),
    Layout.TABLE: ("{}", "{}"),
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
    refusals: tuple[Refusal, ...]
    remarks: tuple[str, ...]
    counted_as: str
    about: About | None


def import_catalog(request: ImportRequest) -> ImportReport:
    """Read a file, merge it with what is known, and store it in the user's folder, or nothing.

    Raises UsageError for a file that cannot be read as its layout or holds nothing usable,
    CatalogError when the folder is in use or holds a damaged import, OSError for a file or
    folder that cannot be read or written. Whatever is raised, the folder is as it was.
    """
    content = unpacked(request.path.read_bytes(), request.path.name)
    table = Layout.TABLE if request.columns else None
    layout = request.layout or table or layout_of(request.path, content)
    draft = _Draft(request, layout, content)
    about = save(request.folder, draft.prepare)
    return draft.report(about)


@dataclass(slots=True)
class _Counts:
    rows: int = 0
    taken: int = 0
    merged: int = 0
    gained: int = 0
    remeasured: int = 0


class _Draft:
    """One file on its way into the folder."""

    def __init__(self, request: ImportRequest, layout: Layout, content: bytes) -> None:
        """Read the file; nothing is written yet."""
        self.request, self.layout = request, layout
        self.file_name = request.path.name
        self.digest = sha256(content).hexdigest()
        self.counts = _Counts()
        self.reading = self._read(content)
        usable = len(self._table())
        self.refusals, self.remarks = self.reading.refusals, self.reading.remarks
        refused = sum(each.count for each in self.refusals)
        self.counts.rows = usable + refused
        if not usable:
            raise UsageError(self._nothing())

    def _read(self, content: bytes) -> Any:
        if self.layout is Layout.ORBITS:
            return read_elements(content, self.file_name)
        if self.layout is Layout.WDS:
            return read_summary(content)
        try:
            return read_table(content, table_suffix(self.request.path), self.request.columns)
        except UsageError as error:
            raise UsageError(f"{self.file_name}: {error}") from error

    def _table(self) -> Any:
        return self.reading.rows if isinstance(self.reading, PairReading) else self.reading.orbits

    def _nothing(self) -> str:
        first = max(self.refusals, key=lambda each: each.count, default=None)
        why = f"; {first.count} refused: {first.reason}" if first else ""
        return f"{self.file_name} holds nothing usable as {LAYOUT_WORDS[self.layout]}{why}"

    def prepare(self, present: tuple[Import, ...]) -> tuple[About, Content] | None:
        """What is to be stored, given the imports that count; None when it is there already."""
        about = self._about()
        if any(_same(entry.about, about) for entry in present):
            return None
        others = tuple(
            entry
            for entry in present
            if (entry.about.file_name, entry.about.layout) != (about.file_name, about.layout)
        )
        stored = self._orbits(others) if self.layout is Layout.ORBITS else self._pairs(others)
        refused = sum(each.count for each in self.refusals)
        counts = {"taken": self.counts.taken, "merged": self.counts.merged, "refused": refused}
        return replace(about, **counts), stored

    def _about(self) -> About:
        orbits = self.layout is Layout.ORBITS
        digests = {each.file: each.sha256 for each in manifest(self.request.shipped)}
        return About(
            number=0,
            table="orbits" if orbits else "pairs",
            layout=str(self.layout),
            file_name=self.file_name,
            date=self.request.date.isoformat(),
            columns=self.request.columns or "",
            taken=0,
            merged=0,
            refused=0,
            sha256=self.digest,
            shipped_sha256=digests.get(PAIRS_FILE, ""),
        )

    def _pairs(self, others: tuple[Import, ...]) -> Content:
        rows, shipped = self.reading.rows, self.request.shipped
        source, short = (text.format(self.file_name) for text in SOURCES[self.layout])
        pairs = as_pairs(rows, source, short, _constellations(rows.ra_deg, rows.dec_deg))
        known = joined_pairs(others, shipped).pairs
        dated = ~np.isnan(rows.position_epoch_yr)
        found = known_rows(known, pairs, rows.place_error_arcsec, dated)
        _, repeated = judged(rows.line, ((REPEATED, found.repeated),))
        self.refusals = self.refusals + repeated
        pairs, found = take(pairs, ~found.repeated), rows_of(found, ~found.repeated)
        pairs = turned_round(pairs, found.swapped)
        pairs = named_by_stars(pairs, load_stars(shipped), load_designations(shipped))
        new = found.row == UNKNOWN
        pairs = replace(
            pairs,
            pair_id=_unlike(pairs.pair_id, new, known),
            system_id=_systems(pairs, known, found.row),
        )
        before = take(known, found.row[~new])
        after, newer = enriched(before, take(pairs, ~new))
        self.counts.taken, self.counts.merged = int(new.sum()), int((~new).sum())
        self.counts.gained = int(np.sum(after.discoverer != before.discoverer))
        self.counts.remeasured = int(newer.sum())
        merged_into = np.where(new, "", known.pair_id[found.row])
        return Content(pairs, objects(tuple(merged_into)), key_lines(pairs), name_lines(pairs))

    def _orbits(self, others: tuple[Import, ...]) -> Content:
        reading, shipped = self.reading, self.request.shipped
        pairs = joined_pairs(others, shipped).pairs
        found = fitted(pairs, reading.orbits, reading.ra_deg, reading.dec_deg)
        if found.unused.any():
            self.remarks += (_unused(reading.line[found.unused]),)
        known = set(orbit_keys(joined_orbits(others, shipped)))
        keys = orbit_keys(found.orbits)
        self.counts.merged = sum(key in known for key in keys)
        self.counts.taken = len(keys) - self.counts.merged
        return Content(found.orbits, found.gains_from, "", "")

    def report(self, about: About | None) -> ImportReport:
        """What is to be said."""
        text = self.layout is not Layout.TABLE or FORMATS[table_suffix(self.request.path)] is None
        counts = {field.name: getattr(self.counts, field.name) for field in fields(_Counts)}
        return ImportReport(
            **counts,
            file_name=self.file_name,
            layout=LAYOUT_WORDS[self.layout],
            refusals=self.refusals,
            remarks=self.remarks,
            counted_as="line" if text else "row",
            about=about,
        )


def _unused(lines: NDArray[np.int64]) -> str:
    """What is said of orbits without a pair."""
    few = refusal("", lines)
    told = ", ".join(map(str, few.first_lines)) + (", ..." if few.count > LINES_NAMED else "")
    many = few.count > 1
    return (
        f"{few.count} {'orbits fit' if many else 'orbit fits'} no known pair and "
        f"{'are' if many else 'is'} not used until one is imported: "
        f"line{'s' if many else ''} {told}"
    )


def _same(stored: About, new: About) -> bool:
    wanted = ("file_name", "layout", "columns", "sha256", "shipped_sha256")
    return all(getattr(stored, name) == getattr(new, name) for name in wanted)


def _constellations(ra_deg: NDArray[np.float64], dec_deg: NDArray[np.float64]) -> NDArray[Any]:
    """IAU abbreviations. Source: Roman 1987, PASP 99, 695, through astropy."""
    from astropy import units
    from astropy.coordinates import SkyCoord, get_constellation

    places = SkyCoord(ra_deg * units.deg, dec_deg * units.deg)
    return objects(tuple(str(name) for name in get_constellation(places, short_name=True)))


def _unlike(ids: NDArray[Any], new: NDArray[np.bool_], known: Pairs) -> NDArray[Any]:
    """Identifiers that no known pair bears already."""
    taken = set(known.pair_id.tolist())
    found = []
    for identifier, fresh in zip(ids.tolist(), new.tolist(), strict=True):
        name, times = identifier, 1
        while fresh and name in taken:
            times += 1
            name = f"{identifier}-{times}"
        taken.add(name)
        found.append(name)
    return objects(tuple(found))


def _systems(pairs: Pairs, known: Pairs, row: NDArray[np.int64]) -> NDArray[Any]:
    """The system of each pair: that of a known pair with the same WDS identifier, if any."""
    by_wds = {wds: system for wds, system in zip(known.wds, known.system_id, strict=True) if wds}
    for wds, at in zip(pairs.wds.tolist(), row.tolist(), strict=True):
        if at != UNKNOWN and wds:
            by_wds.setdefault(wds, known.system_id[at])
    own = zip(pairs.wds.tolist(), pairs.system_id.tolist(), strict=True)
    return objects(tuple(by_wds.get(wds, system) for wds, system in own))
