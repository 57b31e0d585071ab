"""Which view an observer prefers for what is seen as a glow, where several show it alike."""

from __future__ import annotations

from dataclasses import replace
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.margin_table import Liking
from planner.eye.profile import Profile
from planner.targets.kind import Kind
from planner.verdict.powers import SEEING_COMFORT_ARCSEC, STEADY_MOMENTS

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.verdict.setup import Setup


class Wish(Enum):
    """What a view is wanted for."""

    GALAXY = auto()
    PLANETARY = auto()
    NEBULA = auto()
    GLOBULAR = auto()


GLOBULAR_GIVEN_MAG = 0.6  # of its glow, so that its stars come apart; own judgement
GLOBULAR_HELD_SHARE = 0.5  # of its diameter: there its stars are; own judgement
RESOLVING = 1e6  # as large as may be: a globular wants its stars apart
# As seen so many arcminutes across, and between which exit pupils: common practice, no source.
LIKINGS = {
    Wish.GALAXY: Liking(90.0, 2.5, 1.2),
    Wish.PLANETARY: Liking(90.0, 3.0, 0.8),
    Wish.NEBULA: Liking(90.0, 5.0, 1.5),
    Wish.GLOBULAR: Liking(
        RESOLVING, 1.0, 1.0, near_mag=GLOBULAR_GIVEN_MAG, held_share=GLOBULAR_HELD_SHARE
    ),
}
_BY_KIND = {
    Kind.GALAXY: Wish.GALAXY,
    Kind.NEBULA: Wish.NEBULA,
    Kind.GLOBULAR_CLUSTER: Wish.GLOBULAR,
}

WISH_PROFILES = {  # the brightness profiles that occur with each
    Wish.GALAXY: tuple(p for p in Profile if p not in (Profile.UNIFORM, Profile.GLOBULAR)),
    Wish.PLANETARY: (Profile.UNIFORM,),
    Wish.NEBULA: (Profile.UNIFORM, Profile.EXPONENTIAL_DISC, Profile.WEAK_BULGE),
    Wish.GLOBULAR: (Profile.GLOBULAR,),
}


def wishes(kinds: NDArray[np.object_]) -> NDArray[np.object_]:
    """What each kind (N,) wants; small bright things what planetaries do."""
    return np.array([_BY_KIND.get(kind, Wish.PLANETARY) for kind in kinds], dtype=object)


def liking(setup: Setup, wish: Wish) -> Liking:
    """What is liked with this setup: an exit pupil and a power that observer and air bear.

    The air bears what spreads a star to 5' in moments half as steady again, as for doubles.
    """
    known = LIKINGS[wish]
    narrowest = max(known.narrowest_mm, setup.observer.least_exit_pupil_mm)
    return replace(
        known,
        narrowest_mm=narrowest,
        widest_mm=max(known.widest_mm, narrowest),
        most_power=min(
            STEADY_MOMENTS * SEEING_COMFORT_ARCSEC / setup.seeing_arcsec,
            setup.telescope.clear_aperture_mm / setup.observer.least_exit_pupil_mm,
        ),
    )
