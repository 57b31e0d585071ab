"""What a filter does to a target: it darkens the sky and passes part of the target's light."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.kind import Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.optics.eyepiece import Filter
    from planner.targets.deepsky import DeepSky
    from planner.verdict.deepsky.glow import Glow

    Floats = NDArray[np.float64]

NIGHT_EYE_BAND_NM = 98.0  # integral of V'(lambda), peak 1 at 507 nm; CIE 1951 (from memory)
EMISSION_TYPES = ("emission", "supernova-remnant", "cluster-with-nebula")
# Share of the light a dark-adapted eye gets from a nebula that the lines carry. The split between
# 501 and 496 nm (O III) and 486 nm (H beta) varies from object to object; own judgement.
LINE_SHARES = {
    Kind.PLANETARY_NEBULA: {"O III": 0.85, "H beta": 0.10, "nebula": 0.95, "broad": 0.97},
    Kind.NEBULA: {"O III": 0.50, "H beta": 0.25, "nebula": 0.75, "broad": 0.85},
}
# Nebulae lit by cooler stars, with hardly any O III, for which observers take an H beta filter:
# California, Horsehead, Flaming Star, Seagull, Cocoon, M 43; common practice, no source.
HYDROGEN_ONLY = frozenset({"NGC 1499", "IC 434", "IC 405", "IC 2177", "IC 5146", "NGC 1982"})
HYDROGEN_SHARES = {"O III": 0.05, "H beta": 0.70, "nebula": 0.75, "broad": 0.85}  # own judgement
WORTHWHILE_GAIN_MAG = 0.2  # a filter that helps less stays in its box; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class FilterEffect:
    """A filter on N objects: the sky grows ``darker_mag``, the objects ``fainter_mag`` (N,).

    ``fainter_mag`` is infinite for objects without lines, on which the filter is of no use.
    """

    name: str
    darker_mag: float
    fainter_mag: Floats


def sky_darkening_mag(filter_used: Filter) -> float:
    """Magnitudes by which a filter darkens a white sky for the night eye."""
    passed = min(filter_used.bandwidth_nm / NIGHT_EYE_BAND_NM, 1.0) * filter_used.transmission
    return float(-2.5 * np.log10(passed))


def filter_effect(filter_used: Filter, objects: DeepSky, glow: Glow) -> FilterEffect:
    """What a filter does to the sky and to each object.

    The sky is taken as white: what passes is bandwidth times transmission over the 98 nm that
    the night eye takes in. Emission nebulae and planetaries keep the share of their lines,
    times the transmission; where the light of the lines is known apart, of that light.
    Limits: about half a magnitude; the lamps of a town are not white, and central stars and
    reflection light are left out.
    """
    share = _line_shares(objects, filter_used.passes)
    both = _line_shares(objects, "nebula")
    known = np.where(share > 0.0, 10.0 ** (-0.4 * (glow.line_mag - glow.mag)), np.nan)
    known = known * np.minimum(share / np.where(both > 0.0, both, 1.0), 1.0)
    share = np.where(np.isnan(known), share, known)
    with np.errstate(divide="ignore"):
        fainter = -2.5 * np.log10(share * filter_used.transmission)
    return FilterEffect(filter_used.name, sky_darkening_mag(filter_used), fainter)


def _line_shares(objects: DeepSky, passes: str) -> Floats:
    """Share (N,) of each object's light that the lines carry which a filter passes."""
    columns = zip(objects.id, objects.kind, objects.nebula_type, strict=True)
    return np.array([_line_share(*column, passes) for column in columns], dtype=float)


def _line_share(identifier: str, kind: Kind, nebula_type: str, passes: str) -> float:
    if not _has_lines(kind, nebula_type):
        return 0.0
    shares = HYDROGEN_SHARES if identifier in HYDROGEN_ONLY else LINE_SHARES[kind]
    return shares[passes]


def _has_lines(kind: Kind, nebula_type: str) -> bool:
    if kind is Kind.PLANETARY_NEBULA:
        return True
    return kind is Kind.NEBULA and nebula_type in EMISSION_TYPES
