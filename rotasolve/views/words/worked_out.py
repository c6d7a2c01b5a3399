"""What was worked out anew of a planting that was edited by hand, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.views.words.wording import say_count

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.edits import WorkedOut

_DAYS = {"raise_from": "sown indoors", "first_harvest": "first picked", "last_harvest": "last picked"}


def say_worked_out(note: WorkedOut) -> str:
    """Say what of a planting was worked out anew, or had been left out in the file."""
    told = [_say_field(field, note) for field in note.fields]
    if note.after.first_harvest is None and note.before.first_harvest is not None:
        told.append("it is cleared before it is ripe and yields nothing")
    where = f"{note.after.crop} in {note.after.bed}, {say_strips(note.after.strips)}, {say_day(note.after.start)}"
    return f"{where}: {'; '.join(told)}"


def _say_field(field: str, note: WorkedOut) -> str:
    old, new = getattr(note.before, field), getattr(note.after, field)
    if field in _DAYS:
        return f"{_DAYS[field]} {_say(new)}" + (f", not {_say(old)}" if old is not None else "")
    if field == "harvest":
        return f"{new.typical_kg:g} kg, not {old.typical_kg:g}"
    if field == "rows":
        return f"{new} rows, not {old}"
    if field == "plants":
        return say_count(new, "plant")
    return f"cleared {_say(new)}" if field == "clear" else str(new)


def _say(day: date | None) -> str:
    return "never" if day is None else say_day(day)
