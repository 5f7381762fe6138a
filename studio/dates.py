"""Dates and spans as a page or a refusal says them."""

from datetime import date, datetime, time, timedelta


def day_words(day: date) -> str:
    """Write a day, such as 3 December 2026.

    Examples
    --------
    >>> day_words(date(2026, 12, 3))
    '3 December 2026'
    """
    return f"{day.day} {day:%B %Y}"


def span_words(starts_on: date, ends_before: date) -> str:
    """Write a span of days by its first and last one.

    Examples
    --------
    >>> span_words(date(2026, 12, 3), date(2026, 12, 22))
    '3 to 21 December 2026'
    >>> span_words(date(2026, 12, 3), date(2026, 12, 4))
    '3 December 2026'
    >>> span_words(date(2026, 11, 28), date(2027, 1, 4))
    '28 November 2026 to 3 January 2027'
    """
    last = ends_before - timedelta(days=1)
    if last == starts_on:
        return day_words(last)
    if (last.year, last.month) == (starts_on.year, starts_on.month):
        return f"{starts_on.day} to {day_words(last)}"
    if last.year == starts_on.year:
        return f"{starts_on.day} {starts_on:%B} to {day_words(last)}"
    return f"{day_words(starts_on)} to {day_words(last)}"


def hours_words(starts_at: datetime, ends_at: datetime) -> str:
    """Write a span of hours in the zone its moments carry; whole days by their first and last one.

    Examples
    --------
    >>> hours_words(datetime(2026, 12, 3, 10), datetime(2026, 12, 3, 12, 30))
    '3 December 2026, 10:00 to 12:30'
    >>> hours_words(datetime(2026, 12, 3, 22), datetime(2026, 12, 4, 1))
    '3 December 2026, 22:00, to 4 December 2026, 01:00'
    >>> hours_words(datetime(2026, 12, 3), datetime(2026, 12, 5))
    '3 to 4 December 2026'
    """
    if starts_at.time() == ends_at.time() == time.min:
        return span_words(starts_at.date(), ends_at.date())
    if starts_at.date() == ends_at.date():
        return f"{day_words(starts_at.date())}, {starts_at:%H:%M} to {ends_at:%H:%M}"
    return f"{day_words(starts_at.date())}, {starts_at:%H:%M}, to {day_words(ends_at.date())}, {ends_at:%H:%M}"


def days_words(days: int) -> str:
    """Write a number of days, whole weeks as weeks.

    Examples
    --------
    >>> days_words(1), days_words(10), days_words(28)
    ('1 day', '10 days', '4 weeks')
    """
    weeks, rest = divmod(days, 7)
    if weeks and not rest:
        return f"{weeks} week{'s' if weeks > 1 else ''}"
    return f"{days} day{'s' if days != 1 else ''}"
