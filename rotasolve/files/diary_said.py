"""What a grower says happened, to the line of a diary: the day may be left out, or be said as on that day."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from rotasolve.domain.said_days import SAID as SAID_DAY
from rotasolve.domain.said_days import parse_said_day
from rotasolve.errors import InputFault, InternalFault, Unusable
from rotasolve.files.diary_lines import LineFault, read_line, read_told
from rotasolve.files.diary_text import write_line
from rotasolve.files.document import TextPlace, fault_at

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.diary import Happening
    from rotasolve.files.diary_names import DiaryNames

_DAY = re.compile(rf"\s*(?:on\s+)?({SAID_DAY.pattern})(?=[\s,]|$),?", re.IGNORECASE)
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
