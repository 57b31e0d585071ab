"""The order of an evening: its rules on real nights, held from outside the solver."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
from sample_nights import KIT, plan, request

from planner.ephemeris.moments import grid
from planner.ephemeris.track import track
from planner.errors import UsageError
from planner.eye.observer import Companion
from planner.night.evening.checking import order_faults
from planner.night.evening.evening import Evening, order_evening
from planner.night.evening.order_file import FiledLook, FiledOrder
from planner.night.evening.reasons import Edge, LeftOut, Why
from planner.night.evening.request import EveningRequest
from planner.night.evening.session import Gap
from planner.optics.eyepiece import Finder
from planner.optics.stand import Stand
from planner.order.checker import Rule
from planner.sheets.evening_document import evening_document
from planner.sheets.evening_text import evening_text
from planner.sheets.order_fault_words import fault_words

if TYPE_CHECKING:
    from planner.night.evening.evening import Look
    from planner.night.plan import PlannedTarget

FINDERS = (Finder("8x50", 8.0, 6.0, "inverted"),)
HAND_MOVED_DEG = 80.0
LEAST_DEG = 15.0
EVENING = {"start": dt.time(19), "end": dt.time(22, 15)}
NIGHTS = [
    ("Lindenhof", "2026-10-24", {"start": dt.time(1, 30), "end": dt.time(4)}),  # clocks go back
    ("Lindenhof", "2026-03-28", {"start": dt.time(1), "end": dt.time(4)}),  # and forward
    ("Nordkapp", "2026-12-20", {}),  # no sunrise: twenty hours
    ("Glen", "2026-06-21", {}),  # twilight all night
    ("Beagle", "2026-05-14", EVENING),
    ("Atoll", "2026-05-14", EVENING),  # beside the date line
]


def asked(site: str = "Lindenhof", date: str = "2026-11-10", **more: Any) -> EveningRequest:
    """Three hours with few candidates; ``night`` changes the night's request."""
    night = {"limit": None, "finders": FINDERS, **EVENING, **more.pop("night", {})}
    return EveningRequest(**{"night": request(site, date, **night), "most": 25, **more})


@cache
def ordered() -> Evening:
    """The evening in order, made once."""
    return order_evening(asked())


def target_of(look: Look) -> PlannedTarget:
    """The target of an entry that is no break."""
    assert look.target is not None
    return look.target


def filed(evening: Evening) -> FiledOrder:
    """The order as its file would hold it."""
    looks = tuple(
        FiledLook(look.start, look.end, target_of(look).id, target_of(look).name)
        for look in evening.looks
    )
    return FiledOrder(evening.plan.night.date, looks, evening.score, evening.prices)


@pytest.mark.parametrize(("site", "date", "night"), NIGHTS)
def test_an_order_keeps_every_rule(site: str, date: str, night: dict[str, Any]) -> None:
    """Looks follow one another, in reach, in the dark, at the heights of another reduction."""
    hours = {"start": None, "end": None, **night}
    evening = order_evening(asked(site, date, night=hours))
    assert len(evening.looks) >= 3
    zone = evening.looks[0].start.tzinfo
    for before, after in pairwise(evening.looks):
        assert before.end.astimezone(dt.UTC) <= after.start.astimezone(dt.UTC)
    names = [target_of(look).id for look in evening.looks]
    assert len(set(names)) == len(names)
    place = evening.plan.site
    for look in evening.looks:
        target = target_of(look)
        assert look.start.tzinfo is zone and target.shown
        assert target.window_start is not None and target.window_end is not None
        edges = (target.window_start, look.start, target.window_end)
        first, start, last = (edge.astimezone(dt.UTC) for edge in edges)  # the clock may go back
        assert first <= start <= last
        for moment in (look.start, look.end):
            times = grid(place, moment, moment, 5)
            way = track(place, times, [target.ra_deg], [target.dec_deg])
            height = float(way.altitude_deg[0, 0])
            assert LEAST_DEG - 0.3 <= height <= HAND_MOVED_DEG + 0.3, (target.name, height)
    assert 0.0 < evening.score <= evening.bound


def test_reasons_say_what_the_sky_does() -> None:
    """Heights and edges of the window against another reduction of the same place."""
    evening = ordered()
    place, met = evening.plan.site, set()
    for look in evening.looks:
        target = target_of(look)
        assert look.why
        for reason in look.why:
            met.add(reason.why)
            assert (reason.time is None) == (reason.edge is None)
            when = look.start + (look.end - look.start) / 2
            times = grid(place, when - dt.timedelta(hours=1), when + dt.timedelta(hours=1), 30)
            height = track(place, times, [target.ra_deg], [target.dec_deg]).altitude_deg[0]
            before, now, after = height[0], height[len(height) // 2], height[-1]
            if reason.why is Why.HIGHEST:
                assert now >= 90.0 - abs(place.latitude_deg - target.dec_deg) - 2.6
            elif reason.why is Why.SINKING:
                assert before > now > after
            elif reason.why is Why.HIGHEST_OF_HOURS:
                assert before < now < after
            elif reason.edge is Edge.STEEP and reason.why is Why.SOON_OVER:
                assert after > now > 60.0
            elif reason.edge is Edge.LOW and reason.why is Why.SOON_OVER:
                assert after < now
    assert Why.HIGHEST in met and len(met) >= 4


def test_what_an_evening_is_for_is_in_it() -> None:
    """Of the seven worthiest six stand in an order of three hours and a quarter, not fillers."""
    evening = ordered()
    names = {target_of(look).id for look in evening.looks}
    listed = plan("Lindenhof", "2026-11-10", **EVENING, limit=7).targets
    assert sum(target.id in names for target in listed) >= 6


def test_a_bound_is_near_the_score() -> None:
    """On an evening of few candidates nothing much better can exist.

    The bound lets a walk come back to a target after another one, so it stands a little high.
    """
    evening = ordered()
    assert evening.score >= 0.9 * evening.bound


def test_what_is_wanted_is_there_and_what_is_done_is_not() -> None:
    """By ids; what cannot be had tonight is told."""
    first = target_of(ordered().looks[0]).id
    gone = target_of(ordered().looks[1]).id
    left = next(item for item in ordered().left_out if item.why is LeftOut.NO_ROOM).id
    evening = order_evening(
        asked(must=(left, "NGC 5139"), done=(first,), skip=(gone,), night={"limit": None})
    )
    there = {target_of(look).id: look for look in evening.looks}
    assert left in there and there[left].why[0].why is Why.WANTED
    assert first not in there and gone not in there
    why = {item.id: item.why for item in evening.left_out}
    assert why[first] is LeftOut.DONE and why[gone] is LeftOut.SKIPPED
    assert why["NGC 5139"] is LeftOut.NOT_SHOWN  # omega Centauri never rises at 48 N


def test_clouds_and_breaks_are_kept_free() -> None:
    """Nothing is looked at under a cloud; a break may begin ten minutes off."""
    cloud, rest = Gap(dt.time(19, 0), dt.time(19, 40)), Gap(dt.time(21, 0), dt.time(21, 20))
    evening = order_evening(asked(clouds=(cloud,), breaks=(rest,)))
    for look in evening.looks:
        clock = look.start.replace(tzinfo=None).time(), look.end.replace(tzinfo=None).time()
        if look.target is not None:
            assert clock[1] <= cloud.start or clock[0] >= cloud.end
    (pause,) = [look for look in evening.looks if look.target is None]
    assert dt.time(20, 50) <= pause.start.time() <= dt.time(21, 10)
    assert pause.end - pause.start == dt.timedelta(minutes=20)


def test_who_looks_too_reaches_the_eyepiece() -> None:
    """With a child of 1.1 m the eyepiece never stands higher; without a stand nothing is said."""
    assert all(look.eyepiece_height_m is None for look in ordered().looks)
    stand = Stand(700.0, 560.0, 110.0, 30.0)
    telescope = replace(KIT.telescope(), stand=stand)
    child = Companion("child", 1100.0)
    evening = order_evening(asked(companions=(child,), night={"telescope": telescope}))
    heights = [look.eyepiece_height_m for look in evening.looks]
    assert heights and all(height is not None and height <= 1.1 for height in heights)
    assert any(item.why is LeftOut.OUT_OF_REACH for item in evening.left_out)


def test_the_order_of_a_changed_night_stays_near_the_old_one() -> None:
    """A tenth of an arcsecond of seeing changes few places; what is done stays done."""
    old = ordered()
    again = order_evening(asked(before=filed(old), night={"seeing_arcsec": 2.1}))
    before = [target_of(look).id for look in old.looks]
    after = [target_of(look).id for look in again.looks]
    kept = sum(pair in set(pairwise(before)) for pair in pairwise(after))
    assert kept >= 0.7 * (len(before) - 1)


def test_an_order_of_our_own_has_no_faults_and_an_edited_one_has() -> None:
    """One cut short, one named twice, one of nothing, one begun before the way is made."""
    looks = filed(ordered()).looks
    assert order_faults(asked(), looks) == ()
    minute = dt.timedelta(minutes=1)
    edited = (
        replace(looks[0], end=looks[0].start + minute),
        replace(looks[1], target_id=looks[0].target_id),
        replace(looks[2], target_id="NGC 0", name="nothing"),
        replace(looks[4], start=looks[1].start),
    )
    found = order_faults(asked(), edited)
    assert [fault.entry for fault in found] == sorted(fault.entry for fault in found)
    rules = {(fault.entry, fault.rule) for fault in found}
    assert {(1, None), (2, Rule.TWICE), (3, Rule.UNKNOWN)} <= rules
    assert (4, Rule.TOO_SOON) in rules
    assert all(fault_words(fault).startswith(f"entry {fault.entry}, ") for fault in found)
    assert next(fault for fault in found if fault.rule is None).short_by_min >= 4


def test_the_way_leads_from_what_is_in_the_eyepiece() -> None:
    """What was looked at last is done, and yet the next hop begins at it."""
    old = ordered()
    here, then = (target_of(look) for look in old.looks[2:4])
    rest = replace(filed(old), looks=filed(old).looks[3:])
    past = tuple(target_of(look).id for look in old.looks[:3])
    now = old.looks[2].end
    evening = order_evening(
        asked(before=rest, done=past, here=here.id, night={"start": now.time()})
    )
    ids = [target_of(look).id for look in evening.looks]
    assert not set(past) & set(ids)
    assert evening.looks[0].start - now <= dt.timedelta(minutes=8) and then.id in ids[:3]


def test_what_is_wanted_in_vain_is_told() -> None:
    """A target that never rises, one under the cloud all its time, a break outside the hours."""
    cloud = Gap(dt.time(19), dt.time(22, 15))
    name = target_of(ordered().looks[0]).id
    evening = order_evening(asked(must=("NGC 5139", name), clouds=(cloud,)))
    assert {item.id: item.why for item in evening.unmet} == {
        "NGC 5139": LeftOut.NOT_SHOWN, name: LeftOut.CLOUDED,
    }  # fmt: skip
    assert evening.looks == () and evening.score == 0.0
    text = evening_text(evening)
    assert text.count("You asked for") == 2 and "Nothing can be put in order" in text
    document = evening_document(evening)
    assert [row["target_id"] for row in document["unmet"]] == ["NGC 5139", name]
    assert document["entries"] == []


def test_a_short_night_and_a_day_without_night() -> None:
    """Forty minutes hold a few looks, or none at midsummer; the midnight sun is refused.

    At 65.65 N on 21 June the Sun, 0.83 degrees below the horizon at its setting by convention, is
    down for about 39 minutes: its midnight height is 90 - 65.65 - 23.44 = 0.91 degrees below.
    """
    night = {"start": dt.time(22, 0), "end": dt.time(22, 40)}
    evening = order_evening(asked(night=night))
    assert 1 <= len(evening.looks) <= 6
    place = replace(request("Nordkapp").site, latitude_deg=65.65)
    hours = {"start": None, "end": None}
    bright = asked("Nordkapp", "2026-06-21", night=hours)
    evening = order_evening(replace(bright, night=replace(bright.night, site=place)))
    assert sum((look.end - look.start).seconds for look in evening.looks) <= 45 * 60
    assert evening.idle_minutes <= 45 and evening_text(evening)
    with pytest.raises(UsageError, match="no night"):
        order_evening(bright)
