"""Files that come out the same bytes every time: no time stamps, fixed order, fixed numbers."""

from __future__ import annotations

import gzip
import hashlib
import io
import zipfile
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.targets.stars import FAINTEST_STAR_MAG

if TYPE_CHECKING:
    from collections.abc import Mapping

    import pandas as pd
    from numpy.typing import NDArray

POSITION_UNIT_DEG = 1e-5  # 0.036 arcsec; a rounded position is off by 0.018" at the most
UNKNOWN_COLOUR = -32768
FAINTEST_V = FAINTEST_STAR_MAG


def star_arrays(stars: pd.DataFrame) -> dict[str, NDArray[Any]]:
    """The star list as integer arrays, sorted by declination, V <= 10.6.

    ra uint32 and dec int32 in units of 0.00001 deg, v_mmag and colour_mmag int16 (0.001 mag,
    -32768 for no colour), hip int32 (0 for none).
    """
    bright = stars[stars["v"] <= FAINTEST_V]
    ra = np.rint(bright["ra_deg"].to_numpy(float) / POSITION_UNIT_DEG).astype(np.int64)
    dec = np.rint(bright["dec_deg"].to_numpy(float) / POSITION_UNIT_DEG).astype(np.int32)
    colour = bright["bv"].to_numpy(float)
    known = np.isfinite(colour)
    milli = np.rint(np.where(known, colour, 0.0) * 1000.0)
    order = np.lexsort((ra, dec))
    arrays = {
        "ra": (ra % 36_000_000).astype(np.uint32),
        "dec": dec,
        "v_mmag": np.rint(bright["v"].to_numpy(float) * 1000.0).astype(np.int16),
        "colour_mmag": np.where(known, milli, UNKNOWN_COLOUR).astype(np.int16),
        "hip": bright["hip"].to_numpy().astype(np.int32),
    }
    return {name: values[order] for name, values in arrays.items()}


def npz_bytes(arrays: Mapping[str, NDArray[Any]]) -> bytes:
    """A compressed npz file, without the times that numpy.savez writes into it."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name, values in arrays.items():
            member = io.BytesIO()
            np.lib.format.write_array(member, np.ascontiguousarray(values), version=(1, 0))
            info = zipfile.ZipInfo(f"{name}.npy", date_time=(1980, 1, 1, 0, 0, 0))
            info.compress_type, info.create_system = zipfile.ZIP_DEFLATED, 3
            archive.writestr(info, member.getvalue(), compresslevel=9)
    return buffer.getvalue()


def csv_bytes(table: pd.DataFrame, decimals: Mapping[str, int] | None = None) -> bytes:
    """A gzip-compressed CSV: UTF-8, \\n at line ends, blank for unknown.

    ``decimals`` fixes the digits of a column; trailing zeros after the point are dropped.
    """
    table = table.copy()
    for column, digits in (decimals or {}).items():
        table[column] = [plain(value, digits) for value in table[column]]
    text = table.to_csv(index=False, lineterminator="\n", float_format="%.10g")
    return gzip.compress(text.encode("utf-8"), compresslevel=9, mtime=0)


def plain(value: float, digits: int) -> str:
    """A number with at most ``digits`` decimals, "" for NaN, never ``-0``."""
    if not np.isfinite(value):
        return ""
    text = f"{value:.{digits}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def sha256(content: bytes) -> str:
    """Digest of a file's content."""
    return hashlib.sha256(content).hexdigest()
