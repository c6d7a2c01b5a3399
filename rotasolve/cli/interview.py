"""The conversation of ``begin``: options first, then questions where somebody can answer, else a list of what lacks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

import typer

from rotasolve.cli import answers as reading
from rotasolve.cli.answers import Prompt
from rotasolve.cli.terminal import talk
from rotasolve.files.first_scenario import Answers, BedAnswer, CropAnswer

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue

_TITLE = Prompt("--title", "What is your garden called?", reading.read_title)
_LATITUDE = Prompt("--latitude", "At which latitude does it lie, in degrees (south: minus)?", reading.read_latitude)
_LAST_FROST = Prompt(
    "--last-frost", "When is the last frost in spring, on average (such as 5 May)?", reading.read_day_of_year
)
_FIRST_FROST = Prompt("--first-frost", "When is the first frost in autumn, on average?", reading.read_day_of_year)
_FIRST_YEAR = Prompt(
    "--first-year", "Which year shall the plan begin with?", reading.read_whole(1960, 2180, "the year")
)
_YEARS = Prompt("--years", "How many years shall it cover?", reading.read_whole(1, 10, "the number of years"))
_PEOPLE = Prompt("--people", "How many people eat from it?", reading.read_whole(1, 200, "the number of people"))
_BEDS = Prompt("--bed", "How many beds are there?", reading.read_whole(1, 100, "the number of beds"))
_SIZE = Prompt("--bed", "How long and wide is each (the file lets you change single beds)?", reading.read_size)
_RUNS = Prompt("--bed", "Does the long side run north-south or east-west?", str)
_COVER = Prompt("--bed", "Cover: open ground, cold frame, fleece, low tunnel or tunnel?", str)
_CROPS = Prompt("--crop", "Which crops, with the kg wished a year?", str)


class Interview:
    """Collects answers; ``troubles`` lists what is missing or wrong when nothing may be asked."""

    def __init__(self, catalogue: Catalogue, asks: bool) -> None:
        self._catalogue, self._asks = catalogue, asks
        self.troubles: list[str] = []

    def answers(self, given: Mapping[str, str | None], beds: Sequence[str], crops: Sequence[str]) -> Answers | None:
        """Return all answers, or None with ``troubles`` filled."""
        title = self._one(_TITLE, given["title"], "My garden")
        latitude = self._one(_LATITUDE, given["latitude"])
        last_frost = self._one(_LAST_FROST, given["last_frost"])
        first_frost = self._one(_FIRST_FROST, given["first_frost"])
        proposed = str(reading.proposed_year(date.today(), latitude or 0.0))
        first_year = self._one(_FIRST_YEAR, given["first_year"], proposed)
        years = self._one(_YEARS, given["years"], "3")
        people = self._one(_PEOPLE, given["people"], "2" if self._asks else "")
        found_beds = self._beds(beds)
        found_crops = self._crops(crops, people)
        if self.troubles:
            return None
        return Answers(
            title, latitude, last_frost, first_frost, first_year, years, people, tuple(found_beds), tuple(found_crops)
        )

    def _one(self, question: Prompt, given: str | None, proposal: str | None = None) -> Any:
        """Return one answer: from its option, from a person, or as proposed; None with a trouble noted."""
        if given is not None:
            try:
                return question.read(given)
            except ValueError as trouble:
                self.troubles.append(f"{question.option}: {trouble}")
                return None
        if self._asks:
            return self._ask(question, proposal)
        if proposal is None:
            self.troubles.append(f"{question.option} is missing: {question.words}")
            return None
        return question.read(proposal) if proposal else None

    def _ask(self, question: Prompt, proposal: str | None) -> Any:
        while True:
            said = typer.prompt(question.words, default=proposal, err=True)
            try:
                return question.read(str(said))
            except ValueError as trouble:
                talk(f"  {trouble}")

    def _beds(self, given: Sequence[str]) -> list[BedAnswer]:
        if given or not self._asks:
            if not given:
                self.troubles.append('--bed is missing: write --bed "bed 1,4 m,1.2 m" once for each bed')
            return self._read_each("--bed", reading.read_bed, given)
        count = self._ask(_BEDS, "3")
        length, width = self._ask(_SIZE, "4 m x 1.2 m")
        while True:
            runs, cover = self._ask(_RUNS, "north-south"), self._ask(_COVER, "open ground")
            try:
                return [reading.read_bed(f"bed {n},{length},{width},{runs},{cover}") for n in range(1, count + 1)]
            except ValueError as trouble:
                talk(f"  {trouble}")

    def _crops(self, given: Sequence[str], people: int | None) -> list[CropAnswer]:
        read = reading.crop_reader(self._catalogue)
        if given or not self._asks:
            if not given:
                self.troubles.append("--crop is missing: write --crop carrot,5 once for each crop ('rotasolve crops')")
            return self._unlike(self._read_each("--crop", read, given))
        while True:
            said = self._ask(_CROPS, reading.proposed_crops(people, self._catalogue))
            try:
                return [read(each) for each in str(said).split(",") if each.strip()]
            except ValueError as trouble:
                talk(f"  {trouble}")

    def _read_each(self, option: str, read: Any, given: Sequence[str]) -> list[Any]:
        found = []
        for text in given:
            try:
                found.append(read(text))
            except ValueError as trouble:
                self.troubles.append(f"{option}: {trouble}")
        return found

    def _unlike(self, crops: list[CropAnswer]) -> list[CropAnswer]:
        names = [crop.name for crop in crops]
        self.troubles += [f"--crop: {name} is given twice" for name in dict.fromkeys(names) if names.count(name) > 1]
        return crops
