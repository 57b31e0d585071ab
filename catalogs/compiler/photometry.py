"""V magnitudes and B-V colours from Gaia and Hipparcos photometry."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

# G - V as a cubic of BP - RP, Gaia EDR3 documentation, table 5.9 (Riello 2021, A&A 649, A3);
# valid -0.5 < BP - RP < 5, scatter 0.03 mag.
G_MINUS_V = (-0.02704, 0.01424, -0.2156, 0.01426)
# Hp - V as a polynomial of V - I, fitted here to about 30,000 single stars Hp < 9 of both
# catalogues against V from Gaia; scatter 0.006 mag, range -0.3 < V - I < 2.6.
HP_MINUS_V = (-0.01077613, 0.31773426, -0.15334741, -0.02086507, 0.02245846, -0.00435108)
HP_VI_RANGE = (-0.3, 2.6)
# B - V against BP - RP, medians of 27,000 single stars of both catalogues; scatter 0.05 mag.
BP_RP_NODES = (
    -0.373, -0.237, -0.104, 0.024, 0.169, 0.320, 0.478, 0.623, 0.762, 0.908, 1.105, 1.216, 1.368,
    1.521, 1.672, 1.817, 1.969, 2.116, 2.265,
)  # fmt: skip
B_V_NODES = (
    -0.236, -0.164, -0.086, 0.004, 0.118, 0.234, 0.354, 0.473, 0.599, 0.729, 0.944, 1.065, 1.220,
    1.360, 1.481, 1.562, 1.621, 1.650, 1.650,
)  # fmt: skip
ZERO_POINTS = {"g": 25.6873668671, "bp": 25.3385422158, "rp": 24.7478955012}  # Gaia EDR3, Vega
CLEAN_EXCESS = 0.2  # corrected flux excess above which the colour holds a neighbour's light
BLENDED_COLOUR = (0.0, 1.5)  # BP - RP believed of a blend when only G -> V hangs on it
TYPICAL_COLOUR = 0.7  # BP - RP of the median star to G = 10; used where there is no colour


def v_from_gaia(g_mag: ArrayLike, bp_rp: ArrayLike) -> Floats:
    """V from G and BP - RP (mag, arrays of one shape).

    Source: Gaia EDR3 documentation, table 5.9; scatter found against Hipparcos 0.01 mag for
    G 6-9, 0.03 at G = 3, useless for G < 2.5 (saturation).
    """
    c0, c1, c2, c3 = G_MINUS_V
    c = np.asarray(bp_rp, dtype=float)
    return np.asarray(np.asarray(g_mag, dtype=float) - (c0 + c * (c1 + c * (c2 + c * c3))))


def v_from_hipparcos(hp_mag: ArrayLike, v_i: ArrayLike) -> Floats:
    """V from Hp and V - I (mag); V - I is held inside -0.3..2.6. Source: own fit, see above."""
    c = np.clip(np.asarray(v_i, dtype=float), *HP_VI_RANGE)
    step = np.polynomial.polynomial.polyval(c, np.array(HP_MINUS_V))
    return np.asarray(np.asarray(hp_mag, dtype=float) - step)


def b_v_from_gaia(bp_rp: ArrayLike) -> Floats:
    """B - V from BP - RP, by interpolation; flat at 1.65 for the reddest giants, where B - V
    no longer follows the temperature."""
    return np.asarray(np.interp(np.asarray(bp_rp, dtype=float), BP_RP_NODES, B_V_NODES))


def corrected_flux_excess(g_mag: ArrayLike, bp_mag: ArrayLike, rp_mag: ArrayLike) -> Floats:
    """C*: light in BP and RP beyond what a single star of this G and colour has.

    Source: Riello 2021, A&A 649, A3, eq. 6 and table 2. Near 0 for a single star.
    """
    g, bp, rp = (np.asarray(a, dtype=float) for a in (g_mag, bp_mag, rp_mag))

    def flux(magnitude: Floats, band: str) -> Floats:
        return np.asarray(10.0 ** (-0.4 * (magnitude - ZERO_POINTS[band])))

    excess = (flux(bp, "bp") + flux(rp, "rp")) / flux(g, "g")
    x = bp - rp
    blue = 1.154360 + 0.033772 * x + 0.032277 * x**2
    middle = 1.162004 + 0.011464 * x + 0.049255 * x**2 - 0.005879 * x**3
    red = 1.057572 + 0.140537 * x
    return np.asarray(excess - np.where(x < 0.5, blue, np.where(x < 4.0, middle, red)))


def own_colour(combined_bv: ArrayLike, v1: ArrayLike, v2: ArrayLike, bv2: ArrayLike) -> Floats:
    """B - V of the brighter star, from that of both together and what is known of the fainter.

    ``B - V`` is a difference of magnitudes, so each band is unmixed by itself: the light of both
    in V is ``v1`` and ``v2`` together, in B that plus ``combined_bv``; the companion's share
    (``v2``, ``v2 + bv2``) is taken out. NaN where the companion would leave less than a tenth.
    """
    first, second = np.asarray(v1, dtype=float), np.asarray(v2, dtype=float)
    both = -2.5 * np.log10(10.0 ** (-0.4 * first) + 10.0 ** (-0.4 * second))
    own_b = without_companions(both + np.asarray(combined_bv, dtype=float), second + bv2)
    return np.asarray(own_b - first)


def without_companions(combined_mag: ArrayLike, companions_mag: ArrayLike) -> Floats:
    """Magnitude left when a companion's light is taken out of a combined magnitude.

    ``companions_mag`` is the magnitude of all companions together. NaN when they would leave
    less than a tenth of the light: then the measure does not hold both.
    """
    combined = np.asarray(combined_mag, dtype=float)
    share = 1.0 - 10.0 ** (-0.4 * (np.asarray(companions_mag, dtype=float) - combined))
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(share > 0.1, combined - 2.5 * np.log10(share), np.nan)
