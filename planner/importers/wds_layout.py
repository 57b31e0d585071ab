"""The summary line of the Washington Double Star Catalog, as the US Naval Observatory lays it out.

Columns, counted from 1: 1-10 identifier, 11-17 discoverer, 18-22 components, 24-27 and 29-32
first and last year, 39-41 and 43-45 position angles, 47-51 and 53-57 separations, 59-63 and 65-69
magnitudes, 81-84 and 85-88 proper motion of the primary, 108-111 note letters, 113-130 precise
place. Source: the format description published beside the catalog (from memory).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import J2000_YEAR
from planner.importers.fixed_width import Lines, cut_lines
from planner.importers.incoming import (
    COARSE_ARCSEC,
    PRECISE_ARCSEC,
    PairReading,
    PairRows,
    discoverer_text,
    possible_rows,
)
from planner.importers.packed_place import identifier_place, precise_place
from planner.targets.columns import objects

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]

WIDTH = 130
LAST_NEEDED = 57  # a line that ends before this column holds no last separation
LAST_MAGNITUDE = 69
TOO_WIDE_ARCSEC = 999.9  # what the layout writes for anything wider
NO_BOND, BOND = "LUS", "OV"  # note letters: optical; orbit, or common motion
BOGUS = "X"
_IDENTIFIER = re.compile(rb"\d{5}[+-]\d{4}")


def is_summary_line(line: bytes) -> bool:
    """Whether a line begins as a summary line does: ``14450+2704STF1877``."""
    return _IDENTIFIER.match(line) is not None and line[10:11].isalpha()


def read_summary(content: bytes) -> PairReading:
    """The pairs of a summary file.

    Last measures count; where the last separation is missing, the first. Lines before the first
    pair are taken for the header. The precise place (J2000) is used where it is whole, else the
    identifier's, good to about a minute of arc. Proper motion in right ascension is taken as on
    the sky. Note letters L, U and S mean optical; X (bogus) is refused. Limit: magnitudes are
    taken as V although some are of another band.
    """
    lines = cut_lines(content, WIDTH)
    named = _identified(lines)
    if named.any():
        lines = lines.chosen(np.arange(len(lines)) >= np.argmax(named))
    rows, checks = _rows(lines)
    kept, refusals = possible_rows(rows, checks)
    coarse = int(np.sum(kept.place_error_arcsec > PRECISE_ARCSEC))
    remarks = [f"{coarse} pairs have only the place in their identifier, good to 1'"]
    if lines.cut:
        remarks.append("the file has no line end at its end: it may have been cut off")
    return PairReading(kept, refusals, tuple(remarks if coarse else remarks[1:]))


def _identified(lines: Lines) -> Bools:
    return np.array([_IDENTIFIER.match(key) is not None for key in lines.column(1, 10)], dtype=bool)


def _rows(lines: Lines) -> tuple[PairRows, tuple[tuple[str, Bools], ...]]:
    """Every line as a row, and the checks that only this layout needs."""
    (first, bad1), (last, bad2) = lines.number_in(47, 51), lines.number_in(53, 57)
    (v1, bad3), (v2, bad4) = lines.number_in(59, 63), lines.number_in(65, 69)
    (angle1, bad5), (angle2, bad6) = lines.number_in(39, 41), lines.number_in(43, 45)
    (year1, bad7), (year2, bad8) = lines.number_in(24, 27), lines.number_in(29, 32)
    bad = bad1 | bad2 | bad3 | bad4 | bad5 | bad6 | bad7 | bad8
    early = ~(last >= 0.0)
    separation = _known(np.where(early, first, last))
    ra, dec, error = _places(lines)
    letters = lines.text(108, 111)
    rows = PairRows(
        line=lines.number,
        ra_deg=ra,
        dec_deg=dec,
        place_error_arcsec=error,
        position_epoch_yr=np.full(len(lines), J2000_YEAR),
        pm_ra_mas_yr=lines.number_in(81, 84)[0],
        pm_dec_mas_yr=lines.number_in(85, 88)[0],
        v1=v1,
        v2=v2,
        separation_arcsec=separation,
        position_angle_deg=_known(np.where(early, angle1, angle2)) % 360.0,
        epoch_yr=_years(np.where(early, year1, year2)),
        components=_texts(np.where(lines.text(18, 22) == "", "AB", lines.text(18, 22))),
        name=objects(("",) * len(lines)),
        discoverer=objects(tuple(discoverer_text(text) for text in lines.text(11, 17).tolist())),
        wds=_texts(lines.text(1, 10)),
        physical=_bonds(letters),
        note=_notes(letters),
    )
    short = lines.length < LAST_NEEDED
    if lines.cut and len(lines):
        short[-1] |= lines.length[-1] < LAST_MAGNITUDE
    turned = (angle1 > 360.0) | (angle2 > 360.0)
    return rows, (
        ("no identifier in columns 1-10: not a line of this layout", ~_identified(lines)),
        ("the line is cut short", short),
        ("something else than a number in columns 24-69", bad),
        (f"marked as bogus (note letter {BOGUS})", _holds(letters, BOGUS)),
        ("an impossible number", turned),
        (f'wider than the layout can say ({TOO_WIDE_ARCSEC}")', separation >= TOO_WIDE_ARCSEC),
    )


def _places(lines: Lines) -> tuple[Floats, Floats, Floats]:
    """Right ascension and declination in degrees, and how far they may be off in arcseconds."""
    precise, coarse = precise_place(lines, 113), identifier_place(lines, 1)
    whole = ~np.isnan(precise[0] + precise[1])
    return (
        np.where(whole, precise[0], coarse[0]),
        np.where(whole, precise[1], coarse[1]),
        np.where(whole, PRECISE_ARCSEC, COARSE_ARCSEC),
    )


def _known(values: Floats) -> Floats:
    """The layout writes a negative number for an unknown one."""
    return np.where(values >= 0.0, values, np.nan)


def _years(values: Floats) -> Floats:
    return np.where(values > 0.0, values, np.nan)


def _texts(values: NDArray[np.str_]) -> Texts:
    return objects(tuple(values.tolist()))


def _holds(letters: NDArray[np.str_], wanted: str) -> Bools:
    found = np.zeros(len(letters), dtype=bool)
    for letter in wanted:
        found |= np.char.find(letters, letter) >= 0
    return found


def _bonds(letters: NDArray[np.str_]) -> Texts:
    bond = np.where(_holds(letters, BOND), "yes", "")
    return _texts(np.where(_holds(letters, NO_BOND), "no", bond))


def _notes(letters: NDArray[np.str_]) -> Texts:
    return objects(tuple(f"WDS notes {each}" if each else "" for each in letters.tolist()))
