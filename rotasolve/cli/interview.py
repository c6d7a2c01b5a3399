"""The questions of ``begin`` in their order, and what was told as the answers of a first scenario."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from rotasolve.cli.bed_questions import bed_steps, beds_told
from rotasolve.cli.site_questions import CLIMATE, site_steps
from rotasolve.cli.wish_questions import wish_steps, wishes_told
from rotasolve.errors import InputFault, RotasolveError
from rotasolve.files.first_scenario import Answers, ClimateAnswer, scenario_text
from rotasolve.files.scenario_changes import changed_by_lines
from rotasolve.files.scenarios import read_scenario_text

if TYPE_CHECKING:
    from rotasolve.cli.conversation import Step
    from rotasolve.domain.catalogue import Catalogue

_NAME = "the garden"


class Interview:
    """Knows what to ask next, and makes a scenario's text of what was told."""

    def __init__(self, catalogue: Catalogue, today: date, years_given: bool = False) -> None:
        self._catalogue, self._today, self._years_given = catalogue, today, years_given

    def steps(self, told: Mapping[str, Any]) -> Iterator[Step]:
        """Yield all questions in order, as ``conversation.Steps``."""
        yield from site_steps(told, self._today, self._years_given)
        yield from bed_steps(told, self._catalogue)
        yield from wish_steps(told, self._catalogue, self._say_need, self._read_more)

    def text(self, told: Mapping[str, Any], example: Sequence[str] = ()) -> str:
        """Return the scenario's text.

        Raises
        ------
        RotasolveError
            If what was told besides cannot be added to it.
        """
        text = scenario_text(answers_of(told, example))
        lines = [value for key, value in told.items() if key.startswith("more ") and value]
        return changed_by_lines(text, _NAME, lines, self._catalogue, self._today)

    def _read_more(self, told: Mapping[str, Any], line: str) -> str:
        if line.strip():
            try:
                self.text({**told, "more 0": line})
            except InputFault as refusal:
                raise ValueError("\n".join(f"{one.what}; {one.mend}" for one in refusal.faults)) from None
            except RotasolveError as refusal:
                raise ValueError(str(refusal)) from None
        return line.strip()

    def _say_need(self, told: Mapping[str, Any]) -> str:
        """Say how many kg the wishes come to and how much ground they need; what is wrong with them is told later."""
        from rotasolve.cli.terminal import look_of_terminal
        from rotasolve.relations.ground.garden import make_garden
        from rotasolve.relations.household.ground_need import ground_need
        from rotasolve.views.pages.wishes_page import wish_lines

        try:
            scenario = read_scenario_text(self.text(told), _NAME, self._catalogue)
            garden = make_garden(scenario, self._catalogue, exact=False)
        except RotasolveError:
            return ""
        look = look_of_terminal(sys.stderr)
        # What was understood is said two columns in.
        return "\n".join(
            wish_lines(scenario, ground_need(garden), replace(look, width=look.text_width - 2, bold=False))
        )


def answers_of(told: Mapping[str, Any], example: Sequence[str] = ()) -> Answers:
    """Return the answers of a first scenario, of what was told."""
    first, climate = told["first_year"], None
    if "minima" in told:
        climate = ClimateAnswer(told["minima"], told["maxima"], told["rain"])
    beds, grew = beds_told(told)
    frosts = [told.get(name) for name in ("last_frost", "first_frost")]
    return Answers(
        title=told["title"],
        latitude=told["latitude"],
        last_frost=None if frosts[0] == CLIMATE else frosts[0],
        first_frost=None if frosts[1] == CLIMATE else frosts[1],
        first_year=first.first,
        years=told.get("years") or first.number,
        people=told["people"],
        beds=beds,
        targets=wishes_told(told, "targets"),
        eats=wishes_told(told, "eats"),
        grew=grew,
        climate=climate,
        example=tuple(dict.fromkeys(example)),
    )
