"""Names and particulars of deep-sky objects, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.targets.catalog import load_stars
from planner.targets.kind import Kind
from planner.verdict.cluster_stars import count_cluster_stars, globular_words, open_cluster_words

if TYPE_CHECKING:
    from planner.targets.deepsky import DeepSky


def object_name(objects: DeepSky, row: int) -> str:
    """Messier number, else the catalogue's own, with the common name."""
    first = next(
        (name for name in objects.names[row].split("|") if name.startswith("M ")), objects.id[row]
    )
    common = objects.common_name[row].split("|")[0]
    return f"{first} {common}".strip()


def cluster_words(
    objects: DeepSky, row: int, star_limit_mag: float, best_limit_mag: float
) -> tuple[str, ...]:
    """What of a cluster's stars shows; nothing for other kinds.

    The limits are catalogue V, in the view named and in the best for stars: a globular that is
    found at low power is resolved at a higher one.
    """
    kind = objects.kind[row]
    if kind is Kind.GLOBULAR_CLUSTER:
        whole, branch = float(objects.v_mag[row]), float(objects.hb_v_mag[row])
        return (globular_words(whole, branch, best_limit_mag),)
    if kind is Kind.OPEN_CLUSTER and objects.major_arcmin[row] > 0.0:
        count = count_cluster_stars(
            load_stars(),
            float(objects.ra_deg[row]),
            float(objects.dec_deg[row]),
            float(objects.major_arcmin[row]),
            star_limit_mag,
        )
        return (open_cluster_words(count),)
    return ()
