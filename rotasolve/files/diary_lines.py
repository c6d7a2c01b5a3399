"""One line of a diary to what happened: ``2027-05-12 picked 1.2 kg tomato, gate bed: the first ones``.

A line is a day, what happened, how much, of what, in which bed, on which strips; behind a colon stands a note. Commas
may be left out where the names are known, and names may stand in double quotes.
"""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from rotasolve.domain.diary import KINDS, Happening
from rotasolve.domain.seasons import parse_date, year_end
from rotasolve.errors import Unusable
from rotasolve.files.diary_amounts import AMOUNT, Amounts, read_amount
from rotasolve.files.document import quoted
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from rotasolve.domain.diary import Kind, Telling
    from rotasolve.files.crop_names import CropNames
    from rotasolve.files.diary_names import DiaryNames, Known

_HEAD = re.compile(r'(?:[^":]|"(?:[^"]|"")*"|:(?=\S))*')
_TOKEN = re.compile(r'"(?:[^"]|"")*"|,|[^\s,"]+|"')
_ISO = re.compile(r"\s*(\d{4}-\d{2}-\d{2})(?=\s|$)")
_SPOKEN = re.compile(r"\s*(\d{1,2}\.?\s+[^\W\d_]+\.?\s+\d{4})(?=\s|$)")
_RANGE = re.compile(r"(\d{1,3})(?:[-\u2013](\d{1,3}))?$")
JOINING = frozenset({"in", "from", "at", "of", "the", "and"})
"""Words between what happened, the crop and the bed that change nothing."""
_SKIPPED = JOINING | {","}
RESERVED = JOINING | {"on", "until", "strip", "strips", "plant", "plants"}
"""Words that a name with one of them needs quotes for."""


class LineFault(Exception):
    """A line that cannot be read: at which column, from 1, what is wrong and how to mend it."""

    def __init__(self, column: int, what: str, mend: str) -> None:
        self.column, self.what, self.mend = column, what, mend
        super().__init__(what)


class _Token(NamedTuple):
    text: str
    column: int
    is_name: bool


def read_line(text: str, number: int, names: DiaryNames) -> Happening:
    """Return what the line with a number tells.

    Raises
    ------
    LineFault
        If it cannot be read.
    """
    match = _ISO.match(text) or _SPOKEN.match(text)
    if match is None:
        raise LineFault(_first(text), "a line must begin with a day", "write it as 2027-05-12")
    try:
        day = parse_date(match[1])
    except Unusable as refusal:
        raise LineFault(match.start(1) + 1, refusal.what, refusal.mend) from None
    return read_told(text, match.end(), day, number, names)


def read_told(text: str, start: int, day: date, number: int, names: DiaryNames) -> Happening:
    """Return what a line tells from an offset on, where what happened begins.

    Raises
    ------
    LineFault
        If it cannot be read.
    """
    kind, start = _kind(text, start)
    head = _HEAD.match(text, start)
    end = head.end() if head is not None else start
    end, note = (end, text[end + 1 :]) if text[end : end + 1] == ":" else (len(text), "")
    try:
        return _Reader(text, start, end, number, names).happening(day, kind, " ".join(note.split()))
    except LineFault:
        if kind != "noted":
            raise
    # A note need not be about anything known here.
    return Happening(day, kind, note=" ".join(text[start:].split()), line=number)


def _first(text: str) -> int:
    return len(text) - len(text.lstrip()) + 1


_WORDS: dict[str, Kind] = {
    **{word: kind for kind, telling in KINDS.items() for word in (kind, *telling.also)},
    "seen": "disease seen",
}
_KIND = re.compile(
    r"\s*(" + "|".join(sorted((w.replace(" ", r"\s+") for w in _WORDS), key=len, reverse=True)) + r")(?=[\s,:]|$)",
    re.IGNORECASE,
)


def _kind(text: str, start: int) -> tuple[Kind, int]:
    match = _KIND.match(text, start)
    if match is not None:
        return _WORDS[" ".join(match[1].lower().split())], match.end()
    rest = text[start:].split(":")[0].split()
    if not rest:
        raise LineFault(len(text.rstrip()) + 1, "the line does not say what happened", f"write one of: {_ALL}")
    mend = did_you_mean(" ".join(rest[:2]), KINDS) or did_you_mean(rest[0], KINDS) or f"write one of: {_ALL}"
    raise LineFault(start + _first(text[start:]), f"{quoted(rest[0])} is nothing that a diary tells", mend)


_ALL = ", ".join(KINDS)


class _Reader:
    """One pass over the words between what happened and the note."""

    def __init__(self, text: str, start: int, end: int, number: int, names: DiaryNames) -> None:
        self.text, self.at, self.end, self.number, self.names = text, start, end, number, names

    def happening(self, day: date, kind: Kind, note: str) -> Happening:
        telling = KINDS[kind]
        amount = self._amount(kind, telling)
        self.tokens = self._tokens()
        trouble = self._trouble(kind) if telling.trouble else None
        crop = self._crop(telling, trouble)
        bed = self._bed(telling)
        strips, until = self._strips(telling, bed), self._until(telling)
        if self.tokens:
            left = self.tokens[0]
            what = f"{quoted(self._words_left())} is not understood here"
            raise LineFault(left.column, what, "take it out, or put a colon before it to make it a note")
        return Happening(day, kind, crop, bed, strips, *amount, trouble, until, note, self.number)

    def _amount(self, kind: Kind, telling: Telling) -> Amounts:
        match = AMOUNT.match(self.text, self.at, self.end)
        if match is None:
            return Amounts()
        self.at = match.end()
        try:
            return read_amount(match, kind, telling.amounts)
        except Unusable as refusal:
            raise LineFault(match.start(1) + 1, refusal.what, refusal.mend) from None

    def _tokens(self) -> list[_Token]:
        found = []
        for match in _TOKEN.finditer(self.text, self.at, self.end):
            word = match[0]
            if word == '"':
                raise LineFault(match.start() + 1, "a quotation mark is not closed", 'write the name as "name"')
            is_name = word[0] == '"'
            found.append(_Token(word[1:-1].replace('""', '"') if is_name else word, match.start() + 1, is_name))
        return found

    def _words_left(self) -> str:
        return " ".join(token.text for token in self.tokens)

    def _is_word(self, *words: str) -> bool:
        return bool(self.tokens) and not self.tokens[0].is_name and self.tokens[0].text.lower() in words

    def _skip(self) -> None:
        while self.tokens and not self.tokens[0].is_name and self.tokens[0].text.lower() in _SKIPPED:
            del self.tokens[0]

    def _name(self, known: Known | CropNames) -> str | None:
        """Take the longest name that the next words make; None if they make none."""
        if self.tokens and self.tokens[0].is_name:
            found = known.find(self.tokens[0].text)
            del self.tokens[: found is not None]
            return found
        words = 0
        while words < min(known.most_words, len(self.tokens)) and not self._ends_name(words):
            words += 1
        while words:
            found = known.find(" ".join(token.text for token in self.tokens[:words]))
            if found is not None:
                del self.tokens[:words]
                return found
            words -= 1
        return None

    def _ends_name(self, at: int) -> bool:
        return self.tokens[at].is_name or self.tokens[at].text == ","

    def _span(self) -> str:
        """Return the words that were meant as a name: to the next comma, or to where a bed's name begins."""
        if self.tokens[0].is_name:
            return self.tokens[0].text
        words: list[str] = []
        for place, token in enumerate(self.tokens):
            rest = " ".join(other.text for other in self.tokens[place:])
            if self._ends_name(place) or (words and (token.text.lower() in RESERVED or self.names.beds.find(rest))):
                break
            words.append(token.text)
        return " ".join(words) or self.tokens[0].text

    def _unknown(self, what: str, known: Known, otherwise: str) -> LineFault:
        span = self._span()
        return LineFault(self.tokens[0].column, what.format(quoted(span)), known.hint(span) or otherwise)

    def _missing(self, what: str, mend: str) -> LineFault:
        return LineFault(len(self.text[: self.end].rstrip()) + 1, what, mend)

    def _trouble(self, kind: Kind) -> str:
        self._skip()
        if not self.tokens:
            raise self._missing(f"the line does not say which {kind.split()[0]}", "write its name")
        found = self._name(self.names.diseases)
        if found is not None:
            return found
        if kind == "disease seen":
            mend = "write 'pest seen' to keep it as a remark: no years of rest are published for it"
            raise self._unknown("{} is not a disease for which rest is published here", self.names.diseases, mend)
        span = self._span()
        del self.tokens[: 1 if self.tokens[0].is_name else len(span.split())]
        return span

    def _crop(self, telling: Telling, trouble: str | None) -> str | None:
        if telling.crop == "never" or (trouble is not None and not self._is_word("on")):
            return None
        if telling.crop == "may" and trouble is None and self._is_word("in"):
            return None  # a bed that is called like a crop
        del self.tokens[: trouble is not None]
        self._skip()
        found = self._name(self.names.crops) if self.tokens else None
        if found is not None:
            return found
        if telling.crop == "may" and trouble is None:
            return None
        if not self.tokens:
            raise self._missing("the line does not say which crop", "write its name")
        raise LineFault(self.tokens[0].column, *self.names.crops.trouble(self._span()))

    def _bed(self, telling: Telling) -> str | None:
        self._skip()
        found = self._name(self.names.beds) if self.tokens else None
        if found is not None:
            return found
        if self.tokens and not self._is_word("strip", "strips", "until"):
            raise self._unknown("there is no bed {}", self.names.beds, self.names.known_beds())
        if telling.bed == "needed" and self.names.only_bed is None:
            raise self._missing("the line does not say in which bed", self.names.known_beds())
        return self.names.only_bed if telling.bed == "needed" else None

    def _strips(self, telling: Telling, bed: str | None) -> tuple[int, ...]:
        self._skip()
        if not (telling.strips and self._is_word("strip", "strips")):
            return ()
        word, strips = self.tokens.pop(0), set[int]()
        if bed is None:
            raise LineFault(word.column, "strips are told without their bed", "write the bed before them")
        self._skip()
        while self.tokens and (match := _RANGE.match(self.tokens[0].text)):
            first, last = int(match[1]), int(match[2] or match[1])
            if not 1 <= first <= last <= self.names.strips[bed]:
                what = f"{quoted(bed)} has the strips 1 to {self.names.strips[bed]}, not {match[0]}"
                raise LineFault(
                    self.tokens[0].column, what, "strip 1 lies on the north side (south of the equator: the south side)"
                )
            strips.update(range(first, last + 1))
            del self.tokens[0]
            self._skip()
        if not strips:
            raise LineFault(
                word.column, f"{quoted(word.text)} is not followed by a number", "write it as strips 1-3, 5"
            )
        return tuple(sorted(strips))

    def _until(self, telling: Telling) -> date | None:
        if not (telling.until and self._is_word("until")):
            return None
        word, said = self.tokens.pop(0), self._words_left()
        self.tokens = []
        if re.fullmatch(r"(19[5-9]|20|21)\d+", said) and len(said) == 4:
            return year_end(int(said), self.names.south)
        try:
            return parse_date(said)
        except Unusable as refusal:
            raise LineFault(word.column, refusal.what, "write a day as 2027-05-12, or a year") from None
