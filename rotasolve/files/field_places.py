"""What a field unknown at its place was meant for: another word for one there, or a field of another place."""

from __future__ import annotations

import difflib
import typing
from typing import TYPE_CHECKING

from pydantic import BaseModel

from rotasolve.domain.household import LIKING_FACTOR
from rotasolve.files.document import quoted, say_plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.household import LIKING_FACTOR
from rotasolve.files.document import Plain

OTHER_WORDS: dict[str, tuple[str, ...]] = {
    "date": ("start", "since", "spread", "half"),
    "day": ("start", "since", "spread", "half"),
    "sown": ("start",),
    "planted": ("start",),
    "from": ("fresh_from", "since", "start"),
    "to": ("fresh_to", "until"),
    "end": ("until",),
    "begin": ("first_year", "since", "start"),
    "start_year": ("first_year",),
    "plant": ("crop",),
    "vegetable": ("crop",),
    "variety": ("crop",),
    "crops": ("targets", "crop"),
    "wishes": ("targets",),
    "name": ("title", "crop"),
    "amount": ("kg", "how_much"),
    "weight_kg": ("kg",),
    "quantity": ("kg", "plants"),
    "number": ("plants",),
    "priority": ("weight",),
    "importance": ("weight",),
    "direction": ("runs",),
    "orientation": ("runs",),
    "long": ("length",),
    "wide": ("width",),
    "breadth": ("width",),
    "disease": ("diseases",),
    "sun": ("sun_hours",),
    "persons": ("people",),
    "frost": ("last_frost", "first_frost"),
    "average": ("half",),
    "lat": ("latitude",),
    "past": ("history",),
    "fixed": ("pinned",),
}
"""Words that growers try, with the fields they mean, the likeliest first. A field comes before its other words."""
_AS_GOOD_AS = 0.8
"""A name so like one that is known here (difflib's ratio) was meant for it, whatever other places know."""
_SHOWN = 3


def other_word(name: str, fields: Iterable[str]) -> str | None:
    """Return the field of a place that another word means."""
    known = set(fields)
    return next((field for field in OTHER_WORDS.get(name.casefold(), ()) if field in known), None)


def goes_elsewhere(name: str, free: Iterable[str], known: Iterable[str], model: type[BaseModel]) -> str:
    """Return which field was meant by one that is unknown at its place, here or elsewhere in the file.

    An empty text if that is not known, or if a field known at the place is spelled nearly so.

    Parameters
    ----------
    name
        The field as it was written.
    free, known
        Those known at its place, without and with those that are written there already.
    model
        The record that the whole file holds.
    """
    here = other_word(name, free)
    if here is not None:
        return f"you mean '{here}'"
    if difflib.get_close_matches(name, [*known], n=1, cutoff=_AS_GOOD_AS):
        return ""
    for meant in (name, *OTHER_WORDS.get(name.casefold(), ())):
        places = dict.fromkeys(place for place, names in _places(model, "", frozenset()) if meant in names)
        if places:
            where = " or ".join([*places][:_SHOWN])
            return f"move the line: it goes {where}" if meant == name else f"you mean '{meant}', which goes {where}"
    return ""


def as_entry(name: str, value: Plain, known: Iterable[str]) -> str:
    """Return how an entry such as ``potato: much`` is written with the fields that are known; empty if it is none."""
    if isinstance(value, str) and value in LIKING_FACTOR:
        return f"write it as crop: {name}, how_much: {value}"
    if isinstance(value, int | float) and not isinstance(value, bool):
        field = next((field for field in ("kg", "kg_per_person", "plants") if field in set(known)), "kg")
        return f"write it as crop: {name}, {field}: {say_plain(value)}"
    return ""


def _places(model: type[BaseModel], where: str, above: frozenset[type]) -> Iterator[tuple[str, frozenset[str]]]:
    """Yield every place of a file with the fields known there, the nearest to its top first."""
    deeper = []
    for name, field in model.model_fields.items():
        inner, listed = _record_in(field.annotation)
        if inner is not None and inner not in above:
            path = f"{quoted(name)} of {where}" if where else quoted(name)
            deeper.append((inner, f"an entry of {path}" if listed else path))
    if not where:
        yield "at the top of the file, without spaces before it", frozenset(model.model_fields)
    else:
        yield f"{'into' if where.startswith('an entry') else 'under'} {where}", frozenset(model.model_fields)
    for inner, path in deeper:
        yield from _places(inner, path, above | {model})


def _record_in(annotation: object, listed: bool = False) -> tuple[type[BaseModel] | None, bool]:
    """Return the record named inside an annotation, and whether a list holds it."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation, listed
    listed = listed or typing.get_origin(annotation) is tuple
    for inner in typing.get_args(annotation):
        found = _record_in(inner, listed)
        if found[0] is not None:
            return found
    return None, False
