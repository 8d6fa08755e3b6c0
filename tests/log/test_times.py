from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.log.times import NotATime, format_utc, parse, to_utc


@pytest.mark.parametrize(
    ("text", "utc"),
    [
        # The five examples of RFC 3339 section 5.8.
        ("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.52Z"),
        ("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57Z"),
        ("1990-12-31T23:59:60Z", "1990-12-31T23:59:60Z"),
        ("1990-12-31T15:59:60-08:00", "1990-12-31T23:59:60Z"),
        ("1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.87Z"),
        ("2026-11-25t10:15:00z", "2026-11-25T10:15:00Z"),
        ("2026-11-25T10:15:00-00:00", "2026-11-25T10:15:00Z"),
        ("0099-01-01T00:00:00Z", "0099-01-01T00:00:00Z"),
    ],
)
def test_to_utc(text: str, utc: str) -> None:
    assert to_utc(text) == utc


@pytest.mark.parametrize(
    "text",
    [
        "", "now", "2026-11-25", "2026-11-25T10:15:00", "2026-11-25T10:15Z", "26-11-25T10:15:00Z",
        "2026-11-25T24:00:00Z", "2026-02-29T10:00:00Z", "2026-11-25T10:15:00.Z", "2026-11-25T10:15:00+0100",
        "2026-11-25T10:15:00+24:00", "2026-11-25T10:15:00+01:60", "2026-11-25T10:15:61Z", " 2026-11-25T10:15:00Z",
        "2026-11-25T10:15:00Z\n", "٢٠٢٦-11-25T10:15:00Z", "0001-01-01T00:00:00+01:00", "0000-01-01T00:00:00Z",
        "2026-11-25T10:15:60Z", "1990-12-30T23:59:60Z", "1990-12-31T23:59:60-08:00",
    ],
)  # fmt: skip
def test_what_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(NotATime, match="no time"):
        parse(text)
    with pytest.raises(NotATime, match="no time"):
        to_utc(text)


def test_a_leap_second_is_the_second_after_it() -> None:
    assert parse("1990-12-31T23:59:60Z") == datetime(1991, 1, 1, tzinfo=UTC)


def test_finer_digits_are_cut_and_never_run_ahead() -> None:
    moment = datetime(2026, 11, 25, 10, 15, 0, 999_999, tzinfo=UTC)
    assert format_utc(moment) == "2026-11-25T10:15:00.999Z"
    assert parse("2026-11-25T10:15:00.9999999Z") == moment


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="no time zone"):
        format_utc(datetime(2026, 11, 25))


@given(
    st.datetimes(datetime(2, 1, 1), datetime(9998, 1, 1)),
    st.integers(-23 * 60 - 59, 23 * 60 + 59),
)
def test_any_moment_reads_back_to_the_millisecond(naive: datetime, minutes: int) -> None:
    moment = naive.replace(tzinfo=timezone(timedelta(minutes=minutes)))
    back = parse(format_utc(moment))
    assert timedelta() <= moment - back < timedelta(milliseconds=1)
    assert format_utc(back) == format_utc(moment) == to_utc(format_utc(moment))
