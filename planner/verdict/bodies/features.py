"""Markings of a planet, and how surely each is seen: one record for all of them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum, StrEnum


class Sureness(IntEnum):
    """How surely a marking is seen."""

    NOT_TONIGHT = 0
    POSSIBLE = 1  # in steady moments
    PLAIN = 2


class Holds(StrEnum):
    """What stands between a marking and a better view of it."""

    NOTHING = "nothing"
    SEEING = "seeing"
    APERTURE = "aperture"
    FIGURE = "the mirror's figure"
    POWER = "power"
    HEIGHT = "height"
    GLARE = "glare"
    FACES_AWAY = "faces away"


class Shape(IntEnum):
    """How a marking is measured."""

    STRIPE = 0  # long: belts
    SPOT = 1  # round
    GAP = 2  # in Saturn's ring
    DISC = 3  # a disc against a star
    PHASE = 4  # the missing part of a disc
    RILLE = 5  # long, one side in shadow and the other lit
    PIT = 6  # round, one half in shadow and the other lit


@dataclass(frozen=True, slots=True)
class Marking:
    """One marking as it lies before us tonight.

    ``width_arcsec`` is its narrow side, ``length_arcsec`` the long one; ``contrast`` its brightness
    against what lies around it, less 1. ``turned_away`` tells that it is on the far side now,
    ``rough`` that the ground about it is broken.
    """

    name: str
    shape: Shape
    width_arcsec: float
    length_arcsec: float
    contrast: float
    turned_away: bool = False
    rough: bool = False


@dataclass(frozen=True, slots=True)
class Feature:
    """What the telescope makes of a marking: ``margin`` is the contrast left over that needed.

    ``worst_seeing_arcsec`` is the zenith seeing in which it still goes, 0 where in none, None where
    the marking is turned away.
    """

    name: str
    sureness: Sureness
    margin: float | None
    worst_seeing_arcsec: float | None
    holds: Holds
