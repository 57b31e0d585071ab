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
    exit pupil the person is willing to use.
    """

    name: str
    age_years: float
    dark_pupil_mm: float
    field_factor: float
    factor_air_mag: float
    least_exit_pupil_mm: float

    @property
    def field_factor_measured(self) -> bool:
        """Whether F was fitted to the person's own limit."""
        return self.factor_air_mag > 0.0
