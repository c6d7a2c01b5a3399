"""Weeks, as ISO 8601 counts them, and their words."""

from __future__ import annotations

from datetime import date, timedelta

from rotasolve.domain.seasons import MONTHS, say_day
from rotasolve.views.words.wording import TIED

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def week_of(day: date) -> date:
    """Return the Monday of a day's week, as ISO 8601 counts weeks."""
    return day - timedelta(days=day.weekday())


def say_week(monday: date) -> str:
    """Say a week by its number and its Monday."""
    return f"{say_week_number(monday)}, from Mon {say_day(monday)}"


def say_week_number(monday: date) -> str:
    """Say a week of a year that is named already."""
    return f"Week {monday.isocalendar().week}"


def say_weekday(day: date) -> str:
    """Say a day of a week that is named already: ``Mon 3 May``."""
    return f"{WEEKDAYS[day.weekday()]}{TIED}{day.day}{TIED}{MONTHS[day.month - 1][:3]}"
