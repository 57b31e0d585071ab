"""The ephemeris door: what is covered, and what a user is told when it is not."""

from datetime import UTC, date, datetime, timedelta

import pytest
from skyfield.api import Loader

from planner.ephemeris import kernel as door
from planner.ephemeris.civil_night import civil_night
from planner.ephemeris.site import Site
from planner.errors import CatalogError, DateOutsideEphemerisError, UsageError

EASTMOST = Site("Kiritimati", 1.87, -157.4, 2.0, "Pacific/Kiritimati", 1010.0, 27.0)  # UTC+14
WESTMOST = Site("Pago Pago", -14.28, -170.7, 5.0, "Pacific/Pago_Pago", 1010.0, 27.0)  # UTC-11


def test_covered_dates_keep_two_days_inside_the_published_span_of_de421():
    # DE421 covers JED 2414864.5 (1899 Jul 29) to 2471184.5 (2053 Oct 9): Folkner, Williams &
    # Boggs 2009, IPN Progress Report 42-178.
    two_days = timedelta(days=2)
    assert door.covered_dates() == (
        date(1899, 7, 29) + two_days,
        date(2053, 10, 9) - two_days,
    )


@pytest.mark.parametrize("site", [EASTMOST, WESTMOST], ids=lambda s: s.timezone)
@pytest.mark.parametrize("which", [0, 1])
def test_the_first_and_last_covered_night_can_be_computed_at_any_site(site, which):
    night = civil_night(site, door.covered_dates()[which])
    assert night.sunset is not None and night.sunrise is not None


@pytest.mark.parametrize("day", [date(1899, 7, 30), date(2053, 10, 8), date(2100, 1, 1)])
def test_require_covered_rejects_a_date_outside_and_names_it_and_the_range(day):
    with pytest.raises(
        DateOutsideEphemerisError, match=rf"{day.isoformat()}.*1899-07-31 to 2053-10-07"
    ):
        door.require_covered(day)


def test_require_covered_takes_a_datetime_too():
    door.require_covered(datetime(2026, 1, 1, 20, 0, tzinfo=UTC))


def test_open_kernel_rejects_a_missing_file_with_a_remedy(tmp_path):
    with pytest.raises(CatalogError, match="de421.bsp is missing.*pip install"):
        door.open_kernel(tmp_path / "de421.bsp")


def test_open_kernel_rejects_a_file_that_is_no_ephemeris(tmp_path):
    path = tmp_path / "de421.bsp"
    path.write_bytes(b"no ephemeris at all" * 200)
    with pytest.raises(CatalogError, match="damaged.*pip install"):
        door.open_kernel(path)


@pytest.mark.parametrize("kept_bytes", [0, 500, 4096, 2_000_000])
def test_open_kernel_rejects_a_file_cut_short(tmp_path, kept_bytes):
    path = tmp_path / "de421.bsp"
    with door.kernel_path().open("rb") as whole:
        path.write_bytes(whole.read(kept_bytes))
    with pytest.raises(CatalogError, match="(damaged|cut short).*pip install"):
        door.open_kernel(path)


def test_kernel_path_names_the_missing_package(monkeypatch):
    def missing(name):
        raise ModuleNotFoundError(name)

    monkeypatch.setattr(door, "files", missing)
    with pytest.raises(CatalogError, match="skyfield-data is missing"):
        door.kernel_path()


@pytest.mark.parametrize("year", [1950, 1999, 2026, 2050])
def test_timescale_agrees_with_that_of_the_loader(year):
    loader = Loader(".", verbose=False).timescale(builtin=True)
    ours, its = (scale.utc(year, 6, range(1, 29)) for scale in (door.timescale(), loader))
    assert ours.tt.tolist() == its.tt.tolist()
    assert ours.ut1.tolist() == its.ut1.tolist()


@pytest.mark.parametrize("fault", [FileNotFoundError, KeyError])
def test_timescale_takes_the_loader_where_the_table_is_kept_otherwise(monkeypatch, fault):
    def otherwise(name):
        raise fault(name)

    monkeypatch.setattr(door, "load_bundled_npy", otherwise)
    moment = door.timescale.__wrapped__().utc(2026, 12, 8)
    assert moment.ut1 == door.timescale().utc(2026, 12, 8).ut1


def test_times_after_counts_the_seconds_from_the_start():
    # TT - UTC = 32.184 s + 37 leap seconds since 2017 (IERS Bulletin C 52).
    times = door.times_after(datetime(2026, 1, 1, 22, 0, 30, tzinfo=UTC), [0.0, 5400.0])
    midnight_jd = 2461041.5 + 1.0  # 2026 January 2, 0h
    expected = [midnight_jd - 7170.0 / 86400.0, midnight_jd - 1770.0 / 86400.0]
    tolerance_days = 1e-3 / 86400.0
    assert list(times.tt - 69.184 / 86400.0) == pytest.approx(expected, abs=tolerance_days, rel=0)


def test_times_after_takes_civil_time_before_1972_as_mean_solar_time():
    times = door.times_after(datetime(1930, 6, 1, 0, 0, tzinfo=UTC), [0.0])
    tolerance_days = 1e-3 / 86400.0
    assert times.ut1[0] == pytest.approx(2426128.5, abs=tolerance_days, rel=0)


def test_times_after_rejects_a_time_without_zone():
    with pytest.raises(UsageError, match="has no zone"):
        door.times_after(datetime(2026, 1, 1), [0.0])
