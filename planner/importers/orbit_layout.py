"""The element line of the Sixth Catalog of Orbits of Visual Binary Stars.

Columns, counted from 1: 1-18 precise place, 20-29 WDS identifier, 31-44 discoverer and components,
59-64 HIP, 67-71 and 74-78 magnitudes, 82-92 period (93 its unit), 106-114 semi-major axis (115 its
unit), 126-134 inclination, 144-152 node, 163-174 periastron time (175 its unit), 188-196
eccentricity, 206-214 longitude of periastron, 224-228 equinox, 229-233 last measure, 234-235
grade, 238-245 reference.
Source: the format description published beside the catalog (from memory).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import J2000_JD, J2000_YEAR
from planner.importers.fixed_width import Lines, cut_lines
from planner.importers.incoming import BRIGHTEST_MAG, FAINTEST_MAG, FIELD_LABEL, discoverer_text
from planner.importers.packed_place import identifier_place, precise_place
from planner.importers.rejected_rows import RejectedRows, judged
from planner.targets.columns import frozen, objects, rows_of
from planner.targets.orbit import Orbits

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

WIDTH = 264
LAST_NEEDED = 206  # a line that ends before this column lacks the longitude of periastron
DISCOVERER_WIDTH = 7  # then come the components; longer discoverers break this
ASTROMETRIC = 9  # grade of orbits of the centre of light: no companion to be seen from them
DEFINITIVE = 1
JULIAN_YEAR_DAYS = 365.25
LONGEST_YR, WIDEST_ARCSEC, TWO_TURNS_DEG, LATEST_YR = 1e7, 3600.0, 720.0, 9999.0  # beyond: a slip
JD_OFFSET, MJD_OFFSET = 2400000.0, 2400000.5
YEARS_IN = {
    b"m": 1.0 / (1440.0 * JULIAN_YEAR_DAYS), b"h": 1.0 / (24.0 * JULIAN_YEAR_DAYS),
    b"d": 1.0 / JULIAN_YEAR_DAYS, b"y": 1.0, b"c": 100.0,
}  # fmt: skip
ARCSEC_IN = {b"a": 1.0, b"m": 1e-3, b"u": 1e-6, b"M": 60.0}
SOURCE = "Sixth Orbit Catalog, imported from {}"
_IDENTIFIER = re.compile(rb"\d{5}[+-]\d{4}")
_PARTS = re.compile(r"[A-Za-z0-9]*(,[A-Za-z0-9]+)?")


@dataclass(frozen=True, slots=True)
class OrbitReading:
    """The usable orbits of a file, the lines they stand in, the refusals and remarks.

    ``ra_deg`` and ``dec_deg`` are the places of their pairs at J2000.
    """

    orbits: Orbits
    line: Integers
    ra_deg: Floats
    dec_deg: Floats
    refusals: tuple[RejectedRows, ...]
    remarks: tuple[str, ...]


def is_element_line(line: bytes) -> bool:
    """Whether a line has a WDS identifier in columns 20-29, as an element line does."""
    return _IDENTIFIER.match(line[19:29]) is not None


def read_elements(content: bytes, file_name: str) -> OrbitReading:
    """The orbits of an element file, one for each pair: the best grade, then the latest measure.

    Lines before the first orbit are taken for the header. Period m, h, d, y, c to years; axis a,
    m, M to arcseconds; periastron y (Besselian year, taken as Julian), d (JD - 2,400,000), m
    (MJD), c (year / 100) to years. A missing equinox is taken as 2000 and said so. Orbits of
    grade 9 describe the centre of light of a pair and are refused.
    """
    lines = cut_lines(content, WIDTH)
    named = np.array([_IDENTIFIER.match(key) is not None for key in lines.column(20, 29)], bool)
    if named.any():
        first = np.arange(len(lines)) >= np.argmax(named)
        lines, named = lines.chosen(first), named[first]
    orbits, bad = _orbits(lines, file_name)
    keep, refusals = judged(lines.number, _checks(lines, orbits, named, bad))
    best, others = _best(orbits, lines.number, keep)
    places = _places(lines)
    orbits, line = rows_of(orbits, best), lines.number[best]
    equinox_missing = int(np.sum(np.isnan(orbits.node_equinox_yr)))
    remarks = [f"{equinox_missing} orbits give no equinox of the node; 2000 was taken"]
    remarks = remarks if equinox_missing else []
    if lines.cut:
        remarks.append("the file has no line end at its end: it may have been cut off")
    return OrbitReading(
        orbits=_with_equinox(orbits),
        line=line,
        ra_deg=places[0][best],
        dec_deg=places[1][best],
        refusals=refusals + others,
        remarks=tuple(remarks),
    )


def label_and_components(field: str) -> tuple[str, str]:
    """Discoverer and components of a field such as ``STF1110AB`` or ``BU  733AB``.

    By rule: letters, a number, the rest components. Where the rule does not fit, by column: the
    first seven characters are the discoverer. No components means AB.
    """
    match = FIELD_LABEL.match(field)
    if match and _PARTS.fullmatch(field[match.end() :].strip()):
        label, rest = match[0], field[match.end() :]
    else:
        label, rest = field[:DISCOVERER_WIDTH], field[DISCOVERER_WIDTH:]
    return discoverer_text(label), rest.strip() or "AB"


def _orbits(lines: Lines, file_name: str) -> tuple[Orbits, Bools]:
    """Every line as an orbit, and the lines that hold no number where one belongs."""
    bad = np.zeros(len(lines), dtype=bool)

    def number(first: int, last: int) -> Floats:
        values, wrong = lines.number_in(first, last)
        np.logical_or(bad, wrong, out=bad)
        return values

    count = len(lines)
    labels = [label_and_components(text) for text in lines.text(31, 44).tolist()]
    orbits = Orbits(
        wds=objects(tuple(lines.text(20, 29).tolist())),
        discoverer=objects(tuple(label for label, _ in labels)),
        components=objects(tuple(parts for _, parts in labels)),
        hip=_whole(lines.number_in(59, 64)[0]),
        name=objects(("",) * count),
        v1=lines.number_in(67, 71)[0],
        v2=lines.number_in(74, 78)[0],
        period_yr=number(82, 92) * _scale(lines, 93, YEARS_IN),
        semi_major_arcsec=number(106, 114) * _scale(lines, 115, ARCSEC_IN),
        inclination_deg=number(126, 134),
        node_deg=number(144, 152),
        periastron_yr=_years(number(163, 174), lines.column(175, 175)),
        eccentricity=number(188, 196),
        periastron_longitude_deg=number(206, 214),
        node_equinox_yr=lines.number_in(224, 228)[0],
        grade=_whole(lines.number_in(234, 235)[0]),
        reference=objects(tuple(lines.text(238, 245).tolist())),
        source=objects((SOURCE.format(file_name),) * count),
        measured_last_yr=_measure_years(lines.number_in(229, 233)[0]),
    )
    return orbits, bad


def _scale(lines: Lines, at: int, factors: dict[bytes, float]) -> Floats:
    """The factor of the unit in one column; NaN for a letter the layout does not know."""
    units = lines.column(at, at)
    scale = np.full(len(lines), np.nan)
    for letter, factor in factors.items():
        scale[units == letter] = factor
    return scale


def _whole(values: Floats) -> Integers:
    """Numbers that fit into the columns of a number; 0 for any other."""
    return np.where((values >= 0.0) & (values < 1e7), values, 0.0).astype(np.int64)


def _years(time: Floats, unit: NDArray[np.bytes_]) -> Floats:
    """Periastron times as decimal years."""
    years = np.where(unit == b"y", time, np.nan)
    years = np.where(unit == b"c", 100.0 * time, years)
    for letter, offset in ((b"d", JD_OFFSET), (b"m", MJD_OFFSET)):
        days = time + offset - J2000_JD
        years = np.where(unit == letter, J2000_YEAR + days / JULIAN_YEAR_DAYS, years)
    return np.asarray(years)


def _measure_years(values: Floats) -> Floats:
    return np.where(values > 0.0, values, np.nan)


def _checks(
    lines: Lines, orbits: Orbits, named: Bools, bad: Bools
) -> tuple[tuple[str, Bools], ...]:
    angles = orbits.inclination_deg + orbits.node_deg + orbits.periastron_longitude_deg
    eccentric = orbits.eccentricity
    return (
        ("no identifier in columns 20-29: not a line of this layout", ~named),
        (
            "the line is cut short",
            lines.length < LAST_NEEDED,
        ),
        ("something else than a number among the elements", bad),
        (
            f"grade {ASTROMETRIC}: the orbit of the centre of light, not of the companion",
            orbits.grade == ASTROMETRIC,
        ),
        ("no period, or its unit is unknown", ~(orbits.period_yr > 0.0)),
        ("no semi-major axis, or its unit is unknown", ~(orbits.semi_major_arcsec > 0.0)),
        ("no periastron time, or its unit is unknown", np.isnan(orbits.periastron_yr)),
        ("no inclination, node or longitude of periastron", np.isnan(angles)),
        ("no eccentricity from 0 to below 1", ~((eccentric >= 0.0) & (eccentric < 1.0))),
        ("an impossible number", ~_plausible(orbits)),
    )


def _plausible(orbits: Orbits) -> Bools:
    """Periods, axes, angles, years and magnitudes that can be."""
    fits = (orbits.period_yr <= LONGEST_YR) & (orbits.semi_major_arcsec <= WIDEST_ARCSEC)
    fits &= np.abs(orbits.periastron_yr) <= LONGEST_YR
    for angle in (orbits.inclination_deg, orbits.node_deg, orbits.periastron_longitude_deg):
        fits &= np.abs(angle) <= TWO_TURNS_DEG
    for magnitude in (orbits.v1, orbits.v2):
        fits &= ~((magnitude < BRIGHTEST_MAG) | (magnitude > FAINTEST_MAG))
    for year in (orbits.node_equinox_yr, orbits.measured_last_yr):
        fits &= ~((year < 0.0) | (year > LATEST_YR))
    return fits


def _places(lines: Lines) -> tuple[Floats, Floats]:
    """The precise place of each line; where it is not whole, that of the identifier."""
    precise, coarse = precise_place(lines, 1), identifier_place(lines, 20)
    whole = ~np.isnan(precise[0] + precise[1])
    return np.where(whole, precise[0], coarse[0]), np.where(whole, precise[1], coarse[1])


def _best(orbits: Orbits, lines: Integers, usable: Bools) -> tuple[Bools, tuple[RejectedRows, ...]]:
    """One usable orbit for each pair; an unknown grade comes last, as does an unknown measure."""
    grade = np.where(orbits.grade < DEFINITIVE, ASTROMETRIC, orbits.grade)
    order = np.lexsort((-np.nan_to_num(orbits.measured_last_yr), grade))
    seen: set[tuple[str, str]] = set()
    second = np.zeros(len(orbits), dtype=bool)
    for row in order[usable[order]].tolist():
        key = (orbits.wds[row], orbits.components[row])
        second[row] = key in seen
        seen.add(key)
    _, refusals = judged(lines, (("a better or later orbit of the pair is given", second),))
    return usable & ~second, refusals


def _with_equinox(orbits: Orbits) -> Orbits:
    equinox = orbits.node_equinox_yr
    columns = {name: getattr(orbits, name) for name in orbits.__dataclass_fields__}
    filled = frozen(np.where(np.isnan(equinox), J2000_YEAR, equinox))
    return Orbits(**(columns | {"node_equinox_yr": filled}))
