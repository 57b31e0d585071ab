"""A raster as a PNG of black ink on clear ground."""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.charts.scene import Raster

SIGNATURE = b"\x89PNG\r\n\x1a\n"


def ink_png(raster: Raster, red: int = 0) -> bytes:
    """The picture with ink as opacity, all of one colour: black, or a red of 0..255.

    A palette of 256 entries of that colour, entry k opaque to k/255. Source: PNG specification,
    W3C, second edition, chunks PLTE and tRNS (from memory).
    """
    header = struct.pack(">IIBBBBB", raster.side, raster.side, 8, 3, 0, 0, 0)
    rows = b"".join(
        b"\x00" + raster.ink[start : start + raster.side]
        for start in range(0, raster.side**2, raster.side)
    )
    chunks = (
        (b"IHDR", header),
        (b"PLTE", bytes((red, 0, 0)) * 256),
        (b"tRNS", bytes(range(256))),
        (b"IDAT", zlib.compress(rows, 9)),
        (b"IEND", b""),
    )
    return SIGNATURE + b"".join(_chunk(name, data) for name, data in chunks)


def _chunk(name: bytes, data: bytes) -> bytes:
    check = zlib.crc32(name + data)
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", check)
