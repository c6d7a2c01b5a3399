"""Days as people say and type them, read in one way everywhere: ``12 May``, ``12/5/2027``, ``2027-05-12``, ``Monday``.

Files hold whole dates that cannot be misread (``seasons.parse_date``); what is typed may hang on the day it is typed.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

from rotasolve.domain.seasons import parse_date, parse_day_of_year
from rotasolve.errors import Unusable

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
WAYS = "12 May, 12 May 2027, 12/5/2027, 2027-05-12, today or next Monday"
"""How a day may be written, for messages."""
_NEAR = {"yesterday": -1, "today": 0, "tomorrow": 1}
FIGURES = re.compile(r"(\d{1,2})([/.])(\d{1,2})(?:\2(\d{4})?)?")
"""A day in figures, the month second."""
_WEEKDAY = "|".join(f"{day[:3]}(?:{day[3:]})?" for day in (*WEEKDAYS, "Tues", "Thur", "Thurs"))
_MONTH = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec"
SAID = re.compile(
    rf"(?:{'|'.join(_NEAR)}|(?:(?:next|last|this)\s+)?(?:{_WEEKDAY})|\d{{4}}-\d{{2}}-\d{{2}}"
    rf"|\d{{1,2}}/\d{{1,2}}(?:/\d{{4}})?|\d{{1,2}}\.\d{{1,2}}\.(?:\d{{4}})?"
    rf"|\d{{1,2}}(?:st|nd|rd|th)?\.?\s+(?:of\s+)?(?:{_MONTH})[a-z]*\.?(?:,?\s+\d{{4}})?"
    rf"|(?:{_MONTH})[a-z]*\.?\s+\d{{1,2}}(?:st|nd|rd|th)?(?:,?\s+\d{{4}})?)",
    re.IGNORECASE,
)
"""Words that say a day."""


def parse_said_day(words: str, today: date, since: date | None = None) -> date:
    """Return the day that some words mean.

    Parameters
    ----------
    words
        A date in words or figures, the day before the month; today, yesterday, tomorrow; a day of the week.
    today
        The day on which it is said.
    since
        A day without a year is the first such day from this one on, a day of the week without ``next`` the nearest
        to ``today``. Default: a year before today, so that such days have been.

    Raises
    ------
    Unusable
        If it is no day.
    """
    word = re.sub(r"(?<=\d)(st|nd|rd|th)\b|\bof\s+", "", " ".join(words.split()), flags=re.IGNORECASE).strip(" ,")
    if word.casefold() in _NEAR:
        return today + timedelta(days=_NEAR[word.casefold()])
    weekday = _weekday(word, today, looks_back=since is None)
    if weekday is not None:
        return weekday
    figures = FIGURES.fullmatch(word)
    if figures is not None:
        return _in_figures(figures, words, today, since)
    try:
        if re.search(r"\d{4}", word):
            return parse_date(word)
        month, day = parse_day_of_year(word)
    except Unusable:
        raise Unusable(f"{words.strip()!r} is not a date", f"write it as {WAYS}") from None
    return _without_year(month, day, today, since)


def is_ambiguous(words: str) -> bool:
    """Return whether figures could mean another day where the month is written first."""
    figures = FIGURES.fullmatch(words.strip())
    return figures is not None and int(figures[1]) <= 12 and figures[1].lstrip("0") != figures[3].lstrip("0")


def _weekday(word: str, today: date, looks_back: bool) -> date | None:
    match = re.fullmatch(rf"(?:(next|last|this)\s+)?({_WEEKDAY})", word, re.IGNORECASE)
    if match is None:
        return None
    number = next(n for n, name in enumerate(WEEKDAYS) if name.lower().startswith(match[2].lower()[:3]))
    which, ahead = (match[1] or "").lower(), (number - today.weekday()) % 7
    if which == "next":
        return today + timedelta(days=ahead or 7)
    if which == "last" or (not which and looks_back):
        return today - timedelta(days=(7 - ahead) if ahead or which else 0)
    return today + timedelta(days=ahead)


def _in_figures(match: re.Match[str], words: str, today: date, since: date | None) -> date:
    day, month = int(match[1]), int(match[3])
    try:
        if match[4]:
            return parse_date(date(int(match[4]), month, day))
        date(2028, month, day)
    except ValueError:
        first = "; the day stands before the month" if day <= 12 < month else ""
        raise Unusable(f"{words.strip()!r} is not a date{first}", f"write it as {WAYS}") from None
    return _without_year(month, day, today, since)


def _without_year(month: int, day: int, today: date, since: date | None) -> date:
    begin = since or _year_before(today) + timedelta(days=1)
    for year in range(begin.year, begin.year + 10):
        try:
            found = date(year, month, day)
        except ValueError:
            continue  # 29 February
        if found >= begin:
            return found
    raise Unusable(f"there is no {day}/{month} soon", f"write it as {WAYS}")


def _year_before(today: date) -> date:
    """Return the same day a year ago, which nobody tells without its year."""
    try:
        return today.replace(year=today.year - 1)
    except ValueError:
        return today.replace(year=today.year - 1, day=28)
