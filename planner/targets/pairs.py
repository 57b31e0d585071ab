"""Double stars: the table, and where each companion stands on a date."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.columns import frozen, objects, rows_of
from planner.targets.measure import Measures, Motions, carried
from planner.targets.orbit import Orbits, apparent_places, position_angle_shift_deg

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable

    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Texts = NDArray[np.object_]

MAS_PER_DEG = 3.6e6
NO_ORBIT = -1
CHANCE_ALIGNMENT = 0.3  # expected share of chance pairs from which a pair is called one
MOVED_WORDS = " and proper motion"
# An orbit found by Hipparcos number alone is believed when it agrees with the pair's measure.
AGREEMENT_ARCSEC = 0.3
AGREEMENT_SHARE = 0.15
# B-V of A0, F0, G0 and K0 dwarfs, and about that of M0 to M2 supergiants: Cox 2000,
# Allen's Astrophysical Quantities, table 15.7 (from memory). Dwarfs end class K at 1.40 and giants
# at 1.56, but observers call K giants and supergiants (eta Per, 1.69) and most giants of class M
# orange, alpha Her among them (Webb, Celestial Objects; from memory). The words are common
# practice, no source.
COLOUR_BOUNDARIES_BV = (-0.02, 0.30, 0.58, 0.81, 1.70)
COLOUR_WORDS = ("blue-white", "white", "yellow-white", "yellow", "orange", "red")
# What a table says of its source, and the short form for a sheet; the first that fits counts.
SHORT_SOURCES = (
    ("Hipparcos and Gaia DR3 positions", "Hipparcos and Gaia DR3"),
    ("Gaia DR3 positions", "Gaia DR3"),
    ("Bright Star Catalogue 5", "Bright Star Catalogue 5"),
    ("Sixth Orbit Catalog", "Sixth Orbit Catalog"),
    ("Sixth Catalog of Orbits", "Sixth Orbit Catalog"),
)


@dataclass(frozen=True, slots=True)
class Pairs:
    """N double stars, one array of length N for each column of ``pairs.csv.gz``.

    Position of the primary in degrees (ICRS) at ``position_epoch_yr``, proper motion in
    milliarcseconds a year (in right ascension: on the sky, with cos dec; NaN: not known).
    Position angles refer to J2000. ``epoch_yr`` and ``source`` belong to the catalog's own
    measure; ``measure_epoch_yr`` and ``measure_source`` say what the separation and position
    angle in this table rest on, ``orbit_row`` the row among the orbits that they come from
    (``NO_ORBIT``: from none). ``motion_ra_mas_yr`` (on the sky) and ``motion_dec_mas_yr`` are
    the companion's motion from the primary, NaN where none is trusted. ``place_id`` and
    components are an identifier for a log: that of the WDS, or one formed in its manner from the
    place. ``chance`` is the expected share of chance alignments among
    such pairs, ``physical`` what is known of the bond. HIP is 0 where there is none; NaN and
    empty texts: not known.
    """

    pair_id: Texts
    system_id: Texts
    ra_deg: Floats
    dec_deg: Floats
    position_epoch_yr: Floats
    pm_ra_mas_yr: Floats
    pm_dec_mas_yr: Floats
    motion_ra_mas_yr: Floats
    motion_dec_mas_yr: Floats
    v1: Floats
    v2: Floats
    separation_arcsec: Floats
    position_angle_deg: Floats
    epoch_yr: Floats
    components: Texts
    name: Texts
    proper_name: Texts
    discoverer: Texts
    wds: Texts
    place_id: Texts
    hip: Integers
    hip_secondary: Integers
    colour1_bv: Floats
    colour2_bv: Floats
    constellation: Texts
    chance: Floats
    physical: Texts
    source: Texts
    note: Texts
    measure_epoch_yr: Floats
    measure_source: Texts
    orbit_row: Integers

    def __len__(self) -> int:
        """Number of pairs."""
        return len(self.ra_deg)


def by_chance(pairs: Pairs) -> NDArray[np.bool_]:
    """Which pairs (N,) are probably chance alignments."""
    likely = np.nan_to_num(pairs.chance) >= CHANCE_ALIGNMENT
    return np.asarray(likely | (pairs.physical == "no"))


def take(pairs: Pairs, indices: ArrayLike) -> Pairs:
    """The pairs of the given rows (integers or a mask), in the order given."""
    return rows_of(pairs, indices)


def combined_magnitude(v1: ArrayLike, v2: ArrayLike) -> Floats:
    """V of two stars seen as one: ``-2.5 log10(10^(-0.4 v1) + 10^(-0.4 v2))``.

    Scalars or arrays, broadcast; where one magnitude is NaN the other is the answer.
    Source: definition of the magnitude.
    """
    first, second = np.broadcast_arrays(np.asarray(v1, float), np.asarray(v2, float))
    bright = np.fmin(first, second)
    step = np.nan_to_num(np.abs(first - second), nan=np.inf)
    return np.asarray(bright - 2.5 * np.log10(1.0 + 10.0 ** (-0.4 * step)))


def colour_word(bv: float) -> str:
    """The colour of a star of the given B-V in a word; empty where it is NaN.

    One word for each spectral class from B to K, changing at the B-V of A0, F0, G0 and K0; red is
    left to the reddest supergiants and to carbon stars, for M giants are seen orange. An eye at
    the eyepiece sees less colour the fainter the star, and contrast with the companion changes it.
    """
    if np.isnan(bv):
        return ""
    return COLOUR_WORDS[int(np.searchsorted(COLOUR_BOUNDARIES_BV, bv, side="right"))]


def at_epoch(pairs: Pairs, orbits: Orbits, year: float) -> Pairs:
    """The pairs as they stand at a decimal year: places, separations, position angles.

    Where the pair has an orbit, separation and position angle (J2000) come from it, and
    ``measure_source`` reads ``orbit Izm2019 (Sixth Orbit Catalog)``. Elsewhere the measure is
    carried straight by the companion's motion where that is known, within the limits of
    ``measure.carried``, and ``measure_source`` reads ``Gaia DR3 and proper motion``. The others
    stay as measured. The primary is carried along by its own proper motion where that is known.
    Limit: a pair without orbit and motion may have moved since its measure; across some tens of
    years this matters mostly to pairs under 5".
    """
    row = match_orbits(pairs, orbits)
    turned = np.flatnonzero(row != NO_ORBIT)
    used = rows_of(orbits, row[turned])
    separation, angle, moved = _carried(pairs, year)
    moved[turned] = False
    source = pairs.measure_source.copy()
    source[moved] += MOVED_WORDS
    source[turned] = _orbit_sources(used)
    separation[turned], angle[turned] = apparent_places(used, year)
    angle[turned] += position_angle_shift_deg(
        pairs.ra_deg[turned], pairs.dec_deg[turned], used.node_equinox_yr
    )
    ra, dec = places_at(pairs, year)
    epoch = np.where(moved, year, pairs.measure_epoch_yr)
    epoch[turned] = year
    return replace(
        pairs,
        ra_deg=frozen(ra),
        dec_deg=frozen(dec),
        position_epoch_yr=frozen(np.full(len(pairs), float(year))),
        separation_arcsec=frozen(separation),
        position_angle_deg=frozen(angle % 360.0),
        measure_epoch_yr=frozen(epoch),
        measure_source=frozen(source),
        orbit_row=frozen(row),
    )


def _carried(pairs: Pairs, year: float) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Separation and position angle carried by the motions, and which were: to be written to."""
    unknown = np.full(len(pairs), np.nan)
    measures = Measures(
        pairs.separation_arcsec, pairs.position_angle_deg, pairs.measure_epoch_yr, unknown
    )
    motions = Motions(pairs.motion_ra_mas_yr, pairs.motion_dec_mas_yr)
    return carried(measures, motions, year)


def places_at(pairs: Pairs, year: float) -> tuple[Floats, Floats]:
    """Right ascension (0..360) and declination of each primary at a decimal year, degrees.

    Straight-line proper motion; unknown motion counts as none.
    """
    years = year - pairs.position_epoch_yr
    dec = pairs.dec_deg + np.nan_to_num(pairs.pm_dec_mas_yr) * years / MAS_PER_DEG
    across = np.nan_to_num(pairs.pm_ra_mas_yr) * years / MAS_PER_DEG
    return (pairs.ra_deg + across / np.cos(np.radians(pairs.dec_deg))) % 360.0, dec


def match_orbits(pairs: Pairs, orbits: Orbits) -> Integers:
    """For each pair the row of its orbit, or -1.

    First by WDS identifier and components, then by Hipparcos number and components (no
    components means AB in both catalogs), the latter only where the orbit agrees with the
    measure: a wide companion of a star is not the close one that has the orbit. A measure
    without a year (NaN) agrees with none.
    """
    parts = [components or "AB" for components in pairs.components]
    orbit_parts = [components or "AB" for components in orbits.components]
    found = _looked_up(
        zip(orbits.wds, orbit_parts, strict=True), zip(pairs.wds, parts, strict=True)
    )
    guess = _looked_up(
        zip(orbits.hip.tolist(), orbit_parts, strict=True),
        zip(pairs.hip.tolist(), parts, strict=True),
    )
    asked = np.flatnonzero((found == NO_ORBIT) & (guess != NO_ORBIT))
    expected, _ = apparent_places(rows_of(orbits, guess[asked]), pairs.epoch_yr[asked])
    measured = pairs.separation_arcsec[asked]
    agrees = np.abs(expected - measured) <= AGREEMENT_ARCSEC + AGREEMENT_SHARE * measured
    found[asked[agrees]] = guess[asked[agrees]]
    return found


def _looked_up(
    known: Iterable[tuple[Hashable, str]], wanted: Iterable[tuple[Hashable, str]]
) -> Integers:
    """For each wanted (identifier, components) the first row that bears it, or -1."""
    rows: dict[tuple[Hashable, str], int] = {}
    for row, key in enumerate(known):
        if key[0]:
            rows.setdefault(key, row)
    return np.array([rows.get(key, NO_ORBIT) for key in wanted], dtype=np.int64)


def _orbit_sources(orbits: Orbits) -> Texts:
    """What an orbit's place rests on, in words: its reference and the catalog it stands in."""
    return objects(
        tuple(
            f"orbit {reference} ({short_source(source)})"
            for reference, source in zip(orbits.reference, orbits.source, strict=True)
        )
    )


def short_source(source: str) -> str:
    """A row's source short enough for a line of a sheet: ``Gaia DR3``, ``Sixth Orbit Catalog``."""
    for words, short in SHORT_SOURCES:
        if words in source:
            return short
    return source.split(";")[0]
