"""What the diagonal lights, how large it should be, and what else may cut the light."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.newtonian import (
    LightCone,
    clear_ring_mm,
    diagonal_offset_mm,
    edge_illumination,
    fully_illuminated_field_mm,
    least_diagonal_mm,
)
from planner.optics.telescope import Design

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.optics.telescope import Telescope
    from planner.optics.view import View
    from planner.tube.rig import Shell

USUAL_LIT_FIELD_MM = 10.0  # fully lit, for looking by eye; common practice, no source
USUAL_OBSTRUCTION = 0.25  # of the diameter at most; common practice, no source


@dataclass(frozen=True, slots=True)
class FieldOfView:
    """The field of one eyepiece on the focal plane and the light at its rim.

    ``width_mm`` across, ``rim_share`` of the mirror's light that comes there, 0..1,
    ``diagonal_mm`` the minor axis that would light all of the field fully.
    """

    view: str
    width_mm: float
    rim_share: float
    diagonal_mm: float

    @property
    def rim_loss_mag(self) -> float:
        """The light lost at the rim, mag; infinite where none comes."""
        with np.errstate(divide="ignore"):
            return float(-2.5 * np.log10(min(self.rim_share, 1.0)) + 0.0)  # + 0.0: no -0


@dataclass(frozen=True, slots=True)
class Diagonal:
    """The diagonal as it is and as practice has it, mm.

    ``rack_mm`` is how far the focus lies above the focuser racked in, None where not told; below
    0 no eyepiece comes to focus. ``focus_room_mm`` is how far outside the tube the focus may lie
    so that the usual field is still fully lit.
    """

    cone: LightCone
    rack_mm: float | None
    lit_mm: float
    offset_mm: float
    usual_diagonal_mm: float
    focus_room_mm: float | None
    views: tuple[FieldOfView, ...]

    @property
    def obstruction(self) -> float:
        """The diagonal over the clear aperture."""
        return self.cone.secondary_mm / self.cone.aperture_mm

    @property
    def front_mm(self) -> float:
        """How far before the mirror the diagonal ends, which lies at 45 degrees. Geometry."""
        cone = self.cone
        middle = cone.focal_length_mm - cone.diagonal_to_focus_mm
        return middle + cone.secondary_mm / 2.0


@dataclass(frozen=True, slots=True)
class Ring:
    """A ring around the light: how far before the mirror and how wide at least, mm."""

    distance_mm: float
    width_mm: float


def path_to_focus_mm(telescope: Telescope, shell: Shell | None) -> float | None:
    """From the diagonal to the focus: as the kit tells it, else as tube and focuser add up."""
    if telescope.diagonal_to_focus_mm is not None or shell is None:
        return telescope.diagonal_to_focus_mm
    return None if shell.least_path_mm is None else shell.least_path_mm + shell.spare_mm


def diagonal(telescope: Telescope, shell: Shell | None, views: Sequence[View]) -> Diagonal | None:
    """What the kit's diagonal does; None but for a Newtonian whose path to the focus is known."""
    path = path_to_focus_mm(telescope, shell)
    if telescope.design is not Design.NEWTONIAN or path is None:
        return None
    if telescope.obstruction_mm == 0.0 or path >= telescope.focal_length_mm:
        return None
    aperture, focal = telescope.clear_aperture_mm, telescope.focal_length_mm
    cone = LightCone(aperture, focal, telescope.obstruction_mm, path)
    least = shell.least_path_mm if shell else None
    return Diagonal(
        cone=cone,
        rack_mm=None if least is None else path - least,
        lit_mm=fully_illuminated_field_mm(cone),
        offset_mm=diagonal_offset_mm(cone),
        usual_diagonal_mm=float(least_diagonal_mm(aperture, focal, path, USUAL_LIT_FIELD_MM)),
        focus_room_mm=_focus_room_mm(cone, shell),
        views=tuple(_field_of_view(cone, view) for view in views if view.barlow is None),
    )


def _field_of_view(cone: LightCone, view: View) -> FieldOfView:
    aperture, focal, path = cone.aperture_mm, cone.focal_length_mm, cone.diagonal_to_focus_mm
    width = float(np.radians(view.true_field_deg)) * focal
    return FieldOfView(
        view=view.name,
        width_mm=width,
        rim_share=float(edge_illumination(cone, width / 2.0)),
        diagonal_mm=float(least_diagonal_mm(aperture, focal, path, width)),
    )


def _focus_room_mm(cone: LightCone, shell: Shell | None) -> float | None:
    """The least diagonal's formula solved for the path, less what lies inside the tube."""
    if shell is None or shell.outside_mm is None:
        return None
    k = (cone.aperture_mm - USUAL_LIT_FIELD_MM) / cone.focal_length_mm
    path = (cone.secondary_mm * (1.0 - k**2 / 4.0) - USUAL_LIT_FIELD_MM) / k
    return path - shell.outside_mm


def rings(telescope: Telescope, shell: Shell | None, views: Sequence[View]) -> tuple[Ring, ...]:
    """The ring beside the diagonal and the one at the front, as far as the kit tells them.

    For the widest of the views. Nothing but for Newtonians.
    """
    if telescope.design is not Design.NEWTONIAN or not views:
        return ()
    path = path_to_focus_mm(telescope, shell)
    ahead = [] if path is None else [telescope.focal_length_mm - path]
    if shell is not None and shell.length_mm is not None:
        ahead.append(shell.length_mm)
    field = max(view.true_field_deg for view in views)
    return tuple(
        Ring(distance, float(clear_ring_mm(telescope.clear_aperture_mm, distance, field)))
        for distance in ahead
        if distance > 0.0
    )
