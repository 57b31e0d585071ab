"""The observer: what of a person enters the visual models."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Observer:
    """One observer.

    ``dark_pupil_mm`` is measured or follows from the age. ``field_factor`` is Crumey's F: how
    much more light than the laboratory threshold this person wants (1 ideal, 1.4 keen, 2
    typical, 2.4 casual). ``field_factor_measured`` is true when F was fitted to the person's
    own naked-eye limit; it then already contains the zenith extinction, so only the airmass
    beyond 1 dims the stars further. ``least_exit_pupil_mm`` is the smallest exit pupil the
    person is willing to use.
    """

    name: str
    age_years: float
    dark_pupil_mm: float
    field_factor: float
    field_factor_measured: bool
    least_exit_pupil_mm: float
