"""Plans against what observers of six-inch telescopes know: common practice, no source."""

from __future__ import annotations

from functools import cache

import pytest
from sample_nights import plan

from planner.night.plan import PlannedTarget
from planner.targets.catalog import load_deepsky
from planner.targets.kind import DEEP_SKY_KINDS, Kind
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.verdicts import Limit

DARK_MAG, CITY_MAG = 21.5, 18.5
NEW_MOONS = (  # of 2026; within two days, almanac from memory
    "2026-01-18", "2026-03-19", "2026-05-16", "2026-07-14", "2026-09-11", "2026-11-09",
)  # fmt: skip
HIGH_DEG = 35.0
NEARLY_ALL = 0.95
SEEING_ARCSEC = 2.0
TOO_CLOSE_ARCSEC = 0.55  # three quarters of Dawes's limit


@cache
def messier_ids() -> frozenset[str]:
    """The catalog's ids of the Messier objects."""
    objects = load_deepsky()
    return frozenset(
        str(name)
        for name, names in zip(objects.id, objects.names, strict=True)
        if any(other.startswith("M ") for other in names.split("|"))
    )


@cache
def best_of_the_year(zenith_sky_mag: float) -> dict[str, PlannedTarget]:
    """Each Messier object on the moonless night when it has the largest margin, if it gets high."""
    best: dict[str, PlannedTarget] = {}
    for date in NEW_MOONS:
        made = plan(
            "Lindenhof", date, kinds=frozenset(DEEP_SKY_KINDS), only=messier_ids(),
            include_all=True, limit=None, zenith_sky_mag=zenith_sky_mag,
        )  # fmt: skip
        for target in made.targets:
            if target.margin is None or target.altitude_deg is None:
                continue
            old = best.get(target.name)
            if target.altitude_deg >= HIGH_DEG and (old is None or target.margin > old.margin):
                best[target.name] = target
    return best


def test_a_dark_sky_shows_nearly_every_messier_object_that_gets_high() -> None:
    """The whole list has been seen in six inches many times over."""
    best = best_of_the_year(DARK_MAG)
    assert len(best) > 65
    assert sum(target.shown for target in best.values()) / len(best) >= NEARLY_ALL


def test_a_city_leaves_the_bright_clusters() -> None:
    """Every Messier open and globular cluster that gets high stays."""
    clusters = [
        target
        for target in best_of_the_year(CITY_MAG).values()
        if target.kind in (Kind.OPEN_CLUSTER, Kind.GLOBULAR_CLUSTER)
    ]
    assert len(clusters) > 25
    assert [target.name for target in clusters if not target.shown] == []


def test_a_city_leaves_the_brightest_of_the_rest() -> None:
    """The core of M 31, the Ring and the Dumbbell."""
    best = best_of_the_year(CITY_MAG)
    for name in ("M 31", "M 57", "M 27"):
        (target,) = (t for full, t in best.items() if full.split()[:2] == name.split())
        assert target.shown, name


def test_a_city_leaves_the_orion_nebula() -> None:
    """The Trapezium's surroundings are seen from any town, M 43 under any dark sky."""
    city, dark = best_of_the_year(CITY_MAG), best_of_the_year(DARK_MAG)
    assert next(t for name, t in city.items() if name.startswith("M 42")).shown
    assert next(t for name, t in dark.items() if name.startswith("M 43")).shown


def test_a_city_takes_most_galaxies() -> None:
    """Fewer than a quarter of those a dark sky shows; of the Messier galaxies about half."""
    galaxies = {"kinds": frozenset({Kind.GALAXY}), "limit": None}
    dark = plan("Lindenhof", "2026-05-16", zenith_sky_mag=DARK_MAG, **galaxies).shown_count
    city = plan("Lindenhof", "2026-05-16", zenith_sky_mag=CITY_MAG, **galaxies).shown_count
    assert dark > 200
    assert 0 < city < dark / 4
    best = [t for t in best_of_the_year(CITY_MAG).values() if t.kind is Kind.GALAXY]
    assert 0.2 < sum(target.shown for target in best) / len(best) < 0.8


@pytest.mark.parametrize(
    ("date", "showpieces"),
    [
        ("2026-07-14", ("M 13", "M 57", "M 27", "Albireo", "Mizar", "Saturn")),
        ("2026-12-09", ("M 31", "M 42", "M 45", "Almach", "Castor", "Jupiter")),
        ("2026-03-19", ("M 81", "M 44", "M 42", "Mizar", "Algieba", "Jupiter")),
    ],
)
def test_the_usual_list_holds_the_showpieces_and_no_kind_crowds_it(
    date: str, showpieces: tuple[str, ...]
) -> None:
    """What every handbook of the season names first (from memory); moonless nights."""
    listed = plan("Lindenhof", date, limit=25).targets
    for name in showpieces:
        assert any(name in t.name or name in t.designations for t in listed), name
    kinds = [target.kind for target in listed]
    assert max(kinds.count(kind) for kind in set(kinds)) <= 0.5 * len(kinds)


def test_the_full_moon_takes_galaxies_and_leaves_doubles() -> None:
    """Nights half a month apart: 30 April and 1 May 2026 is full Moon (almanac, from memory)."""
    galaxies = {"kinds": frozenset({Kind.GALAXY}), "limit": None}
    new = plan("Lindenhof", "2026-05-16", **galaxies).shown_count
    full = plan("Lindenhof", "2026-05-01", **galaxies).shown_count
    assert full < new / 2
    doubles = {"kinds": frozenset({Kind.DOUBLE}), "limit": None}
    new = plan("Lindenhof", "2026-05-16", **doubles).shown_count
    full = plan("Lindenhof", "2026-05-01", **doubles).shown_count
    assert 0.8 * new < full < 1.2 * new


def pair(name: str, date: str, seeing_arcsec: float = SEEING_ARCSEC) -> PlannedTarget:
    """One double by its proper name or letter."""
    made = plan(
        "Lindenhof", date, kinds=frozenset({Kind.DOUBLE}), include_all=True, limit=None,
        faintest=6.0, seeing_arcsec=seeing_arcsec,
    )  # fmt: skip
    found = [t for t in made.targets if name in t.name or name in t.designations]
    assert found, name
    return found[0]


@pytest.mark.parametrize(
    ("name", "date"),
    [
        ("Castor", "2026-03-19"),
        ("Albireo", "2026-09-11"),
        ("Mizar", "2026-05-16"),
        ("Almach", "2026-11-09"),
        ("Cor Caroli", "2026-05-16"),
        ("Algieba", "2026-03-19"),
        ("Polaris", "2026-11-09"),
    ],
)
def test_the_famous_wide_pairs_split_in_usual_seeing(name: str, date: str) -> None:
    """Shown to every visitor."""
    found = pair(name, date)
    assert found.shown
    assert found.double is not None and found.double.split_class >= SplitClass.JUST


def test_pairs_below_the_resolution_never_split() -> None:
    """Dawes: 116"/154 mm = 0.75"; zeta Boo (0.3") and its like are not split in any air."""
    zeta = pair("zet Boo", "2026-05-16", seeing_arcsec=0.5)
    assert zeta.double is not None and zeta.double.separation_arcsec < 0.4
    made = plan(kinds=frozenset({Kind.DOUBLE}), include_all=True, limit=None, seeing_arcsec=0.5)
    details = [t.double for t in made.targets if t.double is not None]
    close = [
        d
        for lead in details
        for d in (lead, *lead.others)
        if d.separation_arcsec < TOO_CLOSE_ARCSEC
    ]
    assert len(close) > 3
    assert {d.split_class for d in close} <= {SplitClass.NOT_SPLIT, SplitClass.ELONGATED}


def test_the_companion_of_sirius_does_not_show() -> None:
    """11 arcsec off and 10 mag fainter: far beyond six inches 25 degrees above the horizon."""
    found = pair("Sirius", "2026-01-18")
    assert found.best_time is not None and not found.shown
    assert found.limit is not Limit.NOTHING


@pytest.mark.parametrize("date", ["2026-02-24", "2026-06-04"])
def test_neptune_is_looked_for_when_its_sky_is_dark_enough(date: str) -> None:
    """Mag 7.8 low in dusk or dawn: the moment with a margin counts, not the highest."""
    made = plan("Lindenhof", date, kinds=frozenset({Kind.PLANET}), limit=None)
    neptune = next(t for t in made.targets if t.id == "Neptune")
    assert neptune.margin is not None and neptune.margin > 0.0
    assert neptune.limit in (Limit.TWILIGHT, Limit.ALTITUDE, Limit.SEEING)


def test_planets_get_a_power_that_the_seeing_bears() -> None:
    """Jupiter in 2": about 100 to 150; in 1", more; in 4", less."""
    powers = []
    for seeing in (1.0, 2.0, 4.0):
        made = plan("Lindenhof", "2026-01-18", kinds=frozenset({Kind.PLANET}), seeing_arcsec=seeing)
        jupiter = next(t for t in made.targets if t.id == "Jupiter")
        assert jupiter.view is not None
        powers.append(jupiter.view.magnification)
    assert powers == sorted(powers, reverse=True) and powers[0] > powers[2]
    assert 90.0 <= powers[1] <= 160.0
