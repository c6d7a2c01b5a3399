"""What a diary tells of the ground, written into the scenario: diseases seen, manure spread, beds closed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.cli.inputs import find_scenario, may_write, own_scenario, write_and_say
from rotasolve.cli.terminal import answer, answer_json
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from pathlib import Path

    from rotasolve.cli.case import Case
    from rotasolve.domain.diary import Diary

FIELDS = ("seen", "manure", "closed")


def write_into_scenario(case: Case, word: str, diary: Diary, output: Path | None, force: bool, json: bool) -> None:
    """Add what a diary tells of the ground to the lists of a scenario file, or of a new one.

    Raises
    ------
    FileTrouble
        If a bed is closed from the same day to another one already, or the lists cannot be added to.
    """
    from rotasolve.domain.seasons import say_day
    from rotasolve.files.files import read_text
    from rotasolve.files.scenario_additions import with_records
    from rotasolve.relations.ground.diary_records import with_diary
    from rotasolve.views.words.wording import say_count

    scenario, file = case.scenario, find_scenario(word)
    told, text = with_diary(scenario, case.catalogue, diary), read_text(file)
    closed = {(one.bed, one.since) for one in scenario.closed}
    added: dict[str, list[dict[str, object]]] = {}
    for field in FIELDS:
        new = [record for record in getattr(told, field) if record not in getattr(scenario, field)]
        for one in new if field == "closed" else ():
            if (one.bed, one.since) in closed:
                raise FileTrouble(
                    f"{file}: {one.bed} is closed there from {say_day(one.since)} to another day; correct it by hand"
                )
        text = with_records(text, str(file), case.catalogue, new, field) if new else text
        added[field] = [record.model_dump(mode="json") for record in new]
    count = sum(len(records) for records in added.values())
    if count or output is not None:
        target = output if output is not None else own_scenario(word)
        write_and_say(text, target, may_write(target, force))
    if json:
        answer_json({"added": added})
    else:
        parts = [f"{say_count(len(records), 'line')} under '{field}'" for field, records in added.items() if records]
        answer(f"Added to the scenario: {', '.join(parts) or 'nothing, it tells all of it already'}.")
