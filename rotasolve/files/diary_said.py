"""What a grower says happened, to the line of a diary: the day may be left out, or be said as on that day."""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import parse_date, parse_day_of_year
from rotasolve.errors import InputFault, InternalFault, Unusable
from rotasolve.files.diary_lines import LineFault, read_line, read_told
from rotasolve.files.diary_text import write_line
from rotasolve.files.document import TextPlace, fault_at

if TYPE_CHECKING:
    from rotasolve.domain.diary import Happening
    from rotasolve.files.diary_names import DiaryNames

_DAY = re.compile(
    r"\s*(?:on\s+)?(today|yesterday|\d{4}-\d{2}-\d{2}|\d{1,2}\.?\s+[a-z]+\.?\s+\d{4}"
    r"|\d{1,2}\.?\s+(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?)(?=[\s,]|$),?",
    re.IGNORECASE,
)
SAID = "what was said"


def read_said(text: str, today: date, names: DiaryNames, day: date | None = None) -> Happening:
    """Return what a grower says happened.

    Parameters
    ----------
    text
        Such as ``picked 1.2 kg tomato gate bed`` or ``yesterday sown carrot, left bed: moist soil``.
    today
        The day on which it is said: it happened then if no day is told. A day without a year is the last such day.
    names
        What may be named.
    day
        The day, if it is told beside the text.

    Raises
    ------
    InputFault
        If it cannot be understood.
    """
    line = " ".join(text.split())
    match = _DAY.match(line)
    try:
        if match is not None and day is None:
            told = read_told(line, match.end(), parse_said_day(match[1], today), 0, names)
        else:
            told = read_told(line, 0, day or today, 0, names)
    except Unusable as refusal:
        raise InputFault([fault_at(SAID, (line,), TextPlace(1, 1), refusal.what, refusal.mend)]) from None
    except LineFault as fault:
        raise InputFault([fault_at(SAID, (line,), TextPlace(1, fault.column), fault.what, fault.mend)]) from None
    if read_line(write_line(told), 0, names) != told:
        raise InternalFault(f"the line '{write_line(told)}' would not be read as it was meant")
    return told


def parse_said_day(words: str, today: date) -> date:
    """Return the day that ``today``, ``yesterday``, ``12 May``, ``12 May 2027`` or ``2027-05-12`` means.

    Raises
    ------
    Unusable
        If it is no day.
    """
    word = words.strip().casefold()
    if word in ("today", "yesterday"):
        return today - timedelta(days=word == "yesterday")
    if re.search(r"\d{4}", word):
        return parse_date(word)
    month, day = parse_day_of_year(word)
    this_year = date(today.year, month, day)
    return this_year if this_year <= today else date(today.year - 1, month, day)
