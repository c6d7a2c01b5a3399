"""``rotasolve history``: old records from a table into a scenario."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_scenario, may_write, own_scenario, write_and_say
from rotasolve.cli.options import AsJson, Force, OwnCrops, ScenarioArgument
from rotasolve.cli.terminal import answer, answer_json, is_terminal, talk
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.scenario import PastPlanting
    from rotasolve.files.old_records import Column, Table

HELP = """Take over what grew where before from a table in CSV into the history of a scenario.

Examples:

\b
  rotasolve history garden.yaml old.csv
  rotasolve history garden.yaml old.csv -o new.yaml --column bed=Plot --column year=Season
  rotasolve history garden.yaml old.csv --means "Bed 1=left bed" --means "courgettes=zucchini"

The table needs columns for bed, crop and year (or a date); strips and the day until which the ground is taken may stand
beside them. Columns are found by their headings; on a terminal those that are not found are asked for. Faults are told
row by row, and then nothing is written. Comments, order and all other lines of the scenario stay as they are. A
spreadsheet is saved as CSV first.
"""


@guarded
def history(
    scenario: ScenarioArgument,
    table: Annotated[Path, typer.Argument(metavar="TABLE", help="A CSV file.", show_default=False)],
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="FILE", help="Write a new scenario, not into SCENARIO.")
    ] = None,
    column: Annotated[
        list[str] | None,
        typer.Option(metavar="WHAT=HEADING", help="The column of bed, crop, year, strips or until; several times."),
    ] = None,
    means: Annotated[
        list[str] | None,
        typer.Option(metavar="OLD=NEW", help="What a bed or crop of the table is called here; several times."),
    ] = None,
    own_crops: OwnCrops = None,
    json: AsJson = False,
    force: Force = False,
) -> int:
    """Write a table's rows into the history of a scenario."""
    named, meant = _pairs(column, "--column"), _pairs(means, "--means")
    case, file = read_case(scenario, own_crops), find_scenario(scenario)
    target = output if output is not None else own_scenario(scenario)

    from rotasolve.files.files import read_text
    from rotasolve.files.old_records import history_in, read_table
    from rotasolve.files.scenario_additions import with_records

    read = read_table(table)
    columns = _columns(read, named)
    rows = history_in(read, columns, case.scenario, case.catalogue, meant)
    new = [past for past in rows if past not in case.scenario.history]
    text = with_records(read_text(file), str(file), case.catalogue, new, "history")
    if new or output is not None:
        write_and_say(text, target, may_write(target, force))
    _say(new, len(read.rows), [read.headings[place] for place in columns.values()], json)
    return exit_codes.FINE


def _pairs(given: Sequence[str] | None, option: str) -> dict[str, str]:
    found = {}
    for words in given or ():
        one, equals, other = (part.strip() for part in words.partition("="))
        if not (one and equals and other):
            raise typer.BadParameter(f"{option} is written as one=other, not {words!r}")
        found[one] = other
    return found


def _columns(table: Table, told: dict[str, str]) -> dict[Column, int]:
    """Return the columns of a table; those that are needed and not found are asked for where somebody can answer."""
    from rotasolve.files.old_records import COLUMNS, NEEDED, columns_of
    from rotasolve.files.wording import did_you_mean

    for word in told:
        if word not in COLUMNS:
            hint = did_you_mean(word, COLUMNS) or f"one of: {', '.join(COLUMNS)}"
            raise typer.BadParameter(f"there is no column '{word}' to be told; {hint}", param_hint="--column")
    named: dict[Column, str] = {column: told[column] for column in COLUMNS if column in told}
    found = columns_of(table, named)
    lacking = [column for column in NEEDED if column not in found]
    if lacking and is_terminal(sys.stdin) and is_terminal(sys.stderr):
        talk(f"The columns are: {', '.join(table.headings)}")
        for column in lacking:
            named[column] = str(typer.prompt(f"Which of them holds the {column}?", err=True))
        return columns_of(table, named)
    if lacking:
        headings = ", ".join(table.headings)
        raise FileTrouble(
            f"{table.name}: no column is known to hold the {' and the '.join(lacking)}; the columns are: {headings}; "
            f"say which: --column '{lacking[0]}=...'"
        )
    return found


def _say(new: Sequence[PastPlanting], rows: int, headings: Sequence[str], json: bool) -> None:
    from rotasolve.views.words.wording import clean, say_count

    if json:
        answer_json({"rows": rows, "columns": list(headings), "added": [past.model_dump(mode="json") for past in new]})
        return
    answer(clean(f"Read: {say_count(rows, 'row')}, columns {', '.join(headings)}."))
    there = f"; {say_count(rows - len(new), 'row')} told nothing new" if rows > len(new) else ""
    answer(f"Added to the history: {say_count(len(new), 'planting')}{there}.")
