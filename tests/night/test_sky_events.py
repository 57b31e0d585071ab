"""Events of the sky against published times and another library."""

from __future__ import annotations

import datetime as dt
from functools import cache
from zoneinfo import ZoneInfo

import astronomy
import ephem
import numpy as np
import pytest
from icalendar import Calendar

from planner.ephemeris.algol import ALGOL_PERIOD_DAYS, algol_minima
from planner.kit.reading import load_kit
from planner.night.events.event import EventKind
from planner.night.events.finding import EventRequest, coming_events
from planner.night.events.lunar_eclipses import lunar_eclipses
from planner.night.events.occultations import occultations
from planner.night.events.sky_hours import lowest_points, sky_hours
from planner.sheets.event_words import event_title
from planner.sheets.events_document import events_calendar, events_document
from planner.sheets.events_text import events_text
from planner.targets.catalog import load_designations, load_stars

KIT = load_kit()
SITE = KIT.site().site
VIEWS = KIT.views(KIT.telescope())


@cache
def found(first: dt.date, days: int):
    return coming_events(EventRequest(SITE, VIEWS, first, days, KIT.algol_epoch))


def of(kind, first, days):
    return [event for event in found(first, days) if event.kind is kind]


def utc(text):
    return dt.datetime.fromisoformat(text).replace(tzinfo=dt.UTC)


@pytest.mark.parametrize(
    ("when", "magnitude"),
    [
        ("2028-01-12T04:13", 0.066),
        ("2028-07-06T18:20", 0.389),
        ("2028-12-31T16:52", 1.246),
        ("2029-06-26T03:22", 1.844),
    ],
)
def test_lunar_eclipses_reproduce_the_canon_of_espenak_and_meeus(when, magnitude):
    """Espenak & Meeus, Five Millennium Canon of Lunar Eclipses: time and magnitude; from memory."""
    middle = utc(when)
    hours = sky_hours(SITE, (middle - dt.timedelta(days=1)).date(), 3, 5.0)
    (event,) = lunar_eclipses(hours)
    assert abs((event.time - middle).total_seconds()) < 120.0
    assert event.magnitude == pytest.approx(magnitude, abs=0.006)


def test_contacts_of_an_eclipse_agree_with_astronomy_engine():
    """Half lengths of the partial and the total phase of 2028 December 31, minutes."""
    (event,) = of(EventKind.LUNAR_ECLIPSE, dt.date(2028, 12, 30), 3)
    theirs = astronomy.SearchLunarEclipse(astronomy.Time.Make(2028, 12, 25, 0, 0, 0))
    times = {contact.name: contact.time for contact in event.contacts}
    for phase, half in (("partial", theirs.sd_partial), ("total", theirs.sd_total)):
        length = (times[f"{phase} ends"] - times[f"{phase} begins"]).total_seconds() / 60.0
        assert length / 2.0 == pytest.approx(half, abs=2.0)  # they widen the shadow otherwise


def test_what_the_site_sees_of_an_eclipse_begins_with_moonrise():
    """At 48 N, 8 E the Moon of that evening rises about 16:40 local time: first contacts unseen."""
    (event,) = of(EventKind.LUNAR_ECLIPSE, dt.date(2028, 12, 30), 3)
    seen = {contact.name: contact.seen for contact in event.contacts}
    assert not seen["half shadow begins"] and seen["partial ends"]


@pytest.mark.parametrize(
    ("name", "first"),
    [("Jupiter", dt.date(2027, 2, 9)), ("Mars", dt.date(2027, 2, 17)),
     ("Saturn", dt.date(2027, 10, 16))],
)  # fmt: skip
def test_oppositions_agree_with_astronomy_engine(name, first):
    (event,) = [e for e in of(EventKind.OPPOSITION, first, 4) if e.bodies == (name,)]
    start = astronomy.Time.Make(first.year, first.month, first.day, 0, 0, 0)
    body = getattr(astronomy.Body, name)
    theirs = astronomy.SearchRelativeLongitude(body, 0.0, start).Utc().replace(tzinfo=dt.UTC)
    assert abs((event.time - theirs).total_seconds()) < 1200.0  # the site and light: minutes


def test_elongation_of_mercury_agrees_with_astronomy_engine():
    (event,) = of(EventKind.ELONGATION, dt.date(2027, 1, 30), 8)
    theirs = astronomy.SearchMaxElongation(
        astronomy.Body.Mercury, astronomy.Time.Make(2027, 1, 25, 0, 0, 0)
    )
    assert event.separation_deg == pytest.approx(theirs.elongation, abs=0.05)
    away = event.time - theirs.time.Utc().replace(tzinfo=dt.UTC)
    assert abs(away.total_seconds()) < 6 * 3600.0  # the top is flat


def test_an_occultation_agrees_with_ephem():
    """Contacts of the star covered on 2027 February 20, with the Moon and star of ephem."""
    hours = sky_hours(SITE, dt.date(2027, 2, 20), 1, 5.0)
    (event,) = occultations(hours)
    observer = ephem.Observer()
    observer.lat, observer.lon = str(SITE.latitude_deg), str(SITE.longitude_deg)
    observer.elevation, observer.pressure = SITE.elevation_m, 0.0
    star = ephem.FixedBody()
    names = load_designations()
    letter, sky = event.bodies[0].split()
    numbers = [
        hip
        for hip, bayer, flamsteed, con in zip(
            names.hip, names.bayer, names.flamsteed, names.constellation, strict=True
        )
        if con == sky and letter in (bayer, flamsteed)
    ]
    stars = load_stars()
    row = int(np.flatnonzero(np.isin(stars.hip, numbers))[0])
    star._ra, star._dec = np.radians(stars.ra_deg[row]), np.radians(stars.dec_deg[row])
    for contact in event.contacts:
        observer.date = ephem.Date(contact.time.astimezone(dt.UTC).replace(tzinfo=None))
        moon = ephem.Moon(observer)
        star.compute(observer)
        apart = np.degrees(float(ephem.separation((moon.ra, moon.dec), (star.ra, star.dec))))
        assert apart == pytest.approx(moon.size / 2.0 / 3600.0, abs=0.01)  # 1.2 min of Moon


def test_algol_reproduces_two_observed_minima():
    """Filmed 2016-12-01 at 23 h UT; seen by observers 2022-09-18 about 01:31 UT; half an hour."""
    for year, month, day in ((2016, 12, 1 + 23.0 / 24.0), (2022, 9, 18 + 1.52 / 24.0)):
        jd = dt.date(year, month, int(day)).toordinal() + 1721424.5 + day % 1.0
        minima = algol_minima(jd - 1.4, jd + 1.4)
        assert np.abs(minima - jd).min() * 24.0 < 0.5


def test_algol_follows_the_epoch_given():
    one = algol_minima(2461000.0, 2461010.0)
    other = algol_minima(2461000.0, 2461010.0, 2457403.333 + 0.1)
    assert np.diff(one) == pytest.approx(ALGOL_PERIOD_DAYS, abs=0.001)
    assert (other[0] - one[0]) % ALGOL_PERIOD_DAYS == pytest.approx(0.1, abs=0.002)


def test_double_shadows_are_seen_from_the_site_with_the_sun_down():
    doubles = of(EventKind.DOUBLE_SHADOW, dt.date(2026, 12, 15), 12)
    assert doubles
    for event in doubles:
        assert event.start <= event.best_time <= event.end
        assert event.altitude_deg > 0.0 and len(event.bodies) == 3


def test_everything_seen_stands_above_the_site_with_the_sun_down():
    observer = ephem.Observer()
    observer.lat, observer.lon = str(SITE.latitude_deg), str(SITE.longitude_deg)
    observer.elevation = SITE.elevation_m
    for event in found(dt.date(2026, 12, 15), 30):
        if event.best_time is None:
            continue
        observer.date = ephem.Date(event.best_time.astimezone(dt.UTC).replace(tzinfo=None))
        sun = ephem.Sun(observer)
        assert np.degrees(float(sun.alt)) < -1.0, event_title(event)
        assert event.altitude_deg >= 4.5


def test_lowest_points_finds_the_bottom_of_a_parabola():
    x = np.arange(10.0)
    inner, refined = lowest_points((x - 4.3) ** 2)
    assert inner.tolist() == [4] and refined == pytest.approx([4.3])


def test_calendar_reads_back_as_rfc5545():
    """The icalendar library reads what was written: as many entries, in UTC, each its own."""
    events = found(dt.date(2026, 12, 15), 30)
    text = events_calendar(SITE, events, utc("2026-12-15T12:00"))
    entries = list(Calendar.from_ical(text).walk("VEVENT"))
    assert len(entries) == len(events)
    assert len({str(entry["uid"]) for entry in entries}) == len(entries)
    assert all(entry.start <= entry.end for entry in entries)
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))


def test_text_and_document_tell_every_event():
    first = dt.date(2028, 12, 20)
    events = found(first, 20)
    text = events_text(SITE, first, 20, events)
    assert max(map(len, text.splitlines())) <= 100
    assert "total eclipse of the Moon" in text and "front filter" in text.replace("\n", " ")
    rows = events_document(SITE, first, 20, events)["events"]
    assert len(rows) == len(events)
    times = [row["best_time"] or row["time"] for row in rows]
    assert times == sorted(times)
    assert all(dt.datetime.fromisoformat(row["time"]).utcoffset() is not None for row in rows)
    assert ZoneInfo(SITE.timezone)
