"""What "split" means: the classes, the numbers behind them and their words.

Every number of this page is *calibrated by hand*: 0.03 makes a perfect clear aperture meet
Dawes' limit; the other dips, the contrasts, margins and apparent separations were set so that
the classes agree with the experience of six-inch telescopes on well-known pairs (Izar, 36 And,
delta Cyg, zeta Her, theta Aur, Rigel, Antares, Sirius). Agreement with those pairs is therefore
no evidence. The dip of a glimpsed companion grows to 0.10 with the difference, since a 3 per
cent dip on the steep side of a brighter star is a shoulder, not a star; without it the model
promised too much in the best of seeing, for companions 1.5 to 3 mag fainter near the first
bright ring. The seeing that a pair stands is uncertain by some 15 per cent, by up to a third
for close equal pairs.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum


class SplitClass(IntEnum):
    """How well a pair is seen as two; each class includes those below it."""

    NOT_SPLIT = 0
    ELONGATED = 1
    NOTCHED = 2
    JUST = 3
    CLEAN = 4


CLASS_COUNT = 4  # classes that can be reached; last axis of every array of seeing


@dataclass(frozen=True, slots=True)
class SplitCriterion:
    """What one class asks for.

    ``dip`` is the depth of the gap below the fainter star's crest, 0..1, for equal stars and
    ``unequal_dip`` for a difference of 2 mag or more, in step between; ``contrast`` the
    companion's peak over the primary's light at its place; ``margin_mag`` how far the
    companion stays above the limiting magnitude; ``apparent_arcmin`` the least separation at
    the eye for a bright pair. ELONGATED goes by shape: its dips and contrast are 0, unused.
    """

    dip: float
    unequal_dip: float
    contrast: float
    margin_mag: float
    apparent_arcmin: float


CRITERIA: dict[SplitClass, SplitCriterion] = {
    SplitClass.ELONGATED: SplitCriterion(0.0, 0.0, 0.0, 0.3, 2.0),
    SplitClass.NOTCHED: SplitCriterion(0.03, 0.10, 1.2, 0.3, 2.4),
    SplitClass.JUST: SplitCriterion(0.20, 0.20, 2.5, 0.5, 3.0),
    SplitClass.CLEAN: SplitCriterion(0.50, 0.50, 5.0, 1.0, 4.0),
}
EQUAL_UNTIL_MAG = 1.0  # difference up to which the whole figure lengthens; then less and less
UNEQUAL_FROM_MAG = 2.0  # difference from which the eye looks for a companion, not for two discs
ELONGATED_AXIS_RATIO = 1.25  # long axis over short axis of the core that shows as elongated
GOOD_SEEING_ARCSEC = 1.0  # a good night at a low site; common practice, no source
LEAST_SEEING_ARCSEC = 0.4  # zenith FWHM that no site offers; common practice, no source
GOOD_ENOUGH_SHARE = 0.85  # of the best seeing is as good as that: the model's uncertainty
