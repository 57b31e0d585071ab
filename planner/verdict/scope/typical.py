"""Typical faint targets, and how each view would show them: by the same rules as at night."""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import Enum, auto
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.eye.margin_table import PAST_SHARE, view_standing
from planner.eye.profile import FIELD_SHARE, view_limit_mag
from planner.targets.deepsky import DeepSky
from planner.targets.kind import Kind
from planner.verdict.deepsky.filtering import filter_effect
from planner.verdict.deepsky.glow import glow_of
from planner.verdict.deepsky.margins import DeepSkyTables, deepsky_margins, deepsky_tables
from planner.verdict.verdicts import NO_FILTER

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.eye.profile import Profile
    from planner.optics.eyepiece import Filter
    from planner.optics.view import View
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]


class FaintTarget(Enum):
    """The typical target a view is judged by."""

    GALAXY = auto()
    NEBULA = auto()
    GLOBULAR = auto()
    CLUSTER = auto()


GALAXY_MAG, GALAXY_ARCMIN = 11.0, (3.0, 1.5)  # a typical bright catalogue galaxy
NEBULA_SURFACE_MAG, NEBULA_ARCMIN = 22.5, 30.0  # per square arcsec; large, faint, evenly lit
GLOBULAR_MAG, GLOBULAR_ARCMIN = 7.0, 12.0  # one of Messier's
CLUSTER_STARS_MAG, CLUSTER_ARCMIN = 10.0, 15.0  # the brighter members of one of Messier's
_NEBULA_MAG = NEBULA_SURFACE_MAG - 2.5 * np.log10(np.pi / 4.0 * (60.0 * NEBULA_ARCMIN) ** 2)
_COLUMNS: dict[FaintTarget, dict[str, Any]] = {
    FaintTarget.GALAXY: {
        "kind": Kind.GALAXY, "hubble_type": "Sb", "v_mag": GALAXY_MAG,
        "major_arcmin": GALAXY_ARCMIN[0], "minor_arcmin": GALAXY_ARCMIN[1],
    },
    FaintTarget.NEBULA: {
        "kind": Kind.NEBULA, "nebula_type": "emission", "v_mag": _NEBULA_MAG,
        "major_arcmin": NEBULA_ARCMIN, "bright_major_arcmin": NEBULA_ARCMIN,
        "bright_v_mag": _NEBULA_MAG,
    },
    FaintTarget.GLOBULAR: {
        "kind": Kind.GLOBULAR_CLUSTER, "v_mag": GLOBULAR_MAG, "major_arcmin": GLOBULAR_ARCMIN,
    },
    FaintTarget.CLUSTER: {
        "kind": Kind.OPEN_CLUSTER, "member_v_mag": CLUSTER_STARS_MAG,
        "major_arcmin": CLUSTER_ARCMIN,
    },
}  # fmt: skip
SIZES_ARCMIN = {target: float(row["major_arcmin"]) for target, row in _COLUMNS.items()}


@dataclass(frozen=True, slots=True, eq=False)
class Showing:
    """How V views show a typical target overhead; arrays are (V,).

    ``score``: how near to the power liked, as a ratio, 1 for that power; where more than is given
    up for it would be lost, the loss in magnitudes below 0. ``margin_mag``: above the threshold,
    or the star limit less the members, with the filter ``filter_index`` (-1: none).
    """

    score: Floats
    margin_mag: Floats
    filter_index: int


def typical(target: FaintTarget) -> DeepSky:
    """A typical target as a table of one row."""
    row = _COLUMNS[target]
    empty: dict[str, Any] = {"Floats": np.nan, "Texts": ""}
    columns = {f.name: row.get(f.name, empty[str(f.type)]) for f in fields(DeepSky)}
    return DeepSky(
        **{
            name: np.array([value], dtype=float if isinstance(value, float) else object)
            for name, value in columns.items()
        }
    )


def showing(
    setup: Setup, views: Sequence[View], filters: Sequence[Filter], target: FaintTarget
) -> Showing:
    """How the views show a typical target overhead, as the night judges it.

    The first by score is the view that the night names for it.
    """
    tables = deepsky_tables(setup, views, filters)
    one = np.ones((1, 1))
    loss, sky = setup.zenith_loss_mag, setup.zenith_sky_mag
    found = deepsky_margins(tables, typical(target), loss * one, sky * one)
    named, used = int(found.view[0, 0]), int(found.filter_index[0, 0])
    if target is FaintTarget.CLUSTER:
        limits = tables.stars.each_mag(sky * np.ones(1))[:, 0]
        share = tables.powers / tables.powers[named]
        return Showing(np.minimum(share, 1.0 / share), limits - loss - CLUSTER_STARS_MAG, used)
    return _glow_showing(tables, target, (loss, sky), used)


def _glow_showing(
    tables: DeepSkyTables, target: FaintTarget, air_and_sky: tuple[float, float], used: int
) -> Showing:
    """The same for what is seen as a glow, with the filter that the night takes."""
    loss, sky = air_and_sky
    objects = typical(target)
    glow = glow_of(objects)
    if used != NO_FILTER:
        effect = filter_effect(tables.filters[used], objects, glow)
        loss, sky = loss + float(effect.fainter_mag[0]), sky + effect.darker_mag
    table = tables.by_profile[glow.profile[0], glow.wish[0]]
    axes = float(glow.sizes.major_arcmin[0]), float(glow.sizes.minor_arcmin[0])
    standing = view_standing(table, axes, sky)
    margins = _limits_mag(tables, table.profile, axes, sky)
    if not np.isfinite(standing.lost_mag).any():  # no field holds it: the night takes the widest
        score = tables.views.true_field_deg / tables.views.true_field_deg.max()
    else:
        near = standing.lost_mag <= table.liking.near_mag
        short = np.maximum(margins.max() - margins, table.liking.near_mag)
        score = np.where(near, _behind_the_rest(standing.nearness, near), -short)
    return Showing(np.asarray(score), margins - loss - float(glow.mag[0]), used)


def _behind_the_rest(nearness: Floats, near: NDArray[np.bool_]) -> Floats:
    """Nearness with what is past the most power borne put close behind the best that is not."""
    past = nearness <= PAST_SHARE
    within = nearness[near & ~past].max(initial=0.0) or 1.0
    return np.where(past, within * nearness / PAST_SHARE, nearness)


def _limits_mag(
    tables: DeepSkyTables, profile: Profile, axes: tuple[float, float], sky_mag: float
) -> Floats:
    """The faintest total magnitude in each view (V,), by the part inside its field."""
    major, minor = np.array([axes[0]]), np.array([axes[1]])
    sky = np.array([[sky_mag]])
    pupils, fields_deg = tables.views.exit_pupil_mm, tables.views.true_field_deg
    limits = []
    for pupil, field in zip(pupils, fields_deg, strict=True):
        within = np.minimum(major, FIELD_SHARE * 60.0 * field)
        found = view_limit_mag(profile, tables.eye, float(pupil), (major, minor, within), sky)
        limits.append(float(found[0, 0]))
    return np.array(limits)
