"""``rotasolve diary``: enter what happened, show what was entered, and merge two people's diaries."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.follows import what_follows
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write, own_scenario, read_day, write_and_say
from rotasolve.cli.into_scenario import write_into_scenario
from rotasolve.cli.options import AsJson, DiaryOption, Force, OwnCrops, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer, answer_json, answer_page, look_of_terminal, talk, warn
from rotasolve.cli.told import say_troubles

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.cli.case import Case
    from rotasolve.files.diary import DiaryFile

HELP = """Enter what happened in the garden, or show what was entered.

Examples:

\b
  rotasolve diary garden.yaml picked 1.2 kg tomato gate bed
  rotasolve diary garden.yaml yesterday sown carrot, left bed, strips 1-3: moist soil
  rotasolve diary garden.yaml 12 May failed 12 leek gate bed: slugs
  rotasolve diary garden.yaml disease seen clubroot on kale, left bed
      --plan garden.plan.json
  rotasolve diary garden.yaml --from "1 May 2027"
  rotasolve diary garden.yaml --merge other.diary.txt -o both.diary.txt
  rotasolve diary garden.yaml --into-scenario

What happened is sown, planted or set out; sown indoors, potted on, hardened off, covered, uncovered, thinned or
earthed up; picked (with kg, g, lb or oz), failed, cleared or dug in; disease seen, pest seen, bed closed (until a day),
manured, frost, or noted. After a failure it says what may be started instead, after a disease for how long hosts stay
away, and with --plan what that costs. --into-scenario writes diseases seen, manure spread and beds closed into the
scenario, so that every plan obeys them. The diary is a text file beside the scenario, garden.diary.txt beside
garden.yaml: one line each, which you may change in a text editor; lines are only ever added to it. Exit status 1: some
lines cannot be read.
"""


@guarded
def diary(
    scenario: ScenarioArgument,
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="[WHAT HAPPENED]", help="The day, if not today, and what happened.", show_default=False),
    ] = None,
    day: Annotated[str | None, typer.Option(metavar="DAY", help="The day on which it happened.")] = None,
    diary_file: DiaryOption = None,
    first: Annotated[str | None, typer.Option("--from", metavar="DAY", help="Show from this day on.")] = None,
    last: Annotated[str | None, typer.Option("--to", metavar="DAY", help="Show until this day.")] = None,
    merge: Annotated[Path | None, typer.Option(metavar="FILE", help="Merge with this diary, into -o FILE.")] = None,
    into_scenario: Annotated[
        bool,
        typer.Option("--into-scenario", help="Write diseases seen, manure and beds closed into the scenario."),
    ] = False,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="FILE", help="The merged diary, or a new scenario.")
    ] = None,
    plan: Annotated[
        Path | None, typer.Option(metavar="PLAN", help="Say what a failure or a disease means for this plan.")
    ] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
    force: Force = False,
) -> int:
    """Enter a line, show the diary, or merge two."""
    if merge is not None and output is None:
        raise typer.BadParameter("--merge makes a new diary: give its file with -o")
    if output is not None and (merge is None) == (not into_scenario):
        raise typer.BadParameter("-o goes with either --merge or --into-scenario")
    if words and (merge is not None or into_scenario or first is not None or last is not None):
        raise typer.BadParameter("enter a line, or do something with those that are there, not both at once")
    for word in words or ():
        if re.match(r"--?[A-Za-z]", word):  # let through for the sake of -2 C
            raise typer.BadParameter(f"no such option: {word}")
    from rotasolve.files.diary import diary_beside, read_diary

    case = read_case(scenario, own_crops)
    file = diary_file or diary_beside(own_scenario(scenario))
    if words:
        return _enter(case, file, " ".join(words), day, plan, json)
    read = read_diary(file, case.scenario, case.catalogue)
    if merge is not None and output is not None:
        return _merge(read, read_diary(merge, case.scenario, case.catalogue), output, force, json)
    if into_scenario:
        write_into_scenario(case, scenario, read.diary, output, force, json)
        return exit_codes.FOUND if say_troubles([read]) else exit_codes.FINE
    return _show(case, read, first, last, details, json)


def _enter(case: Case, file: Path, words: str, day: str | None, plan: Path | None, json: bool) -> int:
    from datetime import date

    from rotasolve.files.diary_append import append_line
    from rotasolve.files.diary_names import DiaryNames
    from rotasolve.files.diary_said import read_said
    from rotasolve.files.diary_text import write_line
    from rotasolve.views.exports.diary_json import happening_answer
    from rotasolve.views.words.wording import clean

    today, on = date.today(), None if day is None else _said_day(day)
    told = read_said(words, today, DiaryNames(case.scenario, case.catalogue), on)
    line = write_line(told)
    # First of all: nothing that goes wrong below may keep what happened from being told.
    append_line(file, line, case.scenario.title)
    talk(f"Entered in {file}.")
    follows = what_follows(case, told, plan)
    if json:
        answer_json({"file": str(file), "entered": line, **happening_answer(told), **follows.answer()})
    else:
        answer("\n".join([clean(line), *follows.lines(look_of_terminal())]))
    if told.day > today:
        warn((f"{told.day.isoformat()} is yet to come; correct the line in {file} if that is not meant.",))
    return exit_codes.FINE


def _said_day(words: str) -> date:
    from datetime import date

    from rotasolve.domain.said_days import parse_said_day

    try:
        return parse_said_day(words, date.today())
    except ValueError as refusal:
        raise typer.BadParameter(f"--day: {refusal}") from None


def _show(case: Case, read: DiaryFile, first: str | None, last: str | None, details: bool, json: bool) -> int:
    from datetime import date

    from rotasolve.views.exports.diary_json import diary_answer
    from rotasolve.views.pages.diary_page import diary_page

    begin = date.min if first is None else read_day(first, "--from")
    end = date.max if last is None else read_day(last, "--to")
    shown = read.diary.between(begin, end)
    if json:
        answer_json(diary_answer(shown))
    else:
        answer_page(diary_page(case.scenario, shown, look_of_terminal()), details)
    return exit_codes.FOUND if say_troubles([read]) else exit_codes.FINE


def _merge(one: DiaryFile, other: DiaryFile, output: Path, force: bool, json: bool) -> int:
    from rotasolve.files.diary_merge import merged
    from rotasolve.views.exports.diary_json import happening_answer
    from rotasolve.views.words.happenings import say_happening

    both = merged(one, other)
    write_and_say(both.text, output, may_write(output, force))
    if json:
        counts = {"only_in_first": both.only_first, "only_in_second": both.only_second}
        answer_json({**counts, "in_both": [happening_answer(told) for told in both.in_both]})
    else:
        said = [f"{told.day.isoformat()} {say_happening(told)}" for told in both.in_both]
        answer(
            "\n".join(
                [
                    f"{both.only_first} lines only in {one.name}, {both.only_second} only in {other.name}.",
                    *([f"In both, and now there once ({len(said)}):", *said] if said else []),
                ]
            )
        )
    return exit_codes.FOUND if say_troubles([one, other]) else exit_codes.FINE
