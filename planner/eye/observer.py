"""The observer: what of a person enters the visual models."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Observer:
    """One observer.

    ``dark_pupil_mm`` is measured or follows from the age. ``field_factor`` is Crumey's F: how
    much more light than the laboratory threshold this person wants (1 ideal, 1.4 keen, 2
    typical, 2.4 casual). ``factor_air_mag`` is what the air overhead took when F was fitted to
    the person's own naked-eye limit: F then holds it, and only what the air takes beyond that
    dims the stars further; 0 for an F from experience. ``least_exit_pupil_mm`` is the smallest
    exit pupil the person is willing to use. ``eye_height_mm`` is the height of the eye of the
    standing person above the ground (None unknown), ``step_mm`` that of a step at hand.
    """

    name: str
    age_years: float
    dark_pupil_mm: float
    field_factor: float
    factor_air_mag: float
    least_exit_pupil_mm: float
    eye_height_mm: float | None = None
    step_mm: float = 0.0

    @property
    def field_factor_measured(self) -> bool:
        """Whether F was fitted to the person's own limit."""
        return self.factor_air_mag > 0.0


@dataclass(frozen=True, slots=True)
class Companion:
    """Somebody who looks too: a child perhaps; ``eye_height_mm`` as for the observer."""

    name: str
    eye_height_mm: float
