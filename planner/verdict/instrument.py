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

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.eye.observer import Observer
    from planner.optics.telescope import Telescope

    Floats = NDArray[np.float64]

EYE_COMFORT_ARCSEC = 120.0  # two points 2' apart are easy; acuity 1': common practice, no source
SEEING_COMFORT_ARCSEC = 300.0  # a star blurred to 5' looks plainly soft: common practice, no source


@dataclass(frozen=True, slots=True)
class Setup:
    """One telescope, one observer and one usual sky.

    ``sky_mag`` is the zenith in V mag per square arcsecond, ``seeing_arcsec`` the full width of
    a star at half its light, ``extinction_mag`` the magnitudes lost per airmass.
    """

    telescope: Telescope
    observer: Observer
    sky_mag: float
    seeing_arcsec: float
    extinction_mag: float

    @property
    def zenith_loss_mag(self) -> float:
        """Magnitudes the air takes overhead beyond those the observer's factor contains."""
        return self.extinction_mag - self.observer.factor_air_mag

    def dimming_mag(self, airmass: ArrayLike) -> Floats:
        """Magnitudes the air takes at an airmass (any shape), against the observer's factor."""
        beyond = np.asarray(airmass, dtype=float) - 1.0
        return np.asarray(self.extinction_mag * beyond + self.zenith_loss_mag)


@dataclass(frozen=True, slots=True)
class PowerBound:
    """A magnification and why it is a bound."""

    magnification: float
    reason: str


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
    """A telescope as it is: every figure is for its clear aperture and 550 nm."""

    setup: Setup
    light_grasp: float
    dawes_arcsec: float
    rayleigh_arcsec: float
    dark_ring_arcsec: float
    sparrow_arcsec: float
    strehl: float
    central_light_share: float
    clear_light_share: float
    depth_of_focus_mm: float
    lowest_power: PowerBound
    highest_powers: tuple[PowerBound, ...]
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
        central_light_share=central_light_share(hole),
        clear_light_share=central_light_share(0.0),
        depth_of_focus_mm=float(depth_of_focus_mm(telescope.focal_ratio)),
        lowest_power=lowest_power(setup),
        highest_powers=highest_powers(setup),
        newtonian=_newtonian(telescope),
    )


def lowest_power(setup: Setup) -> PowerBound:
    """The power whose exit pupil just fills the observer's dark pupil."""
    pupil = setup.observer.dark_pupil_mm
    return PowerBound(
        setup.telescope.clear_aperture_mm / pupil,
        f"below it the exit pupil is wider than your own ({pupil:.1f} mm) and aperture is wasted",
    )


def highest_powers(setup: Setup) -> tuple[PowerBound, ...]:
    """The powers beyond which nothing is gained, each for its own reason, lowest first.

    Seeing: a star spread to 5' looks plainly soft. Eye: Dawes's separation spread to 2' is easy
    to see. Light: the observer's own least exit pupil. Source: common practice, no source.
    """
    aperture = setup.telescope.clear_aperture_mm
    dawes = float(dawes_arcsec(aperture))
    least = setup.observer.least_exit_pupil_mm
    bounds = (
        PowerBound(
            SEEING_COMFORT_ARCSEC / setup.seeing_arcsec,
            f"seeing of {setup.seeing_arcsec:.1f}\" blurs a star to 5', which looks plainly soft",
        ),
        PowerBound(
            EYE_COMFORT_ARCSEC / dawes,
            f"Dawes's {dawes:.2f}\" is spread to 2', which the eye splits with ease",
        ),
        PowerBound(aperture / least, f"the exit pupil shrinks to your least, {least:g} mm"),
    )
    return tuple(sorted(bounds, key=lambda bound: bound.magnification))


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
