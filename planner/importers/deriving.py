"""Makes the table of an import from its file and from what is known already."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.errors import UsageError
from planner.importers.about import damaged
from planner.importers.derived import Derived
from planner.importers.imported_names import key_lines, name_lines
from planner.importers.incoming import PairReading, as_pairs
from planner.importers.joining import orbit_keys
from planner.importers.layouts import Layout, table_suffix
from planner.importers.merging import UNKNOWN, enriched, known_rows, turned_round
from planner.importers.orbit_layout import OrbitReading, read_elements
from planner.importers.orbit_match import fitted
from planner.importers.rejected_rows import LINES_NAMED, RejectedRows, judged, rejected
from planner.importers.star_match import named_by_stars
from planner.importers.store import content_of
from planner.importers.table_import import read_table
from planner.importers.wds_layout import read_summary
from planner.targets.catalog import load_designations, load_stars
from planner.targets.columns import objects, rows_of
from planner.targets.pairs import take

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from planner.importers.about import About
    from planner.importers.store import Import
    from planner.targets.orbit import Orbits
    from planner.targets.pairs import Pairs

REPEATED = "the same known pair as another row"
SOURCES = {
    Layout.WDS: ("Washington Double Star Catalog, imported from {}", "WDS"),
    Layout.TABLE: ("{}", "{}"),
}


@dataclass(frozen=True, slots=True)
class Known:
    """The pairs and orbits known before an import, and the folder of the package's catalogs."""

    pairs: Pairs
    orbits: Orbits
    shipped: Path | None


@dataclass(frozen=True, slots=True)
class Made:
    """The table of an import, and what is to be told of it.

    ``taken`` rows are new, ``merged`` ones were known; of these ``gained`` got a designation and
    ``remeasured`` a newer measure. ``refusals`` and ``remarks`` come after those of the reading.
    """

    derived: Derived
    taken: int
    merged: int
    gained: int = 0
    remeasured: int = 0
    refusals: tuple[RejectedRows, ...] = ()
    remarks: tuple[str, ...] = ()


def made_anew(entry: Import, pairs: Pairs, orbits: Orbits, shipped: Path | None) -> Derived:
    """The table of an import from its kept file and the pairs and orbits known before it.

    Raises CatalogError for a damaged file.
    """
    try:
        reading = read_file(entry.about, content_of(entry))
    except UsageError as error:
        raise damaged(entry.file, error) from error
    return derived_from(entry.about, reading, Known(pairs, orbits, shipped)).derived


def read_file(about: About, content: bytes) -> PairReading | OrbitReading:
    """The rows of an unpacked file in the layout that ``about`` says. Raises UsageError."""
    layout = Layout(about.layout)
    if layout is Layout.ORBITS:
        return read_elements(content, about.file_name)
    if layout is Layout.WDS:
        return read_summary(content)
    suffix = table_suffix(PurePath(about.file_name))
    try:
        return read_table(content, suffix, about.columns or None)
    except UsageError as error:
        raise UsageError(f"{about.file_name}: {error}") from error


def derived_from(about: About, reading: PairReading | OrbitReading, known: Known) -> Made:
    """The table of the rows read, merged with what is known. Raises CatalogError."""
    if isinstance(reading, OrbitReading):
        return _orbits(reading, known)
    return _pairs(about, reading, known)


def _pairs(about: About, reading: PairReading, known: Known) -> Made:
    rows, before = reading.rows, known.pairs
    source, short = (text.format(about.file_name) for text in SOURCES[Layout(about.layout)])
    pairs = as_pairs(rows, source, short, _constellations(rows.ra_deg, rows.dec_deg))
    dated = ~np.isnan(rows.position_epoch_yr)
    found = known_rows(before, pairs, rows.place_error_arcsec, dated)
    _, repeated = judged(rows.line, ((REPEATED, found.repeated),))
    pairs, found = take(pairs, ~found.repeated), rows_of(found, ~found.repeated)
    pairs = turned_round(pairs, found.swapped)
    pairs = named_by_stars(pairs, load_stars(known.shipped), load_designations(known.shipped))
    new = found.row == UNKNOWN
    pairs = replace(
        pairs,
        pair_id=_unlike(pairs.pair_id, new, before),
        system_id=_systems(pairs, before, found.row),
    )
    met = take(before, found.row[~new])
    after, newer = enriched(met, take(pairs, ~new))
    merged_into = objects(tuple(np.where(new, "", before.pair_id[found.row])))
    return Made(
        Derived(pairs, merged_into, key_lines(pairs), name_lines(pairs)),
        taken=int(new.sum()),
        merged=int((~new).sum()),
        gained=int(np.sum(after.discoverer != met.discoverer)),
        remeasured=int(newer.sum()),
        refusals=repeated,
    )


def _orbits(reading: OrbitReading, known: Known) -> Made:
    found = fitted(known.pairs, reading.orbits, reading.ra_deg, reading.dec_deg)
    before = set(orbit_keys(known.orbits))
    keys = orbit_keys(found.orbits)
    merged = sum(key in before for key in keys)
    return Made(
        Derived(found.orbits, found.gains_from, "", ""),
        taken=len(keys) - merged,
        merged=merged,
        remarks=(_unused(reading.line[found.unused]),) if found.unused.any() else (),
    )


def _unused(lines: NDArray[np.int64]) -> str:
    """What is said of orbits without a pair."""
    few = rejected("", lines)
    told = ", ".join(map(str, few.first_lines)) + (", ..." if few.count > LINES_NAMED else "")
    many = few.count > 1
    return (
        f"{few.count} {'orbits fit' if many else 'orbit fits'} no known pair and "
        f"{'are' if many else 'is'} not used until one is imported: "
        f"line{'s' if many else ''} {told}"
    )


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
