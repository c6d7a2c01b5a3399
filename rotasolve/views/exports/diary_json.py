"""A diary for other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rotasolve.domain.diary import Diary, Happening


def diary_answer(diary: Diary) -> dict[str, Any]:
    """Return what happened, by day; what is not told is left out."""
    return {"happenings": [happening_answer(one) for one in diary.happenings]}


def happening_answer(told: Happening) -> dict[str, Any]:
    """Return one happening with its amounts in kg, plants and degrees C."""
    fields: dict[str, Any] = {
        "day": told.day.isoformat(),
        "kind": told.kind,
        "crop": told.crop,
        "bed": told.bed,
        "strips": list(told.strips),
        "plants": told.plants,
        "kg": told.kg,
        "degrees_c": told.degrees_c,
        "trouble": told.trouble,
        "until": None if told.until is None else told.until.isoformat(),
        "note": told.note,
        "line": told.line or None,
    }
    return {name: value for name, value in fields.items() if value is not None and value not in ("", [])}
