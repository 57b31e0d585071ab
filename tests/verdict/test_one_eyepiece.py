"""One rule for the eyepiece: the telescope's report and the night name the same one."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from deepsky_samples import objects, setup
from split_telescope import pairs, random_pairs

from planner.ephemeris.bodies import Bodies
from planner.optics.eyepiece import Barlow, Eyepiece, Filter
from planner.optics.view import View, all_views
from planner.sky.seeing import line_of_sight_fwhm
from planner.verdict.bodies.judge import BodyJudge
from planner.verdict.deepsky.judge import DeepSkyJudge
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.judge import (
    PairDetail,
    judge_pairs,
    split_conditions,
    split_instrument,
)
from planner.verdict.pairs.tables import SplitTables, build_split_tables
from planner.verdict.powers import doubles_most
from planner.verdict.scope.purpose import AsAtNight, Fit, NearPower, Purpose, rank_for_purpose
from planner.verdict.scope.typical import FaintTarget, typical
from planner.verdict.sightlines import Sightlines

if TYPE_CHECKING:
    from planner.verdict.pairs.lookup import StudyPairs
    from planner.verdict.setup import Setup
    from planner.verdict.verdicts import Verdicts

APERTURES = {76.0: 700.0, 152.0: 1200.0, 305.0: 1525.0}  # and focal lengths, mm
SETS: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {  # eyepieces in mm, Barlows
    "two and a Barlow": ((25.0, 10.0), (2.0,)),
    "usual": ((32.0, 18.0, 10.0, 7.0, 5.0), (1.5,)),
    "many": ((24.0, 15.0, 9.0, 6.0, 4.0, 3.0), ()),
}
BOTH_LINES = (Filter("both lines", "nebula", 24.0, 0.92),)
FAINT = {
    Purpose.GALAXIES: FaintTarget.GALAXY,
    Purpose.NEBULAE: FaintTarget.NEBULA,
    Purpose.GLOBULARS: FaintTarget.GLOBULAR,
    Purpose.CLUSTERS: FaintTarget.CLUSTER,
}
SEEINGS = (0.8, 1.2, 1.5, 2.0, 3.0, 4.0)
DAWES_ARCSEC_MM = 115.8  # Dawes 1867: 4.56" for an inch
CLOSE = np.array([0.9, 1.0, 1.1, 1.3, 1.6, 2.0])  # of Dawes's separation: at the limit


@cache
def kit(aperture_mm: float, pieces: str) -> tuple[Setup, tuple[View, ...], SplitTables]:
    """A telescope with a set of eyepieces, and its tables."""
    base = setup()
    telescope = replace(
        base.telescope,
        aperture_mm=aperture_mm,
        clear_aperture_mm=aperture_mm,
        focal_length_mm=APERTURES[aperture_mm],
        obstruction_mm=0.22 * aperture_mm,
    )
    used = replace(base, telescope=telescope)
    eyepieces, barlows = SETS[pieces]
    views = all_views(
        telescope,
        [Eyepiece(f"{f:g} mm", f, 55.0) for f in eyepieces],
        [Barlow(f"{f:g}x", f) for f in barlows],
    )
    powers = [view.magnification for view in views]
    pupils = [view.exit_pupil_mm for view in views]
    return used, views, build_split_tables(split_instrument(used), powers, pupils)


def night(
    aperture_mm: float,
    pieces: str,
    seeing: float,
    found: StudyPairs,
    airmass: float = 1.0,
    sky_mag: float = 21.3,
    spectrum: float = 0.0,
    only: int | None = None,
) -> Verdicts[PairDetail]:
    """Pairs judged as the night does, in one view only if told so."""
    used, views, tables = kit(aperture_mm, pieces)
    if only is not None:
        tables = SplitTables(
            tables.instrument,
            tables.powers[[only]],
            tables.exit_pupils_mm[[only]],
            tables.steps[[only, -1]],
        )
        views = views[only : only + 1]
    count = len(found.v1)
    place = np.full(count, airmass), np.full(count, sky_mag), np.full(count, spectrum)
    tonight = replace(used, seeing_arcsec=seeing)
    return judge_pairs(tonight, views, tables, found, split_conditions(tonight, views, *place))


def named(aperture_mm: float, pieces: str, seeing: float, purpose: Purpose) -> tuple[int, Fit]:
    """Which view the report puts first, and how it fits."""
    used, views, _ = kit(aperture_mm, pieces)
    best = rank_for_purpose(replace(used, seeing_arcsec=seeing), views, purpose)[0]
    assert isinstance(best.reason, NearPower)
    return views.index(best.view), best.reason.fit


@pytest.mark.parametrize("pieces", SETS)
@pytest.mark.parametrize("aperture_mm", APERTURES)
def test_the_report_and_the_night_name_one_eyepiece_for_close_doubles(
    aperture_mm: float, pieces: str
) -> None:
    """Overhead; but for a pair that splits better past the bound, or in no other view."""
    separation = CLOSE * DAWES_ARCSEC_MM / aperture_mm
    close = pairs(separation, 5.0, 5.3)
    agreeing = []
    for seeing in SEEINGS:
        view, _ = named(aperture_mm, pieces, seeing, Purpose.DOUBLES)
        found = night(aperture_mm, pieces, seeing, close)
        there = night(aperture_mm, pieces, seeing, close, only=view)
        agrees = found.view == view
        assert np.all(agrees | (there.detail.split_class < found.detail.split_class))
        agreeing.append(agrees)
    if pieces != "two and a Barlow":
        assert np.mean(agreeing) > 0.8


@pytest.mark.parametrize("pieces", SETS)
@pytest.mark.parametrize("aperture_mm", APERTURES)
def test_the_report_and_the_night_name_one_eyepiece_for_planets(
    aperture_mm: float, pieces: str
) -> None:
    """Overhead, and lower where the report is asked for the seeing there."""
    used, views, _ = kit(aperture_mm, pieces)
    one = np.ones(1)
    jupiter = Bodies(
        np.array(["Jupiter"], dtype=object),
        one, one, 40.0 * one, one, -2.2 * one, 44.0 * one, one, 120.0 * one,
    )  # fmt: skip
    for seeing in SEEINGS:
        for altitude in (90.0, 30.0):
            line = Sightlines(np.array([altitude]), 21.3 * one, 0.0 * one, 0.0 * one)
            judge = BodyJudge(replace(used, seeing_arcsec=seeing), views)
            along = float(line_of_sight_fwhm(seeing, line.airmass)[0])
            view, _ = named(aperture_mm, pieces, along, Purpose.PLANETS)
            assert judge.judge(jupiter, line).view.tolist() == [view]


@pytest.mark.parametrize(("sky", "filters"), [(21.3, ()), (19.0, BOTH_LINES)])
@pytest.mark.parametrize(
    ("aperture_mm", "pieces"),
    [(76.0, "two and a Barlow"), (76.0, "many"), (152.0, "usual"), (305.0, "many")],
)
def test_the_report_and_the_night_name_one_eyepiece_for_faint_things(
    aperture_mm: float, pieces: str, sky: float, filters: tuple[Filter, ...]
) -> None:
    """And one filter: the typical galaxy, nebula, globular and cluster, overhead, dark and in town.

    The night names only what its own judge finds; nothing of the report is asked there.
    """
    used, views, _ = kit(aperture_mm, pieces)
    place = replace(used, zenith_sky_mag=sky)
    judge = DeepSkyJudge.of(place, views, filters)
    line = Sightlines(np.array([90.0]), np.array([sky]), np.zeros(1), np.zeros(1))
    for purpose, target in FAINT.items():
        best = rank_for_purpose(place, views, purpose, filters)[0]
        found = judge.judge(typical(target), line)
        assert views[found.view[0]] == best.view
        assert isinstance(best.reason, AsAtNight)
        assert (best.reason.filter_name is None) == (found.filter_index[0] < 0)
        assert best.reason.margin_mag <= found.margin[0] + 0.06  # twice the table's error


def test_real_ones_get_the_power_of_the_typical_one() -> None:
    """M 13, M 92, M 15; NGC 3379 and 4258's small neighbours: within a third of the report's."""
    used, views, _ = kit(152.0, "usual")
    judge = DeepSkyJudge.of(used, views, ())
    for purpose, names in (
        (Purpose.GLOBULARS, ("NGC 6205", "NGC 6341", "NGC 7078")),
        (Purpose.GALAXIES, ("NGC 3379", "NGC 3115", "NGC 4449")),
    ):
        power = rank_for_purpose(used, views, purpose)[0].view.magnification
        count = len(names)
        line = Sightlines(
            np.full(count, 80.0), np.full(count, 21.3), np.zeros(count), np.zeros(count)
        )
        for view in judge.judge(objects(*names), line).view:
            assert 0.74 < views[view].magnification / power < 1.34


@pytest.mark.parametrize("purpose", [Purpose.DOUBLES, Purpose.PLANETS])
def test_what_is_named_is_too_high_only_where_all_are(purpose: Purpose) -> None:
    for aperture_mm in APERTURES:
        for pieces in SETS:
            for seeing in (*SEEINGS, 9.0):
                view, fit = named(aperture_mm, pieces, seeing, purpose)
                assert fit is not Fit.TOO_HIGH or view == 0


@pytest.mark.parametrize("seeing", SEEINGS)
def test_no_pair_goes_past_the_bound_for_nothing(seeing: float) -> None:
    """Past it only where no lower view of the kit shows the same class."""
    sample = random_pairs(1500)
    used, _, tables = kit(152.0, "many")
    found = night(152.0, "many", seeing, sample, airmass=1.2)
    most = float(doubles_most(used, line_of_sight_fwhm(seeing, 1.2)))
    past = tables.powers[found.view] > most
    assert past.mean() < 0.15
    for view in range(len(tables.powers)):
        there = night(152.0, "many", seeing, sample, airmass=1.2, only=view)
        lower = tables.powers[view] < tables.powers[found.view]
        assert np.all(~(past & lower) | (there.detail.split_class < found.detail.split_class))


def test_the_power_rises_in_worse_seeing_only_where_it_keeps_a_class() -> None:
    """Where the power goes up, the view of the steadier air would show less.

    That is seldom: less than once a pair on average, from 0.8" to 5".
    """
    sample, seeings = random_pairs(1500), np.geomspace(0.8, 5.0, 25)
    _, _, tables = kit(152.0, "usual")
    before = night(152.0, "usual", seeings[0], sample, airmass=1.2).view
    rises = 0
    for seeing in seeings[1:]:
        now = night(152.0, "usual", seeing, sample, airmass=1.2)
        shown = now.detail.split_class >= SplitClass.NOTCHED
        rise = shown & (tables.powers[now.view] > tables.powers[before])
        for view in np.unique(before[rise]):
            there = night(152.0, "usual", seeing, sample, airmass=1.2, only=int(view))
            there_too = rise & (before == view)
            assert np.all(there.detail.split_class[there_too] < now.detail.split_class[there_too])
        rises += int(rise.sum())
        before = now.view
    assert 0 < rises < len(sample.v1)


WELL_KNOWN = {  # separation, V magnitudes; from memory, near 2026
    "Izar": (2.9, 2.6, 4.8),
    "Castor": (5.5, 1.9, 3.0),
    "sigma Cas": (3.1, 5.0, 7.2),
    "eta Cas": (13.5, 3.5, 7.4),
    "gamma Leo": (4.7, 2.4, 3.6),
    "Albireo": (34.6, 3.1, 5.1),
    "Mizar": (14.4, 2.2, 3.9),
    "Porrima": (3.4, 3.5, 3.5),
    "eps1 Lyr": (2.2, 5.1, 6.0),
    "61 Cyg": (31.9, 5.2, 6.1),
}


@pytest.mark.parametrize("seeing", [1.5, 2.0, 3.0])
@pytest.mark.parametrize("pieces", ["usual", "many"])
def test_a_pair_keeps_its_eyepiece_through_the_year(pieces: str, seeing: float) -> None:
    """At one height: under a darker or brighter sky, with the air's spectrum along it or across."""
    known = pairs(*zip(*WELL_KNOWN.values(), strict=True))
    months = [
        night(152.0, pieces, seeing, known, airmass=1.05, sky_mag=sky, spectrum=spectrum)
        for sky in (19.5, 20.5, 21.5)
        for spectrum in (0.0, 0.1)
    ]
    for other in months[1:]:
        same_class = other.detail.split_class == months[0].detail.split_class
        assert np.all((other.view == months[0].view) | ~same_class)
        assert same_class.sum() >= len(known.v1) - 1


def test_well_known_pairs_get_the_power_an_observer_takes() -> None:
    """Six inches in 2": ranges of common practice, no source; close ones up to 1.6 times 152 mm."""
    known = pairs(*zip(*WELL_KNOWN.values(), strict=True))
    _, _, tables = kit(152.0, "usual")
    found = night(152.0, "usual", 2.0, known)
    power = dict(zip(WELL_KNOWN, tables.powers[found.view], strict=True))
    for wide in ("Albireo", "61 Cyg", "Mizar", "eta Cas"):
        assert 30.0 <= power[wide] <= 70.0
    for medium in ("Castor", "gamma Leo"):
        assert 80.0 <= power[medium] <= 150.0
    for close in ("Izar", "sigma Cas", "Porrima", "eps1 Lyr"):
        assert 120.0 <= power[close] <= 1.6 * 152.0
