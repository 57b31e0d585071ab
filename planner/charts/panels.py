"""The views of one target, from the bare eye to the planned power, for one instrument."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, log10, radians, sin
from typing import TYPE_CHECKING

from planner.angles import separation_deg
from planner.charts.scene import Anchor, Dot, Ellipse, Pen, Polyline, Scene, Words
from planner.charts.window import EYE_FIELD_DEG, EYE_LIMIT_MAG, Window
from planner.constants import ARCSEC_PER_RADIAN, WAVELENGTH_NM
from planner.optics.turn import IMAGE_TURNS, telescope_turn
from planner.verdict.faintest_star import faintest_star_mag

if TYPE_CHECKING:
    from planner.charts.projection import Projection
    from planner.charts.subject import Subject
    from planner.hops.hop import Hop
    from planner.optics.eyepiece import Finder
    from planner.optics.view import View
    from planner.verdict.setup import Setup

EYE_PUPIL_MM, COMFORT_MAG, NAKED_MAG = 6.0, 0.5, 6.0  # own judgement
SIGHT_FIELD_DEG = 15.0  # drawn around a sight without power; own judgement
WIDEST_FINDER_SHARE = 2.6  # of its field at most, so that the start shows; own judgement
LEAST_DISC_PT = 3.0


@dataclass(frozen=True, slots=True)
class Looks:
    """What one looks through: the setup, the finder (None for none) and the lowest power."""

    setup: Setup
    finder: Finder | None
    low: View


def main_finder(finders: tuple[Finder, ...]) -> Finder | None:
    """The widest finder with power, else a sight, else none."""
    powered = [finder for finder in finders if finder.magnification > 1.0]
    if powered:
        return max(powered, key=lambda finder: (finder.true_field_deg, finder.name))
    return min(finders, key=lambda finder: finder.name) if finders else None


def eye_window(radius_pt: float, looks: Looks, title: str = "By eye") -> Window:
    """The bare eye: 40 degrees, with the finder's field as a ring."""
    ring = looks.finder.true_field_deg if looks.finder else looks.low.true_field_deg
    return Window("eye", EYE_FIELD_DEG, radius_pt, EYE_LIMIT_MAG, ring_deg=ring, title=title)


def finder_window(radius_pt: float, finder: Finder, hop: Hop | None, title: str = "") -> Window:
    """The finder, wide enough for the stars of the way, its true field as a ring."""
    reach = 0.0
    if hop is not None and hop.start is not None:
        target = hop.legs[-1].to
        stops = [hop.start, *(leg.to for leg in hop.legs[:-1])]
        reach = max(
            float(separation_deg(s.ra_deg, s.dec_deg, target.ra_deg, target.dec_deg)) for s in stops
        )
    true = finder.true_field_deg
    least = SIGHT_FIELD_DEG if finder.magnification <= 1.0 else 1.3 * true
    wide = min(max(least, 2.3 * reach), max(WIDEST_FINDER_SHARE * true, least))
    return Window(
        "finder", wide, radius_pt, finder_limit_mag(finder), IMAGE_TURNS[finder.image], true,
        title or finder.name,
    )  # fmt: skip


def view_window(
    radius_pt: float, setup: Setup, view: View, altitude_deg: float, title: str = ""
) -> Window:
    """An eyepiece: its whole field, turned as the telescope turns it at that altitude."""
    return Window(
        "telescope", view.true_field_deg, radius_pt,
        float(faintest_star_mag(setup, view.exit_pupil_mm)),
        telescope_turn(setup.telescope, altitude_deg), None,
        title or f"{view.name}, {view.magnification:.0f}x",
    )  # fmt: skip


def finder_limit_mag(finder: Finder) -> float:
    """``6 + 5 log10(objective / pupil)`` less half a magnitude for comfort.

    The objective as the kit tells it, else as the power needs it. Own judgement.
    """
    if finder.magnification <= 1.0:
        return NAKED_MAG
    objective = finder.aperture_mm or EYE_PUPIL_MM * finder.magnification
    return NAKED_MAG + 5.0 * log10(objective / EYE_PUPIL_MM) - COMFORT_MAG


def pair_scene(subject: Subject, projection: Projection, aperture_mm: float, title: str) -> Scene:
    """The middle of the view with a pair to scale: discs of the aperture, the fainter smaller.

    The discs are those of diffraction, ``1.22 lambda / D`` in radius, shrunk by 6 % a magnitude;
    the seeing is not drawn. Source: Airy 1835; the shrinking is own judgement.
    """
    assert subject.separation_arcsec is not None and subject.magnitudes is not None
    radius = projection.radius_pt
    airy = 1.22 * WAVELENGTH_NM * 1e-6 / aperture_mm * ARCSEC_PER_RADIAN
    half_arcsec = max(1.6 * subject.separation_arcsec, 4.0 * airy)
    scale = radius / half_arcsec
    angle = radians(projection.direction_deg(subject.position_angle_deg or 0.0))
    reach = subject.separation_arcsec * scale / 2.0
    faint = abs(subject.magnitudes[1] - subject.magnitudes[0])
    disc = max(LEAST_DISC_PT, 2.0 * airy * scale)
    small = max(0.6 * LEAST_DISC_PT, disc * max(0.3, 1.0 - 0.06 * faint - 0.1 * (faint > 0.3)))
    first = (-reach * cos(angle), -reach * sin(angle))
    second = (-first[0], -first[1])
    bar = max(x for x in (0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0) if x * scale < radius)
    left, low = -radius - 2.0, -radius - 3.0
    return Scene(
        radius_pt=radius,
        rim=Pen.SOFT_RIM,
        ellipses=(Ellipse(*first, (0.75 * disc, 0.75 * disc), 0.0, Pen.FAINT),),
        dots=(Dot(*first, round(disc, 2)), Dot(*second, round(small, 2))),
        lines=tuple(
            Polyline(points, Pen.TICK) for points in (
                ((left, low), (left + bar * scale, low)),
                ((left, low - 2.0), (left, low + 2.0)),
                ((left + bar * scale, low - 2.0), (left + bar * scale, low + 2.0)),
            )
        ),
        words=(Words(left, low + 4.0, f"{bar:g}″", 7.5, Anchor.START),),
        title=title,
    )  # fmt: skip


def with_rim_marks(scene: Scene, projection: Projection) -> Scene:
    """The same with north, east and the drift at its rim."""
    from dataclasses import replace

    from planner.charts.rim import compass_marks, drift_arrow

    marks, letters = compass_marks(projection)
    shaft, head = drift_arrow(projection)
    return replace(
        scene,
        areas=(*scene.areas, head),
        lines=(*scene.lines, *marks, shaft),
        words=(*scene.words, *letters),
    )
