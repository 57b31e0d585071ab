"""The kit: all that one observer owns, and where it is used."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol, TypeVar

from planner.constants import ALGOL_EPOCH_HJD
from planner.errors import UsageError
from planner.kit.hours import Hours
from planner.optics.eyepiece import goes_into
from planner.optics.view import all_views
from planner.targets.spelling import most_like
from planner.tube.rig import Rig

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from planner.ephemeris.red_spot import RedSpot
    from planner.ephemeris.site import Site
    from planner.eye.observer import Companion, Observer
    from planner.optics.eyepiece import Barlow, Eyepiece, Filter, Finder
    from planner.optics.telescope import Telescope
    from planner.optics.view import View


class _Named(Protocol):
    @property
    def name(self) -> str: ...


_T = TypeVar("_T", bound=_Named)


@dataclass(frozen=True, slots=True)
class KitSite:
    """A site with its usual sky.

    ``zenith_sky_mag`` is the moonless zenith in mag per square arcsecond and ``sky_words`` how
    the owner gave it; ``seeing_arcsec`` the usual zenith seeing (full width at half maximum);
    ``extinction_mag`` the magnitudes lost per airmass.
    """

    site: Site
    zenith_sky_mag: float
    sky_words: str
    seeing_arcsec: float
    extinction_mag: float
    extinction_words: str

    @property
    def name(self) -> str:
        """The site's name."""
        return self.site.name


@dataclass(frozen=True, slots=True)
class Kit:
    """What a kit file holds.

    ``source`` tells the reader where it came from, ``log_folder`` where the observer wants the
    log, None for the usual place.
    """

    source: str
    sites: tuple[KitSite, ...]
    telescopes: tuple[Telescope, ...]
    eyepieces: tuple[Eyepiece, ...]
    barlows: tuple[Barlow, ...]
    filters: tuple[Filter, ...]
    finders: tuple[Finder, ...]
    observer: Observer
    hours: Hours = Hours()
    companions: tuple[Companion, ...] = ()
    red_spot: RedSpot | None = None
    algol_epoch: float = ALGOL_EPOCH_HJD
    log_folder: Path | None = None
    rig: Rig = Rig()

    def site(self, name: str | None = None) -> KitSite:
        """The site of that name, or the first one."""
        return _pick(self.sites, name, "site", self.source)

    def telescope(self, name: str | None = None) -> Telescope:
        """The telescope of that name, or the first one."""
        return _pick(self.telescopes, name, "telescope", self.source)

    def rig_of(self, telescope: Telescope) -> Rig:
        """Tube, parts, cradle and base of a telescope; nothing of them for any other."""
        carried = self.telescope(self.rig.telescope)
        return self.rig if carried.name == telescope.name else Rig()

    def companion(self, name: str) -> Companion:
        """The companion of that name."""
        if not self.companions:
            raise UsageError(f"{self.source}: no [[companion]] block; add one for {name!r}")
        return _pick(self.companions, name, "companion", self.source)

    def finder(self, name: str) -> Finder:
        """The finder of that name."""
        if not self.finders:
            raise UsageError(f"{self.source}: no [[finder]] block; add one for {name!r}")
        return _pick(self.finders, name, "finder", self.source)

    def view(self, telescope: Telescope, name: str) -> View:
        """The view of a telescope with that name: an eyepiece's, or with a Barlow."""
        return _pick(self.views(telescope), name, "eyepiece in that telescope", self.source)

    def fitting(self, telescope: Telescope) -> tuple[Eyepiece, ...]:
        """The eyepieces whose barrel goes into the telescope's focuser."""
        return tuple(e for e in self.eyepieces if goes_into(e.barrel_mm, telescope.barrel_mm))

    def views(self, telescope: Telescope) -> tuple[View, ...]:
        """Every view of a telescope that can be put together, the lowest power first."""
        return all_views(telescope, self.fitting(telescope), self.barlows)


def _pick(things: Sequence[_T], name: str | None, noun: str, source: str) -> _T:
    if name is None:
        return things[0]
    for thing in things:
        if thing.name.casefold() == name.strip().casefold():
            return thing
    names = [thing.name for thing in things]
    near = most_like(name, names, cutoff=0.6)
    hint = f"did you mean {near!r}? " if near else ""
    raise UsageError(f"{source}: no {noun} named {name!r}; {hint}it has: {', '.join(names)}")
