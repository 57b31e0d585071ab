"""Telescope, eyepiece, Barlow, filter and finder blocks of a kit file."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from planner.eye.observer import Companion
from planner.kit.block import finite
from planner.optics.eyepiece import Barlow, Eyepiece, Filter, Finder
from planner.optics.figure import rms_from_peak_to_valley
from planner.optics.glass import WIDEST_TURNED_EDGE, Glass
from planner.optics.image import WIDEST_OBSTRUCTION
from planner.optics.stand import USUAL_REACH, Stand
from planner.optics.telescope import GREATEST_ALTITUDE_DEG, Design, Diagonal, Mount, Telescope

if TYPE_CHECKING:
    from planner.kit.block import Block

MOUNTS = {"hand-moved": Mount.HAND_MOVED, "driven": Mount.DRIVEN}
MIRROR_TRANSMISSION = 0.79  # two aluminised mirrors of 0.89; common practice, no source
LENS_TRANSMISSION = 0.92  # a coated doublet; common practice, no source


def read_telescope(block: Block) -> Telescope:
    """A ``[[telescope]]`` block."""
    block.only_known()
    aperture = block.length("aperture")
    clear = block.length("clear_aperture", default_mm=aperture)
    if clear > aperture:
        block.fail("clear_aperture", f"must not be larger than the aperture of {aperture:g} mm")
    design = Design(block.choice("design"))
    lens = design is Design.REFRACTOR
    focal = _focal_length(block, aperture)
    mount = MOUNTS[block.choice("mount")]
    glass, band = _glass(block, aperture, focal)
    return Telescope(
        name=block.text("name"),
        design=design,
        mount=mount,
        aperture_mm=aperture,
        clear_aperture_mm=clear,
        focal_length_mm=focal,
        obstruction_mm=_obstruction(block, aperture, clear, lens),
        glass=glass,
        transmission=block.number(
            "transmission", default=LENS_TRANSMISSION if lens else MIRROR_TRANSMISSION
        ),
        barrel_mm=block.length("focuser_barrel"),
        diagonal_to_focus_mm=_diagonal_to_focus(block, focal),
        greatest_altitude_deg=block.number(
            "greatest_altitude", default=GREATEST_ALTITUDE_DEG[mount]
        ),
        stand=_stand(block, aperture),
        focuser_angle_deg=block.number("focuser_angle") if block.has("focuser_angle") else None,
        diagonal=_diagonal(block, design),
        glass_band=band,
    )


def _glass(
    block: Block, aperture_mm: float, focal_mm: float
) -> tuple[Glass, tuple[Glass, Glass] | None]:
    """The errors of the wave: from a mirror test, with its band, or from the kit's own numbers."""
    edge = _turned_edge(block, aperture_mm)
    if not block.has("mirror_test"):
        return Glass(_wavefront(block), *edge), None
    from planner.kit.mirror_glass import REST_WAVES, tested_glass

    given = block.has("wavefront_error") or block.has("wavefront_peak_to_valley")
    rest = _wavefront(block) if given else REST_WAVES
    found = tested_glass(block, (aperture_mm, focal_mm), rest)
    return found.glass, found.band


def _diagonal(block: Block, design: Design) -> Diagonal:
    """A refractor or catadioptric is used with a mirror diagonal unless the kit tells."""
    if design is not Design.NEWTONIAN:
        return Diagonal(block.choice("diagonal") if block.has("diagonal") else "mirror")
    if block.has("diagonal") and block.choice("diagonal") != "none":
        block.fail("diagonal", "a Newtonian has its own flat; leave the key out")
    return Diagonal.NONE


def _stand(block: Block, aperture_mm: float) -> Stand | None:
    """How the tube hangs in its mount; both of the two lengths or neither."""
    keys = ("pivot_height", "pivot_to_focuser")
    given = [key for key in keys if block.has(key)]
    if len(given) == 1:
        missing = next(key for key in keys if key not in given)
        block.fail(missing, f"add it, the eyepiece's height needs both; or leave {given[0]} out")
    reach = block.length("focuser_reach", default_mm=USUAL_REACH * aperture_mm)
    angle = block.number("focuser_angle")
    if not given:
        return None
    return Stand(block.length(keys[0]), block.length(keys[1]), reach, angle)


def _focal_length(block: Block, aperture_mm: float) -> float:
    given = block.one_of("focal_length")
    if given is None:
        block.fail("focal_length", 'add it, like "1200 mm", or add focal_ratio = 8')
    if given == "focal_ratio":
        return block.number("focal_ratio") * aperture_mm
    focal = block.length("focal_length")
    if not 2.0 <= focal / aperture_mm <= 30.0:
        block.fail(
            "focal_length",
            f"makes f/{focal / aperture_mm:.1f} with an aperture of {aperture_mm:g} mm; "
            "f/2 to f/30 are possible here; check both",
        )
    return focal


def _obstruction(block: Block, aperture_mm: float, clear_mm: float, lens: bool) -> float:
    given = block.one_of("secondary")
    if given is None:
        if lens:
            return 0.0
        block.fail("secondary", 'add the flat\'s minor axis, like "38 mm", or obstruction = 0.25')
    if given == "obstruction":
        minor_axis = block.number("obstruction") * aperture_mm
    elif finite(block.values["secondary"]) == 0.0:
        return 0.0
    elif finite(block.values["secondary"]) is not None:
        block.fail("secondary", 'write a length like "38 mm"; a ratio is given as obstruction')
    else:
        minor_axis = block.length("secondary")
    if minor_axis > WIDEST_OBSTRUCTION * clear_mm:
        block.fail(
            given,
            f"hides {minor_axis / clear_mm:.0%} of the clear aperture's {clear_mm:g} mm; "
            f"at most {WIDEST_OBSTRUCTION:.0%} is possible here; check both",
        )
    return minor_axis


def _diagonal_to_focus(block: Block, focal_mm: float) -> float | None:
    if not block.has("diagonal_to_focus"):
        return None
    path = block.length("diagonal_to_focus")
    if path >= focal_mm:
        block.fail("diagonal_to_focus", f"must be less than the focal length of {focal_mm:g} mm")
    return path


def _turned_edge(block: Block, aperture_mm: float) -> tuple[float, float]:
    """Width of the turned zone in mm and waves of the wave at the rim; both given or neither."""
    widest = WIDEST_TURNED_EDGE * aperture_mm
    width = block.length("turned_edge_width", high_mm=widest)
    waves = block.number("turned_edge_waves")
    if block.has("turned_edge_width") != block.has("turned_edge_waves"):
        given = "turned_edge_width" if block.has("turned_edge_width") else "turned_edge_waves"
        block.fail(
            given,
            "a turned edge needs its width and its depth: give turned_edge_width and "
            "turned_edge_waves, or neither",
        )
    return width, waves


def _wavefront(block: Block) -> float:
    given = block.one_of("wavefront_error")
    if given == "wavefront_peak_to_valley":
        return rms_from_peak_to_valley(block.number("wavefront_peak_to_valley"))
    return block.number("wavefront_error")


def read_companion(block: Block) -> Companion:
    """A ``[[companion]]`` block."""
    block.only_known()
    return Companion(name=block.text("name"), eye_height_mm=block.length("eye_height"))


def read_eyepiece(block: Block) -> Eyepiece:
    """An ``[[eyepiece]]`` block."""
    block.only_known()
    focal = block.length("focal_length")
    stop = block.length("field_stop") if block.has("field_stop") else None
    return Eyepiece(
        name=block.text("name"),
        focal_length_mm=focal,
        apparent_field_deg=block.number("apparent_field"),
        field_stop_mm=stop,
        barrel_mm=block.length("barrel"),
        mass_kg=block.mass("mass") if block.has("mass") else None,
    )


def read_barlow(block: Block) -> Barlow:
    """A ``[[barlow]]`` block."""
    block.only_known()
    return Barlow(
        name=block.text("name"),
        factor=block.number("factor"),
        barrel_mm=block.length("barrel"),
        mass_kg=block.mass("mass") if block.has("mass") else None,
    )


def read_filter(block: Block) -> Filter:
    """A ``[[filter]]`` block."""
    block.only_known()
    return Filter(
        name=block.text("name"),
        passes=block.choice("passes"),
        bandwidth_nm=block.number("bandwidth_nm"),
        transmission=block.number("transmission"),
    )


def read_finder(block: Block) -> Finder:
    """A ``[[finder]]`` block."""
    block.only_known()
    return Finder(
        name=block.text("name"),
        magnification=block.number("magnification"),
        true_field_deg=block.number("true_field"),
        image=block.choice("image"),
        aperture_mm=(
            block.length("aperture")
            if block.has("aperture")
            else _written_aperture_mm(block.text("name"))
        ),
    )


def _written_aperture_mm(name: str) -> float | None:
    """The objective in a name such as ``8x50``, mm; None where it says nothing."""
    written = re.search(r"\b\d+(?:\.\d+)? ?[x×] ?(\d+)\b", name)
    return float(written[1]) if written and 10.0 <= float(written[1]) <= 150.0 else None
