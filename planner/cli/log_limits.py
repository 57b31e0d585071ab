"""`planner log limits` and `planner log surprises`: what the log says of its owner."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planner.cli.limits_use import Lesson, kit_setup, learn, too_few
from planner.cli.night_request import ChoiceOptions, NightOptions, request_for
from planner.cli.options import (
    Moment,
    chosen_site,
    kit_option,
    open_kit,
    site_option,
    telescope_option,
)
from planner.errors import PlannerError, UsageError

if TYPE_CHECKING:
    from planner.kit.kit import Kit
    from planner.log.record import Record
    from planner.night.plan import Plan, PlannedTarget

MOST_TOLD = 5
ASKED_OF = 120  # targets of tonight that are weighed
LEAST_BITS = 0.02  # less is not worth a look
TEACHING = (
    "double,open-cluster,globular-cluster,galaxy,planetary-nebula,nebula,red-star"  # no planet
)

limits_format = click.option(
    "--format", "output_format", type=click.Choice(["text", "json"]), default="text",
    show_default=True, help="How to print the result.",
)  # fmt: skip


@click.command()
@click.option("--apply", "apply", is_flag=True, help="Judge by what the log tells from now on.")
@click.option("--withdraw", is_flag=True, help="Judge by the kit's own values again.")
@click.option(
    "--date", metavar="YYYY-MM-DD", type=Moment("date", "%Y-%m-%d", "2026-12-08"),
    help="The evening whose targets are weighed; the coming night if left out.",
)  # fmt: skip
@limits_format
@kit_option
@site_option
@telescope_option
def limits(
    apply: bool,
    withdraw: bool,
    date: dt.datetime | None,
    output_format: str,
    kit_path: str | None,
    site_name: str | None,
    telescope_name: str | None,
) -> None:
    """Learn your own limits from what you have seen and not seen.

    The usual seeing, your eye's factor, how much harder unequal pairs are for you, and how much
    of the image's motion your eye follows, each with a range that holds in 9 cases of 10. The
    kit's values are what is believed beforehand and are never changed: --apply writes a file of
    its own beside the kit, --withdraw removes it.
    """
    if apply and withdraw:
        raise UsageError("give either --apply or --withdraw, not both")
    kit = open_kit(kit_path)
    if withdraw:
        click.echo(_withdrawn(kit))
        return
    place = chosen_site(kit, site_name)
    setup = kit_setup(kit, place, telescope_name)
    lesson = learn(kit, setup, place.name)
    if isinstance(lesson, int):
        raise PlannerError(too_few(lesson, setup, place.name))
    from planner.sheets.limits_text import WORDS, limits_document, limits_text

    options = NightOptions(
        kit_path, place.name, setup.telescope.name, date, None, None, None, None, None, False, 15.0,
        remark=False,
    )  # fmt: skip
    tell = _telling(lesson, kit, options)
    factor = setup.observer.field_factor
    if output_format == "json":
        from planner.sheets.json_text import json_text

        click.echo(json_text(limits_document(lesson.fit, factor, tell)))
    else:
        where = f"{setup.telescope.name} at {place.name}"
        lines = [f"{one['name']} (mostly the {WORDS[one['setting']]})" for one in tell]
        click.echo(limits_text(lesson.fit, factor, where, lines))
    if apply:
        _apply(lesson, kit, setup.observer.name, setup.telescope.name, place.name)


def _apply(lesson: Lesson, kit: Kit, observer: str, telescope: str, site: str) -> None:
    from planner.limits.keeping import keep, told_by

    path = _own_file(kit)
    if not any(one.told for one in lesson.fit.learnt):
        raise PlannerError("your log tells none of the settings yet; nothing was written")
    keep(path, told_by(lesson.fit, observer, telescope, site))
    click.echo(f"wrote {path}; the kit's own values again with --withdraw", err=True)


def _withdrawn(kit: Kit) -> str:
    path = _own_file(kit)
    try:
        path.unlink()
    except FileNotFoundError:
        return f"{path}: is not there; the kit's own values hold already"
    except OSError as error:
        raise PlannerError(f"{path}: {error.strerror}; remove it by hand") from error
    return f"removed {path}; the kit's own values hold again"


def _own_file(kit: Kit) -> Path:
    from planner.kit.reading import EXAMPLE_NAME
    from planner.limits.keeping import limits_file

    if kit.source == EXAMPLE_NAME:
        raise UsageError("limits lie beside your kit file; give it with --kit")
    return limits_file(kit.source)


def _telling(lesson: Lesson, kit: Kit, options: NightOptions) -> list[dict[str, Any]]:
    """The targets of tonight whose outcome would teach most, with what each would teach."""
    from planner.limits.evidence import looks_at
    from planner.limits.foretelling import information_bits, thinned
    from planner.limits.priors import Own
    from planner.night.planning import make_plan
    from planner.sheets.limits_text import KEYS

    eye_told = lesson.fit.learnt[Own.EYE].told  # then doubles say most of what is left
    kinds = "double" if eye_told else TEACHING
    choice = ChoiceOptions(kinds=kinds, limit=ASKED_OF, include_all=True)
    plan = make_plan(request_for(options, choice, kit))
    found = [(target, _as_look(plan, target)) for target in plan.targets]
    asked = [(target, look) for target, look in found if look is not None]
    if not asked:
        return []
    looks = looks_at([look for _, look in asked], lesson.instrument)
    bits, which = information_bits(looks, thinned(lesson.fit))
    order = [n for n in (-bits).argsort(kind="stable") if bits[n] >= LEAST_BITS][:MOST_TOLD]
    return [
        {
            "id": asked[n][0].id,
            "name": asked[n][0].name,
            "bits": round(float(bits[n]), 3),
            "setting": KEYS[Own(int(which[n]))],
        }
        for n in order
    ]


def _as_look(plan: Plan, target: PlannedTarget) -> Record | None:
    """A target as a look that is still to come; None for what cannot teach."""
    from planner.log.record import LoggedPair, Promise, Record
    from planner.targets.kind import Kind
    from planner.verdict.verdicts import MarginUnit

    if target.airmass is None or target.kind in (Kind.PLANET, Kind.MOON):
        return None
    assumed, double, pair, margin = plan.assumptions, target.double, None, None
    if double is not None:
        v1, v2 = double.magnitudes
        pair = LoggedPair(target.id, double.components, double.separation_arcsec, None, v1, v2)
    elif target.margin is not None and target.margin_unit is MarginUnit.MAGNITUDES:
        margin = target.margin
    else:
        return None
    factor = {"field_factor": assumed.eye_field_factor}
    said = Promise(
        None, None, margin, assumed.seeing_arcsec, assumed.sky_mag_per_arcsec2, factor, ""
    )
    at = target.best_time or dt.datetime.now(dt.UTC)
    return Record(
        id=target.id, written=at, at=at, night=plan.night.date, target=target.id,
        name=target.name, kind=target.kind, airmass=target.airmass, pair=pair, said=said,
        magnification=None if target.view is None else target.view.magnification,
    )  # fmt: skip


@click.command()
@kit_option
@site_option
@telescope_option
def surprises(kit_path: str | None, site_name: str | None, telescope_name: str | None) -> None:
    """List the looks that came otherwise than foretold, better or worse, each with a reason."""
    from planner.limits.surprises import surprises as found_in
    from planner.sheets.limits_text import surprises_text

    kit = open_kit(kit_path)
    place = chosen_site(kit, site_name)
    setup = kit_setup(kit, place, telescope_name)
    lesson = learn(kit, setup, place.name)
    if isinstance(lesson, int):
        raise PlannerError(too_few(lesson, setup, place.name))
    found = found_in(lesson.records, lesson.evidence, lesson.fit, lesson.instrument)
    click.echo(surprises_text(found, len(lesson.records)))
