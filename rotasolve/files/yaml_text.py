"""YAML text to plain data with places, through the parser's events.

No constructor of the YAML library runs: events carry tags, anchors and aliases openly, so that all of them can be
refused, and each key and value keeps its line and column.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NoReturn

import yaml

from rotasolve.errors import InputFault
from rotasolve.files.document import BEGINNING, MOST_FAULTS, Document, KeyPath, Plain, TextPlace, fault_at, quoted
from rotasolve.files.yaml_scalars import NotANumber, read_word
from rotasolve.files.yaml_wording import reword

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.fault import Fault

_LOADER: type[yaml.SafeLoader] | type[yaml.CSafeLoader] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

LARGEST_FILE = 2_000_000
"""Bytes; a garden of 100 beds with 20 years of history stays below a tenth of it."""
DEEPEST = 30
_LINE_END = re.compile(r"\r\n|\n|\r")
# Signs that YAML refuses, and three line ends that editors do not count as such: line numbers would be wrong.
_REFUSED_SIGN = re.compile(r"[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff]")


def read_yaml(text: str, name: str) -> Document:
    """Return the data of a YAML text with the place of every key and value.

    Parameters
    ----------
    text
        The whole file.
    name
        The file's name for messages.

    Raises
    ------
    InputFault
        With every structural fault that can be found before the text stops making sense.
    """
    text = text.removeprefix("\ufeff")
    lines = tuple(_LINE_END.split(text))

    def refuse(place: TextPlace, what: str, mend: str) -> NoReturn:
        raise InputFault([fault_at(name, lines, place, what, mend)])

    if len(text) > LARGEST_FILE:
        refuse(BEGINNING, "the file is larger than 2 MB", "is it the right file?")
    if sign := _REFUSED_SIGN.search(text):
        before = _LINE_END.split(text[: sign.start()])
        place = TextPlace(len(before), len(before[-1]) + 1)
        refuse(place, f"an invisible sign (U+{ord(sign[0]):04X}) stands here", "delete it, or save the file as UTF-8")
    builder = _Builder(name, lines)
    try:
        data = builder.build(text)
    except yaml.MarkedYAMLError as error:
        builder.add(*reword(error, lines))
        data = None
    except yaml.YAMLError:
        builder.add(BEGINNING, "the file cannot be read as text", "save the file as UTF-8")
        data = None
    if builder.faults:
        raise InputFault(sorted(builder.faults, key=lambda fault: (fault.line, fault.column)))
    return Document(name, lines, data, builder.keys, builder.values)


class _Builder:
    """Builds plain data from events and collects faults on the way."""

    def __init__(self, file: str, lines: tuple[str, ...]) -> None:
        self.file = file
        self.lines = lines
        self.faults: list[Fault] = []
        self.keys: dict[KeyPath, TextPlace] = {}
        self.values: dict[KeyPath, TextPlace] = {}
        self._events: Iterator[yaml.Event] = iter(())

    def add(self, place: TextPlace, what: str, mend: str = "") -> None:
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(fault_at(self.file, self.lines, place, what, mend))

    def build(self, text: str) -> Plain:
        self._events = iter(yaml.parse(text, Loader=_LOADER))
        data: Plain = None
        documents = 0
        for event in self._events:
            if not isinstance(event, yaml.DocumentStartEvent):
                continue
            documents += 1
            place = _place(event)
            if documents == 2:
                self.add(place, "a second document begins here", "keep one document in a file: remove the line '---'")
                break
            if event.version or event.tags or self.lines[place.line - 1].startswith("%"):
                self.add(place, "a line cannot begin with %", "remove the line")
            first = next(self._events)
            data = self._value(first, (), 0)
            if data is None and isinstance(first, yaml.ScalarEvent) and not first.value:
                documents = 0
        if not documents and not self.faults:
            self.add(BEGINNING, "the file is empty", "is it the right file, and was it saved?")
        return data

    def _value(self, event: yaml.Event, path: KeyPath, depth: int) -> Plain:
        place = _place(event)
        self.values[path] = place
        self._refuse_extras(event, place)
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event, place)
        if isinstance(event, yaml.AliasEvent):
            return None
        if depth == DEEPEST:
            self.add(place, f"values lie more than {DEEPEST} deep inside one another", "check brackets and indentation")
            self._skip()
            return None
        if isinstance(event, yaml.SequenceStartEvent):
            items: list[Plain] = []
            while not isinstance(event := next(self._events), yaml.SequenceEndEvent):
                items.append(self._value(event, (*path, len(items)), depth + 1))
            return items
        return self._mapping(path, depth)

    def _mapping(self, path: KeyPath, depth: int) -> Plain:
        fields: dict[str, Plain] = {}
        while not isinstance(event := next(self._events), yaml.MappingEndEvent):
            key = self._key(event)
            if key is None:
                self._value(next(self._events), (*path, 0), depth + 1)
                continue
            here = (*path, key)
            if key in fields:
                first = self.keys[here].line
                what = f"{quoted(key)} is written twice, first in line {first}"
                self.add(_place(event), what, "keep one of the two")
                # Read for its own faults only: the places of the first one stay.
                self._value(next(self._events), (*here, 0), depth + 1)
                continue
            self.keys[here] = _place(event)
            fields[key] = self._value(next(self._events), here, depth + 1)
        return fields

    def _key(self, event: yaml.Event) -> str | None:
        place = _place(event)
        self._refuse_extras(event, place)
        if not isinstance(event, yaml.ScalarEvent):
            if not isinstance(event, yaml.AliasEvent):
                self.add(place, "a field's name must be text", "write it as field: value")
                self._skip()
            return None
        if event.implicit[0] and event.value == "<<":
            self.add(place, "'<<' to copy fields is not read here", "write the fields out")
            return None
        key = self._scalar(event, place)
        if isinstance(key, str):
            return key
        if event.value:
            self.add(place, f"a field's name must be text, not {quoted(event.value)}", "put it in quotes")
        else:
            self.add(place, "a field's name is missing before the colon", "write it as field: value")
        return None

    def _scalar(self, event: yaml.ScalarEvent, place: TextPlace) -> bool | int | float | str | None:
        value: str = event.value
        if event.implicit[0]:
            try:
                return read_word(value)
            except NotANumber as trouble:
                self.add(place, str(trouble), "write a number such as 12 or 0.5")
                return None
        if _CONTROL.search(value):
            self.add(place, "this text holds an invisible control character", "remove the backslash that makes it")
        return value

    def _refuse_extras(self, event: yaml.Event, place: TextPlace) -> None:
        if isinstance(event, yaml.AliasEvent):
            self.add(place, "text cannot begin with *", "put the text in quotes, or write the values out")
        elif getattr(event, "anchor", None) is not None:
            self.add(place, "text cannot begin with &", "put the text in quotes, or remove the mark")
        elif getattr(event, "tag", None) is not None:
            self.add(place, "text cannot begin with !", "put the text in quotes, or remove the mark")

    def _skip(self) -> None:
        """Pass over the rest of a list or group whose start has been read."""
        inside = 1
        while inside:
            event = next(self._events)
            if isinstance(event, yaml.CollectionStartEvent):
                inside += 1
            elif isinstance(event, yaml.CollectionEndEvent):
                inside -= 1


def _place(event: yaml.Event) -> TextPlace:
    mark = event.start_mark
    assert mark is not None  # the parser marks every event
    return TextPlace(mark.line + 1, mark.column + 1)
