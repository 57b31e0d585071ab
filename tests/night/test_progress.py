"""How far a list is done, and the limit drawn beside the log."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import ephem
import numpy as np
from sample_nights import request

from planner.log.outcome import Outcome
from planner.log.seen import Seen
from planner.night.progress import Hindrance, list_progress, new_moon_dates
from planner.night.split_limit import split_limit
from planner.sheets.progress_text import progress_text
from planner.targets.standing import load_best_lists, members_of

NIGHT = dt.date(2026, 12, 8)


def _seen(outcome: Outcome, failures: int) -> Seen:
    at = dt.datetime(2026, 12, 8, 20, tzinfo=dt.UTC)
    return Seen(NIGHT, outcome, 1, failures, NIGHT, at)


def test_new_moons_agree_with_an_ephemeris() -> None:
    """Within a day of those of PyEphem (VSOP87 and Chapront): dark enough for a list."""
    dates = new_moon_dates(NIGHT, 13)
    assert len(set(dates)) == 13
    for date in dates:
        near = ephem.next_new_moon(ephem.Date(date - dt.timedelta(days=2))).datetime().date()
        assert abs((near - date).days) <= 1


def test_progress_counts_and_gives_month_and_reason() -> None:
    """M 45 is a thing of the winter, M 13 of the summer, M 7 too far south for Germany.

    Source: any observing handbook; M 7 stands at -34.8 degrees, so 7 degrees high at 48 north.
    """
    members = ("Caldwell 14", "M 40", "Mel 22", "NGC 1976", "NGC 6205", "NGC 6475", "NGC 224")
    asked = replace(
        request(),
        date=NIGHT,
        seen={"NGC 1976": _seen(Outcome.PLAIN, 0), "NGC 224": _seen(Outcome.NOT_SEEN, 1)},
    )
    found = list_progress(asked, "mine", members)
    assert found.seen == ("NGC 1976",) and found.missed == ("NGC 224",)
    coming = {one.target.id: one for one in found.coming}
    months = {name: one.best.month for name, one in coming.items() if one.best}
    assert months["NGC 6205"] in (5, 6, 7, 8)
    assert months["NGC 224"] in (9, 10, 11, 12)
    low = coming["NGC 6475"]
    assert low.why is Hindrance.TOO_LOW and 5.0 < low.highest_deg < 9.0
    assert "M 40" in found.absent
    text = progress_text(found)
    assert "mine: 1 of 7 seen, 6 to go, 1 of them tried in vain" in text
    assert "never above 15° here: 7° at most" in text
    assert max(map(len, text.splitlines())) <= 100


def test_published_lists_have_the_members_that_their_numbers_say() -> None:
    """110 and 109 objects; the Herschel 400's 400 entries are 397 objects of our catalog."""
    entries = {entry.key: entry.entries for entry in load_best_lists()}
    assert (entries["messier"], entries["caldwell"], entries["herschel-400"]) == (110, 109, 400)
    assert [len(members_of(key)) for key in ("messier", "caldwell")] == [110, 109]
    assert len(members_of("herschel-400")) == 397


def test_limit_of_doubles_widens_with_the_difference_and_the_seeing() -> None:
    """An equal pair parts near Dawes' 116/D arcsec in fine air; a faint companion needs more room.

    Source: Dawes 1867; at 154 mm that is 0.75 arcsec. Common practice: in 2 arcsec it takes more.
    """
    asked = request()
    fine, usual = (split_limit(asked, 5.0, seeing) for seeing in (0.8, 2.0))
    assert 0.6 < fine.separation_arcsec[0] < 1.1
    for limit in (fine, usual):
        known = limit.separation_arcsec[~np.isnan(limit.separation_arcsec)]
        assert (np.diff(known) >= 0.0).all()
    assert (usual.separation_arcsec > fine.separation_arcsec)[:20].all()
