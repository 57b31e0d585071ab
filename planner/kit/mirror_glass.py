"""The glass of a telescope from its own mirror test."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planner.errors import ModelRangeError
from planner.kit.mirror_file import read_mirror_test
from planner.mirror.reduction import reduce
from planner.optics.figure import WORST_RMS_WAVES, refocused_rms_waves
from planner.optics.glass import Glass

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.kit.block import Block

REST_WAVES = 0.03  # RMS beside a mapped profile: roughness, flat, eyepiece; own judgement
SAME_SHARE = 0.02  # by which diameter and focus of test and kit may differ; own judgement
EVERY = 3  # so many of the reduction's radii make one point of the glass


@dataclass(frozen=True, slots=True)
class TestedGlass:
    """The glass as tested, and as poor and as good as the test allows: the ends of its 90 %."""

    glass: Glass
    band: tuple[Glass, Glass]


def tested_glass(block: Block, lengths_mm: tuple[float, float], rest_waves: float) -> TestedGlass:
    """What the file named by ``mirror_test`` makes of the glass.

    ``lengths_mm`` are the kit's aperture and focal length, which have to be the mirror's.

    Raises:
        KitError: the file is faulty, is another mirror's, or the mirror is past the image model.
    """
    aperture, focal = lengths_mm
    path = Path(block.file).parent / Path(block.text("mirror_test")).expanduser()
    test = read_mirror_test(path)
    for what, told, here in (
        ("optical_diameter", test.optical_diameter_mm, aperture),
        ("half the radius_of_curvature", test.radius_mm / 2.0, focal),
    ):
        if abs(told / here - 1.0) > SAME_SHARE:
            block.fail("mirror_test", f"{what} is {told:g} mm there and {here:g} mm in the kit; "
                       "check both, or give this mirror's own test")  # fmt: skip
    if test.edge_waves and block.has("turned_edge_width"):
        block.fail("turned_edge_width", "the mirror test tells the edge too; leave it out in one")
    width, waves = test.edge_width_mm, test.edge_waves
    if block.has("turned_edge_width"):
        width, waves = block.length("turned_edge_width"), block.number("turned_edge_waves")
    found = reduce(test)
    radii = found.rho[::EVERY] * test.optical_diameter_mm / 2.0

    def glass(wave: Sequence[float]) -> Glass:
        points = zip(radii.tolist(), wave[::EVERY], strict=True)
        return Glass(rest_waves, width, waves, tuple((round(r, 4), round(w, 5)) for r, w in points))

    made = glass(found.wave.tolist())
    try:
        made.check(aperture)
    except ModelRangeError as error:
        block.fail("turned_edge_width", str(error))
    rms = refocused_rms_waves(made.figure(aperture, aperture), 0.0)
    if rms > WORST_RMS_WAVES:
        remedy = "check source and readings_grow, or figure on"
        block.fail(
            "mirror_test",
            f"the wave is {rms:.2f} RMS at its focus, the image model ends at "
            f"{WORST_RMS_WAVES:g}: {remedy}",
        )
    return TestedGlass(made, (glass(found.poor.tolist()), glass(found.good.tolist())))
