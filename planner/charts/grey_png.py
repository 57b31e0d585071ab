"""A raster as a PNG: black ink on clear ground, or red light in the dark."""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.charts.scene import Raster

SIGNATURE = b"\x89PNG\r\n\x1a\n"


def ink_png(raster: Raster) -> bytes:
    """The picture for white paper: ink as opacity, all of it black."""
    return _png(raster.ink, raster.side, 0)


def light_png(raster: Raster, red: int) -> bytes:
    """The picture for a dark page: light as opacity, all of it a red of 0..255."""
    return _png(raster.light, raster.side, red)


def _png(shades: bytes, side: int, red: int) -> bytes:
    """A palette of 256 entries of one colour, entry k opaque to k/255.

    Source: PNG specification, W3C, second edition, chunks PLTE and tRNS (from memory).
    """
    header = struct.pack(">IIBBBBB", side, side, 8, 3, 0, 0, 0)
    rows = b"".join(b"\x00" + shades[start : start + side] for start in range(0, side**2, side))
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
