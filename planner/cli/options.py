"""Options that several commands share, and how they open the kit."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING, Any, TypeVar

import click

from planner.cli.file_path import FilePath

if TYPE_CHECKING:
    from planner.kit.kit import Kit, KitSite


NOW = "now"


class Number(click.FloatRange):
    """A number from ``least`` to ``most``; "nan" is refused, which click lets through."""

    def __init__(self, least: float, most: float) -> None:
        super().__init__(least, most)
        self.least = least
        self.most = most

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """The text as a finite number."""
        with suppress(ValueError):
            number = float(value)
            if self.least <= number <= self.most:
                return number
        return self.fail(f"{value!r} is no number from {self.least:g} to {self.most:g}", param, ctx)


class Count(click.IntRange):
    """A whole number from 1."""

    def __init__(self) -> None:
        super().__init__(min=1)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """The text as a number to count with."""
        with suppress(click.BadParameter):
            return int(super().convert(value, param, ctx))
        return self.fail(f"{value!r} is no whole number from 1 on", param, ctx)


class Moment(click.DateTime):
    """A date or a clock time, ``noun``; refused with one as it should be, ``like``."""

    def __init__(self, noun: str, code: str, like: str) -> None:
        super().__init__([code])
        self.noun = noun
        self.like = like

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The text as a datetime."""
        with suppress(click.BadParameter):
            return super().convert(value, param, ctx)
        return self.fail(
            f"there is no {self.noun} {value!r}; write one like {self.like}", param, ctx
        )


class MomentOrNow(Moment):
    """A clock time, or the word "now"."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The text as a datetime, or the word."""
        if isinstance(value, str) and value.strip().casefold() == NOW:
            return NOW
        return super().convert(value, param, ctx)


class TimeSpan(click.ParamType):  # type: ignore[type-arg,unused-ignore]
    """Two clock times with a hyphen between them."""

    name = "span"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The text as two times of day."""
        import datetime as dt

        if isinstance(value, tuple):
            return value
        with suppress(ValueError):
            start, end = str(value).split("-")
            return tuple(
                dt.datetime.strptime(part.strip(), "%H:%M").time() for part in (start, end)
            )
        return self.fail(f"{value!r} is no stretch of time; write 22:10-22:40", param, ctx)


F = TypeVar("F", bound=Callable[..., Any])

kit_option = click.option(
    "--kit",
    "kit_path",
    metavar="FILE",
    envvar="PLANNER_KIT",
    type=FilePath(dir_okay=False),
    help="Your kit file (also from the variable PLANNER_KIT).",
)
site_option = click.option(
    "--site", "site_name", metavar="NAME", help="Which site of the kit; the first if left out."
)
telescope_option = click.option(
    "--telescope",
    "telescope_name",
    metavar="NAME",
    help="Which telescope of the kit; the first if left out.",
)
air_option = click.option(
    "--air",
    metavar="AIR",
    help="Tonight's air: clear, average, hazy, or magnitudes lost per airmass (0.08 to 1.5); the "
    "site's usual one if left out.",
)
limits_option = click.option(
    "--limits",
    "own_limits",
    is_flag=True,
    help="Learn your own limits from your log and use them this once.",
)
format_option = click.option(
    "--format",
    "output_format",
    type=click.Choice(["text", "json", "csv"]),
    default="text",
    show_default=True,
    help="How to print the result.",
)


def open_kit(path: str | None) -> Kit:
    """The kit of a file; without one the embedded example, which is said on stderr."""
    from planner.kit.reading import load_kit

    if path is None:
        click.echo(
            "note: this is for the embedded example kit, as no --kit was given; "
            "write yours with:\n  planner kit new MYKIT.toml",
            err=True,
        )
    return load_kit(path)


def chosen_site(kit: Kit, name: str | None) -> KitSite:
    """The site of that name, or the first; what looks mistyped about its place goes to stderr.

    Raises:
        UsageError: the kit has no such site.
    """
    from planner.kit.position_advice import position_remarks
    from planner.sheets.page_text import wrapped

    place = kit.site(name)
    for remark in position_remarks(place.site):
        click.echo(wrapped(f"warning: {place.name}: {remark}", 2), err=True)
    return place


def extinction(air: str | None, place: KitSite) -> tuple[float, str]:
    """Magnitudes lost per airmass and words: of the air asked for, else the place's usual.

    Raises:
        UsageError: no such air.
    """
    from planner.errors import UsageError
    from planner.kit.sites import tonights_extinction

    if air is None:
        return place.extinction_mag, place.extinction_words
    try:
        return tonights_extinction(air, place.site.elevation_m)
    except UsageError as error:
        raise UsageError(f"--air {error}") from error


def order_option(default: str) -> Callable[[F], F]:
    """The order in which the chosen targets are printed; which are chosen is left alone."""
    return click.option(
        "--order",
        type=click.Choice(["worth", "time"]),
        default=default,
        show_default=True,
        help="Print the targets chosen by worth in this order; time is that of each one's best.",
    )


def night_options(command: F) -> F:
    """The options that say which night, under which sky, from which kit."""
    for option in reversed(
        (
            kit_option,
            site_option,
            telescope_option,
            click.option(
                "--date",
                "date",
                metavar="YYYY-MM-DD",
                type=Moment("date", "%Y-%m-%d", "2026-12-08"),
                help="The evening's date at the site; the coming night if left out.",
            ),
            click.option(
                "--seeing",
                "seeing_arcsec",
                metavar="ARCSEC",
                type=Number(0.3, 15.0),
                help="Tonight's seeing at the zenith; the site's usual one if left out.",
            ),
            click.option(
                "--sky",
                "zenith_sky_mag",
                metavar="MAG",
                type=Number(15.0, 22.2),
                help="Tonight's moonless zenith, mag per square arcsecond.",
            ),
            air_option,
            click.option(
                "--from",
                "start",
                metavar="HH:MM|now",
                type=MomentOrNow("clock time", "%H:%M", "21:30 or now"),
                help="Not before this clock time at the site; the kit's usual_from if left out.",
            ),
            click.option(
                "--until",
                "end",
                metavar="HH:MM",
                type=Moment("clock time", "%H:%M", "21:30"),
                help="Not after this clock time at the site; the kit's usual_until if left out.",
            ),
            click.option(
                "--whole-night",
                is_flag=True,
                help="From dusk to dawn, whatever the kit's usual hours.",
            ),
            click.option(
                "--least-altitude",
                "least_altitude_deg",
                metavar="DEG",
                type=Number(0.0, 85.0),
                default=15.0,
                show_default=True,
                help="Nothing lower than this.",
            ),
            limits_option,
        )
    ):
        command = option(command)
    return command


def choice_options(command: F) -> F:
    """The options that narrow the list of targets."""
    from planner.cli.lists import list_option

    for option in reversed(
        (
            list_option,
            click.option("--new", "only_new", is_flag=True, help="Only what your log never shows."),
            click.option("--again", "only_again", is_flag=True, help="Only what you have seen."),
            click.option(
                "--kinds",
                metavar="A,B",
                help="Only these kinds: double, open-cluster, globular-cluster, galaxy, "
                "planetary-nebula, nebula, red-star, planet, moon.",
            ),
            click.option("--constellation", metavar="NAME", help="Only this constellation."),
            click.option(
                "--faintest",
                metavar="MAG",
                type=Number(-30.0, 30.0),
                help="Nothing fainter than this in total.",
            ),
            click.option(
                "--limit",
                metavar="N",
                type=Count(),
                help="At most so many targets, and with --all as many that are not shown; 25 if "
                "left out, in JSON and CSV with --all every one.",
            ),
        )
    ):
        command = option(command)
    return command
