"""Telescope, eyepiece, Barlow, filter and finder blocks of a kit file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.optics.eyepiece import Barlow, Eyepiece, Filter, Finder
from planner.optics.telescope import Design, Mount, Telescope

if TYPE_CHECKING:
    from planner.kit.block import Block

MOUNTS = {"hand-moved": Mount.HAND_MOVED, "driven": Mount.DRIVEN}
IMAGES = ("upright", "inverted", "mirrored")
FILTER_LINES = ("O III", "H beta", "nebula", "broad")
PEAK_TO_VALLEY_PER_RMS = 3.354  # smooth spherical error at best focus: sqrt(180) / 4; Mahajan 1998
MIRROR_TRANSMISSION = 0.79  # two aluminised mirrors of 0.89; common practice, no source
LENS_TRANSMISSION = 0.92  # a coated doublet; common practice, no source
ONE_AND_A_QUARTER_INCH_MM = 31.75


def read_telescope(block: Block) -> Telescope:
    """A ``[[telescope]]`` block."""
    aperture = block.length("aperture", 30.0, 2000.0)
    clear = block.length("clear_aperture", 20.0, 2000.0, default_mm=aperture)
    if clear > aperture:
        block.fail("clear_aperture", f"larger than the aperture of {aperture:g} mm")
    design = Design(block.choice("design", Design, default=None))
    lens = design is Design.REFRACTOR
    return Telescope(
        name=block.text("name"),
        design=design,
        mount=MOUNTS[block.choice("mount", MOUNTS, default="hand-moved")],
        aperture_mm=aperture,
        clear_aperture_mm=clear,
        focal_length_mm=_focal_length(block, aperture),
        obstruction_mm=_obstruction(block, aperture, clear, lens),
        wavefront_rms_waves=_wavefront(block),
        transmission=block.number(
            "transmission", 0.1, 1.0, default=LENS_TRANSMISSION if lens else MIRROR_TRANSMISSION
        ),
        barrel_mm=block.length("focuser_barrel", 15.0, 110.0, ONE_AND_A_QUARTER_INCH_MM),
        diagonal_to_focus_mm=(
            block.length("diagonal_to_focus", 20.0, 2000.0)
            if block.has("diagonal_to_focus")
            else None
        ),
    )


def _focal_length(block: Block, aperture_mm: float) -> float:
    given = block.one_of("focal_length", "focal_ratio")
    if given is None:
        block.fail("focal_length", 'add it, like "1200 mm", or add focal_ratio = 8')
    if given == "focal_ratio":
        return block.number("focal_ratio", 2.0, 30.0) * aperture_mm
    focal = block.length("focal_length", 100.0, 30000.0)
    if not 2.0 <= focal / aperture_mm <= 30.0:
        block.fail(
            "focal_length",
            f"makes f/{focal / aperture_mm:.1f} with an aperture of {aperture_mm:g} mm; "
            "f/2 to f/30 are possible here",
        )
    return focal


def _obstruction(block: Block, aperture_mm: float, clear_mm: float, lens: bool) -> float:
    given = block.one_of("secondary", "obstruction")
    if given is None and not lens:
        block.fail("secondary", 'add the flat\'s minor axis, like "38 mm", or obstruction = 0.25')
    if given is None or block.values[given] == 0:
        return 0.0
    if given == "obstruction":
        return block.number("obstruction", 0.0, 0.6) * aperture_mm
    minor_axis = block.length("secondary", 0.0, 2000.0)
    if minor_axis > 0.6 * clear_mm:
        block.fail("secondary", f"more than 0.6 of the clear aperture of {clear_mm:g} mm")
    return minor_axis


def _wavefront(block: Block) -> float:
    given = block.one_of("wavefront_error", "wavefront_peak_to_valley")
    if given == "wavefront_peak_to_valley":
        return block.number("wavefront_peak_to_valley", 0.0, 0.8) / PEAK_TO_VALLEY_PER_RMS
    return block.number("wavefront_error", 0.0, 0.25, default=0.05)


def read_eyepiece(block: Block) -> Eyepiece:
    """An ``[[eyepiece]]`` block."""
    focal = block.length("focal_length", 1.5, 100.0)
    stop = block.length("field_stop", 0.5, 100.0) if block.has("field_stop") else None
    return Eyepiece(
        name=block.text("name"),
        focal_length_mm=focal,
        apparent_field_deg=block.number("apparent_field", 20.0, 130.0),
        field_stop_mm=stop,
        barrel_mm=block.length("barrel", 15.0, 110.0, ONE_AND_A_QUARTER_INCH_MM),
    )


def read_barlow(block: Block) -> Barlow:
    """A ``[[barlow]]`` block."""
    return Barlow(name=block.text("name"), factor=block.number("factor", 1.1, 6.0))


def read_filter(block: Block) -> Filter:
    """A ``[[filter]]`` block."""
    return Filter(
        name=block.text("name"),
        passes=block.choice("passes", FILTER_LINES),
        bandwidth_nm=block.number("bandwidth_nm", 2.0, 300.0),
        transmission=block.number("transmission", 0.1, 1.0, default=0.9),
    )


def read_finder(block: Block) -> Finder:
    """A ``[[finder]]`` block."""
    return Finder(
        name=block.text("name"),
        magnification=block.number("magnification", 1.0, 30.0),
        true_field_deg=block.number("true_field", 0.3, 60.0),
        image=block.choice("image", IMAGES),
    )
