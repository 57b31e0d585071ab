"""What a telescope, with these eyepieces under this sky, can do for this eye."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.figure import strehl
from planner.optics.light import light_grasp
from planner.optics.newtonian import (
    collimation_tolerance_mm,
    coma_free_radius_mm,
    depth_of_focus_mm,
    diagonal_offset_mm,
    edge_illumination,
    fully_illuminated_field_mm,
    light_cone,
)
from planner.optics.resolution import (
    central_light_share,
    dark_ring_arcsec,
    dawes_arcsec,
    rayleigh_arcsec,
    sparrow_arcsec,
)
from planner.optics.telescope import Design
from planner.verdict.glass_doubt import strehl_band
from planner.verdict.powers import highest_powers, lowest_power
from planner.verdict.scope.purpose import doubles_powers

if TYPE_CHECKING:
    from planner.optics.telescope import Telescope
    from planner.verdict.powers import PowerBound
    from planner.verdict.setup import Setup


@dataclass(frozen=True, slots=True)
class NewtonianSummary:
    """What only a Newtonian has to tell; the diagonal's part is None where its place is unknown.

    Fields are diameters in mm in the focal plane and in degrees on the sky;
    ``edge_light`` is the share of light at the rim of what the focuser passes.
    """

    coma_free_field_mm: float
    coma_free_field_deg: float
    collimation_tolerance_mm: float
    collimation_limit_mm: float
    fully_lit_field_mm: float | None
    fully_lit_field_deg: float | None
    edge_light: float | None
    diagonal_offset_mm: float | None


@dataclass(frozen=True, slots=True)
class InstrumentSummary:
    """A telescope as it is: every figure is for its clear aperture and 550 nm.

    ``doubles_power`` is the highest that close doubles bear, in the best moments of the seeing.
    ``open_strehl`` is that of the whole glass without its mask, ``strehl_band`` as poor and as good
    as a mirror test allows; None without a mask, and without a test.
    """

    setup: Setup
    light_grasp: float
    dawes_arcsec: float
    rayleigh_arcsec: float
    dark_ring_arcsec: float
    sparrow_arcsec: float
    strehl: float
    open_strehl: float | None
    strehl_band: tuple[float, float] | None
    central_light_share: float
    clear_light_share: float
    depth_of_focus_mm: float
    lowest_power: PowerBound
    highest_powers: tuple[PowerBound, ...]
    doubles_power: float
    newtonian: NewtonianSummary | None


def instrument_summary(setup: Setup) -> InstrumentSummary:
    """Everything about the telescope that does not depend on an eyepiece.

    Source: the functions of planner.optics, each with its own.
    """
    telescope = setup.telescope
    aperture, hole = telescope.clear_aperture_mm, telescope.obstruction_ratio
    pupil = setup.observer.dark_pupil_mm
    return InstrumentSummary(
        setup=setup,
        light_grasp=float(light_grasp(aperture, pupil, telescope.throughput)),
        dawes_arcsec=float(dawes_arcsec(aperture)),
        rayleigh_arcsec=float(rayleigh_arcsec(aperture)),
        dark_ring_arcsec=float(dark_ring_arcsec(aperture, hole)),
        sparrow_arcsec=float(sparrow_arcsec(aperture, hole)),
        strehl=strehl(telescope.figure, telescope.obstruction_ratio),
        open_strehl=_open_strehl(telescope),
        strehl_band=strehl_band(telescope),
        central_light_share=central_light_share(hole),
        clear_light_share=central_light_share(0.0),
        depth_of_focus_mm=float(depth_of_focus_mm(telescope.focal_ratio)),
        lowest_power=lowest_power(setup),
        highest_powers=highest_powers(setup),
        doubles_power=doubles_powers(setup).most,
        newtonian=_newtonian(telescope),
    )


def _open_strehl(telescope: Telescope) -> float | None:
    """Strehl ratio of the glass with nothing over its rim; None where nothing is."""
    full = telescope.aperture_mm
    if telescope.clear_aperture_mm >= full:
        return None
    return strehl(telescope.glass.figure(full, full), telescope.obstruction_mm / full)


def _newtonian(telescope: Telescope) -> NewtonianSummary | None:
    """The Newtonian's own figures, or None for another design."""
    if telescope.design is not Design.NEWTONIAN:
        return None
    ratio, focal = telescope.focal_ratio, telescope.focal_length_mm
    coma_free = float(coma_free_radius_mm(ratio))
    cone = light_cone(telescope)
    lit = fully_illuminated_field_mm(cone) if cone else None
    return NewtonianSummary(
        coma_free_field_mm=2.0 * coma_free,
        coma_free_field_deg=float(np.degrees(2.0 * coma_free / focal)),
        collimation_tolerance_mm=float(collimation_tolerance_mm(ratio)),
        collimation_limit_mm=coma_free,
        fully_lit_field_mm=lit,
        fully_lit_field_deg=None if lit is None else float(np.degrees(lit / focal)),
        edge_light=float(edge_illumination(cone, telescope.barrel_mm / 2.0)) if cone else None,
        diagonal_offset_mm=diagonal_offset_mm(cone) if cone else None,
    )
