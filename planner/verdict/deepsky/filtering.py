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

    Floats = NDArray[np.float64]

NIGHT_EYE_BAND_NM = 98.0  # integral of V'(lambda), peak 1 at 507 nm; CIE 1951 (from memory)
EMISSION_TYPES = ("emission", "supernova-remnant", "cluster-with-nebula")
# Share of the light a dark-adapted eye gets from a nebula that the lines carry. The split between
# 501 and 496 nm (O III) and 486 nm (H beta) varies from object to object; own judgement.
LINE_SHARES = {
    Kind.PLANETARY_NEBULA: {"O III": 0.85, "H beta": 0.10, "nebula": 0.95, "broad": 0.97},
    Kind.NEBULA: {"O III": 0.50, "H beta": 0.25, "nebula": 0.75, "broad": 0.85},
}
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


def filter_effect(filter_used: Filter, objects: DeepSky) -> FilterEffect:
    """What a filter does to the sky and to each object.

    The sky is taken as white: what passes is bandwidth times transmission over the 98 nm that
    the night eye takes in. Emission nebulae and planetaries keep the share of their lines,
    times the transmission.
    Limits: about half a magnitude; the lamps of a town are not white, and central stars and
    reflection light are left out.
    """
    share = np.array(
        [
            LINE_SHARES[kind][filter_used.passes] if _has_lines(kind, nebula_type) else 0.0
            for kind, nebula_type in zip(objects.kind, objects.nebula_type, strict=True)
        ],
        dtype=float,
    )
    with np.errstate(divide="ignore"):
        fainter = -2.5 * np.log10(share * filter_used.transmission)
    return FilterEffect(filter_used.name, sky_darkening_mag(filter_used), fainter)


def _has_lines(kind: Kind, nebula_type: str) -> bool:
    if kind is Kind.PLANETARY_NEBULA:
        return True
    return kind is Kind.NEBULA and nebula_type in EMISSION_TYPES
