"""The whole answer on one tube: what the kit's facts allow to be told, and which are missing."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.telescope import Design
from planner.tube.attitude import attitudes, standing
from planner.tube.balance import middle_axis, torque_nm
from planner.tube.cooling import Blank, MirrorGlass
from planner.tube.field import diagonal, path_to_focus_mm, rings
from planner.tube.friction_check import friction_check
from planner.tube.loading import degrees_up_to, focuser_place, loadings, turning

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.optics.telescope import Telescope
    from planner.optics.view import View
    from planner.tube.attitude import Attitude, Standing
    from planner.tube.balance import Load
    from planner.tube.field import Diagonal, Ring
    from planner.tube.friction_check import FrictionCheck
    from planner.tube.loading import Loading, Turning
    from planner.tube.rig import Rig

HOLD_FACTOR = 1.5  # friction over the greatest torque; common practice, no source


class Missing(Enum):
    """A fact that the kit does not tell."""

    PATH = auto()
    TUBE = auto()
    PARTS = auto()
    FOCUSER = auto()
    EYEPIECE_MASS = auto()
    CRADLE = auto()
    BEARING = auto()
    STAND = auto()
    BASE = auto()
    FEET = auto()
    TURNING = auto()
    MIRROR = auto()


@dataclass(frozen=True, slots=True)
class AxisChoice:
    """An altitude axis, the greatest torque of any loading about it, N m.

    ``worst`` is the loading that turns hardest. ``radius_mm`` is the bearing that holds every
    loading's torque ``HOLD_FACTOR`` times with the kit's pads; None without a bearing in the kit.
    """

    along_mm: float
    above_mm: float
    torque_nm: float
    worst: Loading
    radius_mm: float | None


@dataclass(frozen=True, slots=True)
class Account:
    """Everything told of one tube; None or empty where facts are missing.

    ``loadings`` are all ways to load it, ``turnings`` the same about the cradle's axis.
    ``best_axis`` is where an axis would serve all of them best; ``friction_check`` how to measure
    the friction.
    ``attitudes`` and ``standing`` hold for ``heaviest``; ``arm_gap_mm`` is by how much parts and
    cradle put the focuser farther from the axis than the telescope's ``pivot_to_focuser``.
    ``unweighed`` are the eyepieces whose mass is not told.
    """

    telescope: Telescope
    rig: Rig
    diagonal: Diagonal | None
    rings: tuple[Ring, ...]
    blank: Blank | None
    loadings: tuple[Loading, ...]
    best_axis: AxisChoice | None
    cradle_axis: AxisChoice | None
    turnings: tuple[Turning, ...]
    heaviest: Turning | None
    friction_check: FrictionCheck | None
    attitudes: tuple[Attitude, ...]
    standing: Standing | None
    arm_gap_mm: float
    missing: tuple[Missing, ...]
    unweighed: tuple[str, ...]

    @property
    def tube_kg(self) -> float | None:
        """What is lifted out of the base: the heaviest loading and the cradle's own mass."""
        if not self.loadings:
            return None
        cradle = self.rig.cradle.axis.mass_kg if self.rig.cradle else 0.0
        return max(each.load.mass_kg for each in self.loadings) + cradle


def account(telescope: Telescope, rig: Rig, views: Sequence[View]) -> Account:
    """What can be told of a telescope's tube with these views."""
    place, found = focuser_place(telescope, rig), loadings(telescope, rig, views)
    turned: tuple[Turning, ...] = ()
    if rig.cradle is not None:
        top = telescope.greatest_altitude_deg
        turned = tuple(turning(each, rig.cradle, place, top) for each in found)
    heaviest = max(turned, key=lambda each: each.loading.load.mass_kg, default=None)
    unweighed = [v.name for v in views if v.mass_kg is None and v.barlow is None]
    best = middle_axis([each.load for each in found]) if found else None
    now = rig.cradle.axis if rig.cradle else None
    return Account(
        telescope=telescope,
        rig=rig,
        diagonal=diagonal(telescope, rig.shell, views),
        rings=rings(telescope, rig.shell, views),
        blank=_blank(telescope, rig),
        loadings=found,
        best_axis=_axis_choice(best, found, telescope, rig) if best else None,
        cradle_axis=_axis_choice(now, found, telescope, rig) if found and now else None,
        turnings=turned,
        heaviest=heaviest,
        friction_check=friction_check(heaviest, rig.cradle, place),
        attitudes=attitudes(telescope, rig, heaviest, place),
        standing=standing(telescope, rig, heaviest),
        arm_gap_mm=_arm_gap_mm(telescope, rig, place),
        missing=_missing(telescope, rig, bool(unweighed)),
        unweighed=tuple(unweighed),
    )


def _blank(telescope: Telescope, rig: Rig) -> Blank | None:
    """The mirror's glass; None for a telescope without one, or of unknown thickness."""
    shell = rig.shell
    if telescope.design is Design.REFRACTOR or shell is None or shell.mirror_mm is None:
        return None
    return Blank(
        diameter_mm=telescope.aperture_mm,
        thickness_mm=shell.mirror_mm,
        glass=shell.glass or MirrorGlass.BOROSILICATE,
        open_back=shell.open_back,
    )


def _arm_gap_mm(telescope: Telescope, rig: Rig, place: Load | None) -> float:
    if place is None or rig.cradle is None or telescope.stand is None:
        return 0.0
    return place.along_mm - rig.cradle.axis.along_mm - telescope.stand.pivot_to_focuser_mm


def _axis_choice(
    axis: Load, found: Sequence[Loading], telescope: Telescope, rig: Rig
) -> AxisChoice:
    """How an axis would do for some loadings between level and the highest the mount points."""
    altitude = degrees_up_to(telescope.greatest_altitude_deg)
    worst = [float(np.abs(torque_nm(each.load, axis, altitude)).max()) for each in found]
    radius, bearing = None, rig.cradle.bearing if rig.cradle else None
    if rig.cradle is not None and bearing is not None:
        carried = [each.load.mass_kg + rig.cradle.axis.mass_kg for each in found]
        held = [bearing.hold_nm_per_kg * mass for mass in carried]
        shares = [torque / hold for torque, hold in zip(worst, held, strict=True)]
        radius = HOLD_FACTOR * max(shares) * bearing.radius_mm
    hardest = int(np.argmax(worst))
    return AxisChoice(axis.along_mm, axis.above_mm, worst[hardest], found[hardest], radius)


def _missing(telescope: Telescope, rig: Rig, unweighed: bool) -> tuple[Missing, ...]:
    """What the kit does not tell and this telescope would need, in the order of the answer."""
    newtonian = telescope.design is Design.NEWTONIAN
    shell, cradle, base = rig.shell, rig.cradle, rig.base
    whole_shell = shell is not None and None not in (shell.length_mm, shell.least_path_mm)
    lacks = {
        Missing.PATH: newtonian and path_to_focus_mm(telescope, shell) is None,
        Missing.TUBE: newtonian and not whole_shell,
        Missing.PARTS: not rig.parts,
        Missing.FOCUSER: bool(rig.parts) and focuser_place(telescope, rig) is None,
        Missing.EYEPIECE_MASS: bool(rig.parts) and unweighed,
        Missing.CRADLE: cradle is None,
        Missing.BEARING: cradle is not None and cradle.bearing is None,
        Missing.STAND: telescope.stand is None,
        Missing.BASE: base is None,
        Missing.FEET: base is not None and base.footing is None,
        Missing.TURNING: base is not None and base.bearing is None,
        Missing.MIRROR: telescope.design is not Design.REFRACTOR
        and (shell is None or shell.mirror_mm is None),
    }
    return tuple(missing for missing, lacking in lacks.items() if lacking)
