"""Crops told by how they differ from another one: a scenario's own figures, and crops that are like a known one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from rotasolve.domain.crop import FIELD_UNITS, Crop
from rotasolve.domain.measures import parse_length
from rotasolve.errors import InputFault, Unusable
from rotasolve.files.crop_files import CropFile, ReadCropFile, filled_up
from rotasolve.files.document import quoted
from rotasolve.files.faults import in_file_order
from rotasolve.files.records import read_record
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from rotasolve.domain.fault import Fault
    from rotasolve.domain.figure import Unit
    from rotasolve.files.crop_names import CropNames
    from rotasolve.files.document import Document, KeyPath, Plain

Fields = dict[str, "Plain"]
Known = Callable[[str], Fields]
"""Returns the fields of the crop of that name, as they could be written in a crop file."""

OWN = "own"
"""The source of what growers tell of their own gardens."""
_OWN_SOURCES: Plain = {OWN: {"title": "Your own figure, from the scenario", "how_read": "whole"}}
_DAYS = "days_to_harvest"
_FIELDS = {*Crop.model_fields, _DAYS, "way", "like"} - {"reference", "reference_cover"}


def crops_of_scenario(document: Document, names: CropNames, known: Known) -> ReadCropFile | None:
    """Return the crops that a scenario tells of under ``crops``; None if it tells of none.

    Each is filled up: from the crop it is ``like`` or a ``kind_of``, or from the known crop of its name, whose figures
    it changes.

    Raises
    ------
    InputFault
        With all faults, at their places in the scenario.
    """
    listed = document.at(("crops",))
    if not isinstance(listed, list) or not listed:
        return None
    filler = _Filler(document, names, known)
    crops: list[Plain] = []
    for index, entry in enumerate(listed):
        crops.append(filler.filled(("crops", index), entry) if isinstance(entry, dict) else entry)
    if filler.faults:
        raise InputFault(in_file_order(filler.faults))
    alone = replace(document, data={"crops": crops, "sources": _OWN_SOURCES})
    return ReadCropFile(alone, read_record(alone, CropFile))


class _Filler:
    """Fills up entries of one document, and gathers what is wrong with them."""

    def __init__(self, document: Document, names: CropNames, known: Known) -> None:
        self.document, self.names, self.known = document, names, known
        self.faults: list[Fault] = []

    def filled(self, path: KeyPath, entry: Fields) -> Fields:
        for field in entry.keys() - _FIELDS:
            mend = did_you_mean(field, sorted(_FIELDS - entry.keys())) or "remove the line"
            self.faults.append(
                self.document.key_fault((*path, field), f"{quoted(field)} is not a field known here", mend)
            )
        own = {field: self._own(path, field, value) for field, value in entry.items()}
        field = next((field for field in ("like", "kind_of") if field in entry), "name")
        model = entry.get(field)
        base = self.names.find(model) if isinstance(model, str) else None
        if base is None:
            if isinstance(model, str) and (field != "name" or len(self.names.meant(model)) > 1):
                self._refuse((*path, field), *self.names.trouble(model))
            return own
        if "kind_of" in own:
            own["kind_of"] = self.names.find(str(own["kind_of"])) or own["kind_of"]
        return self._laid_over(path, self.known(base), own, base)

    def _laid_over(self, path: KeyPath, base: Fields, own: Fields, name: str) -> Fields:
        days, way = own.pop(_DAYS, None), own.pop("way", None)
        if own.pop("like", None) is None and "kind_of" not in own:
            own["name"] = name
        whole = filled_up(own, base)
        if days is not None:
            whole["starts"] = self._with_days(path, whole["starts"], days, way)
        elif way is not None:
            self._refuse((*path, "way"), "'way' says of which start the days to harvest are", "add days_to_harvest")
        return whole

    def _with_days(self, path: KeyPath, starts: Plain, days: Plain, way: Plain) -> Plain:
        """Return the starts with own days for the one whose published days are nearest, of the ``way`` if one is."""
        figures = [start for start in starts if isinstance(start, dict)] if isinstance(starts, list) else []
        own = _usual(days)
        # Own days are counted as the published days that need the same warmth: the note keeps what was told.
        days = {"note": f"{own:g} days in this garden", **days} if isinstance(days, dict) else days
        apart = {nth: abs(_usual(start.get(_DAYS)) - own) for nth, start in enumerate(figures)}
        fit = [nth for nth, start in enumerate(figures) if way is None or start.get("way") == way]
        if not fit:
            ways = " or ".join(sorted({quoted(start.get("way")) for start in figures}))
            self._refuse((*path, "way"), f"the crop is never started as {quoted(way)}", f"write {ways}")
            return starts
        chosen = min(fit, key=lambda nth: apart[nth])
        return [{**start, _DAYS: days} if nth == chosen else start for nth, start in enumerate(figures)]

    def _own(self, path: KeyPath, field: str, value: Plain) -> Plain:
        """Return a figure for a bare number or length; anything else as it is, with ``own`` for a missing source."""
        unit = "days" if field == _DAYS else FIELD_UNITS.get(field)
        if unit is None or isinstance(value, bool):
            return value
        if isinstance(value, dict):
            return {"unit": unit, "source": OWN, **value}
        if isinstance(value, int | float | str):
            try:
                return {"value": _number(value, unit), "unit": unit, "source": OWN}
            except Unusable as refusal:
                self._refuse((*path, field), f"{quoted(field)}: {refusal.what}", refusal.mend)
        return value

    def _refuse(self, path: KeyPath, what: str, mend: str) -> None:
        self.faults.append(self.document.value_fault(path, what, mend))


def _number(value: float | str, unit: Unit) -> float:
    if unit == "cm":
        return parse_length(value)
    if isinstance(value, str):
        raise Unusable(f"{value!r} is not a number", f"write the number of {unit} alone, such as 3 or 0.5")
    return value


def _usual(figure: Plain) -> float:
    """Return the value or typical value of a figure that is written out; 0 where there is none."""
    told = figure if isinstance(figure, dict) else {}
    found = told.get("value", told.get("typical"))
    return float(found) if isinstance(found, int | float) else 0.0
