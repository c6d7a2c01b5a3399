"""A refused record turned into faults with file, line and column, and faults turned into text."""

from __future__ import annotations

import typing
import unicodedata
from typing import TYPE_CHECKING

from pydantic import BaseModel

from rotasolve.errors import Missing
from rotasolve.files.document import MOST_FAULTS, quoted
from rotasolve.files.field_places import OTHER_WORDS, as_entry, goes_elsewhere, other_word
from rotasolve.files.wording import did_you_mean, nearest, say_error, say_path

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pydantic import ValidationError

    from rotasolve.domain.fault import Fault
    from rotasolve.files.document import Document, KeyPath
    from rotasolve.files.wording import Refused


MOST_SHOWN = 100
"""Faults said in words; of more only the number is told."""


def in_file_order(faults: Iterable[Fault]) -> list[Fault]:
    """Return the faults sorted by place; faults of different files keep the order of their files."""
    listed = list(faults)
    files = list(dict.fromkeys(fault.file for fault in listed))
    return sorted(listed, key=lambda fault: (files.index(fault.file), fault.line, fault.column))


def faults_of(refusal: ValidationError, document: Document, model: type[BaseModel]) -> list[Fault]:
    """Return one fault for each thing a record refuses, in file order.

    Parameters
    ----------
    refusal
        What pydantic raised.
    document
        The file the data came from.
    model
        The record that was asked for; its field names give the "did you mean".
    """
    errors = refusal.errors(include_url=False)[:MOST_FAULTS]
    missing = {tuple(error["loc"]) for error in errors if _is_missing(error)}
    faults = []
    for error in errors:
        if error["type"] == "extra_forbidden":
            faults.append(_unknown_field(tuple(error["loc"]), document, model, missing))
    for error in errors:
        path = tuple(error["loc"])
        if _is_missing(error):
            # What an unknown field was mistaken for has been taken out above: it is reported once.
            if path in missing:
                faults.append(_missing_field(path, document))
        elif error["type"] == "too_short" and any(
            tuple(e["loc"])[: len(path)] == path for e in errors if e is not error
        ):
            # Entries that were refused for a reason of their own do not make the list too short as well.
            continue
        elif error["type"] != "extra_forbidden":
            faults.append(_refused_value(error, path, document, model))
    return in_file_order(faults)


def _is_missing(error: Refused) -> bool:
    return error["type"] == "missing" or isinstance(error.get("ctx", {}).get("error"), Missing)


def _unknown_field(path: KeyPath, document: Document, model: type[BaseModel], missing: set[KeyPath]) -> Fault:
    above, name = path[:-1], str(path[-1])
    absent = [str(lost[-1]) for lost in missing if lost[:-1] == above]
    present, known = document.at(above), _fields_at(model, above)
    value = present.get(name) if isinstance(present, dict) else None
    fields = [field for field in known if not isinstance(present, dict) or field not in present]
    entry = as_entry(name, value, known) if "crop" in absent else ""
    meant = "crop" if entry else other_word(name, absent) or nearest(name, absent)
    if meant is not None:
        missing.discard((*above, meant))
    asks = "you mean" if meant in OTHER_WORDS.get(name.casefold(), ()) else "did you mean"
    said = f"{asks} '{meant}'{'?' if asks.startswith('did') else ''}"
    hint = entry or (said if meant else goes_elsewhere(name, fields, known, model))
    hint = hint or did_you_mean(name, fields)
    mend = hint or (f"known here: {', '.join(sorted(fields))}" if 0 < len(fields) <= 12 else "remove the line")
    return document.key_fault(path, f"{quoted(name)} is not a field known here", mend)


def _missing_field(path: KeyPath, document: Document) -> Fault:
    above, name = path[:-1], path[-1]
    if isinstance(name, int):
        return document.key_fault(above, f"{say_path(above)} needs more than {name} entries")
    return document.key_fault(above, f"{say_path(above)} has no {quoted(name)}", f"add a line '{name}: ...'")


def _refused_value(error: Refused, path: KeyPath, document: Document, model: type[BaseModel]) -> Fault:
    if path and path[-1] == "[key]":
        path = path[:-1]
        return document.key_fault(path, *say_error(error, path))
    what, mend = say_error(error, path)
    fields = _fields_at(model, path)
    if error["type"] == "model_type" and error["input"] is not None and fields:
        mend = f"write its fields indented on lines of their own, beginning with '{fields[0]}: ...'"
    return document.value_fault(path, what, mend)


def _fields_at(model: type[BaseModel], path: KeyPath) -> list[str]:
    """Return the field names of the record that lies at ``path`` inside ``model``."""
    here: object = model
    for step in path:
        if isinstance(step, int) or not (isinstance(here, type) and issubclass(here, BaseModel)):
            # Inside a list or a table every entry is a record of the same kind.
            continue
        field = here.model_fields.get(str(step))
        here = _record_in(field.annotation) if field is not None else None
    return list(here.model_fields) if isinstance(here, type) and issubclass(here, BaseModel) else []


def _record_in(annotation: object) -> object:
    """Return the record named inside an annotation such as ``tuple[Bed, ...]`` or ``Figure | None``."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in typing.get_args(annotation):
        found = _record_in(inner)
        if found is not None:
            return found
    return None


def say_faults(faults: Sequence[Fault], outcome: str = "nothing was changed.") -> str:
    """Say all faults, each with its line and a caret, and at the end their number and what came of it.

    Returns
    -------
    str
        ``file:line:column: what - how to mend it``, the line, a caret below; last ``2 faults; nothing was changed.``
    """
    blocks = []
    for fault in faults[:MOST_SHOWN]:
        blocks.append(str(fault))
        if fault.source_line:
            blocks.append(f"  {fault.source_line}")
            # A place behind the line's end has no sign to point at.
            along = fault.column - 1 - fault.skipped
            if 0 <= along <= len(fault.source_line):
                blocks.append(f"  {' ' * _width(fault.source_line[:along])}^")
    count = len(faults)
    if count > MOST_SHOWN:
        blocks.append(f"... and {count - MOST_SHOWN} more")
    blocks.append(f"{count} {'fault' if count == 1 else 'faults'}; {outcome}")
    return "\n".join(blocks)


def _width(text: str) -> int:
    """Return the columns a text takes on a terminal."""
    return sum(0 if unicodedata.combining(sign) else 1 + (unicodedata.east_asian_width(sign) in "WF") for sign in text)
