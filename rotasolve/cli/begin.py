"""``rotasolve begin``: a first scenario from a conversation, bed by bed."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write
from rotasolve.cli.options import Force
from rotasolve.cli.terminal import is_terminal, talk, warn

if TYPE_CHECKING:
    from rotasolve.cli.conversation import Conversation, Kept
    from rotasolve.domain.scenario import Scenario

HELP = """Write a first scenario from a conversation: the garden, bed by bed, what grew there, and what you eat.

Examples:

\b
  rotasolve begin garden.yaml
  rotasolve begin garden.yaml -y                 an example garden, to change
  rotasolve begin garden.yaml --latitude 52.5 --last-frost "5 May"
      --first-frost "15 October" --bed "gate bed: 6 x 1.2 m, east-west"
      --bed "tunnel: 20 by 4 ft, tunnel; 2026 tomatoes"
      --crop "potatoes 20 kg" --crop "lettuce May-October"

Questions are asked only for what no option answers, and only on a terminal. '?' explains a question, 'back' goes to the
one before, 'stop' keeps the answers so far: the same command goes on from there. 'rotasolve change' adds or changes a
bed, a wish or what grew where in a file that is written.
"""


@guarded
def begin(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The scenario file to write.", show_default=False)],
    title: Annotated[str | None, typer.Option(metavar="TEXT", help="What the garden is called.")] = None,
    latitude: Annotated[
        str | None, typer.Option(metavar="DEGREES", help="Degrees, south of the equator negative.")
    ] = None,
    last_frost: Annotated[
        str | None, typer.Option(metavar="DAY", help="Average last frost in spring: '5 May', or '5 May, safe 20 May'.")
    ] = None,
    first_frost: Annotated[
        str | None, typer.Option(metavar="DAY", help="Average first frost in autumn, such as '15 October'.")
    ] = None,
    first_year: Annotated[
        str | None, typer.Option(metavar="YEAR", help="The first year to plan, or '2027 to 2029'.")
    ] = None,
    years: Annotated[str | None, typer.Option(metavar="NUMBER", help="How many years to plan, 1 to 10.")] = None,
    people: Annotated[str | None, typer.Option(metavar="NUMBER", help="How many people eat from the garden.")] = None,
    bed: Annotated[
        list[str] | None,
        typer.Option(
            metavar="TEXT", help="A bed: 'name: size, direction, cover; what grew'; several times for several."
        ),
    ] = None,
    crop: Annotated[
        list[str] | None,
        typer.Option(metavar="TEXT", help="A wish, such as 'carrots 5 kg'; several times for several."),
    ] = None,
    yes: Annotated[
        bool, typer.Option("--yes", "-y", help="Ask nothing; an example stands in for what no option says.")
    ] = False,
    anew: Annotated[bool, typer.Option("--anew", help="Forget the answers kept from a conversation before.")] = False,
    force: Force = False,
) -> int:
    """Write a first scenario."""
    replace = may_write(file, force)
    single = {"title": title, "latitude": latitude, "last_frost": last_frost, "first_frost": first_frost}
    single |= {"first_year": first_year, "years": years, "people": people}
    given = {key: text for key, text in single.items() if text is not None}
    given |= {f"bed {number}": text for number, text in enumerate(bed or (), start=1)}
    if bed:
        given[f"bed {len(bed) + 1}"] = ""  # no more of them
    if crop:
        given["eats"] = "; ".join(crop)
    return _hold(
        file, replace, given, asks=not yes and is_terminal(sys.stdin) and is_terminal(sys.stderr), yes=yes, anew=anew
    )


def _hold(file: Path, replace: bool, given: dict[str, str], asks: bool, yes: bool, anew: bool) -> int:
    """Hold the conversation, write the file, and return the exit status."""
    from rotasolve.cli.conversation import Conversation, Kept, Stopped
    from rotasolve.cli.interview import Interview
    from rotasolve.files.crops import load_catalogue
    from rotasolve.files.files import write_text
    from rotasolve.files.scenarios import read_scenario, read_scenario_text, warnings_of

    catalogue, kept = load_catalogue(), Kept(file)
    interview = Interview(catalogue, date.today(), "years" in given)
    if not asks and not yes:
        given.setdefault("people", "")  # nobody said
    if anew:
        kept.forget()
    conversation = Conversation(interview.steps, given, kept, asks=asks, examples=yes)
    try:
        told = conversation.run()
    except (Stopped, typer.Abort) as left:
        return _say_kept(kept, file, aborted=isinstance(left, typer.Abort))
    if conversation.troubles:
        talk("\n".join([*conversation.troubles, "Nothing was written."]))
        return exit_codes.COULD_NOT_RUN
    text = interview.text(told, conversation.taken)
    # Read before it is written: what cannot be read must not replace a file.
    read_scenario_text(text, str(file), catalogue)
    write_text(text, file, overwrite=replace)
    if asks:
        kept.forget()
    scenario = read_scenario(file, catalogue)
    warn(warnings_of(scenario, catalogue))
    _say_next(file, scenario, conversation)
    return exit_codes.FINE


def _say_kept(kept: Kept, file: Path, aborted: bool) -> int:
    there = kept.file.exists()
    said = (
        f"Your answers are kept in {kept.file}; go on with: rotasolve begin {file}" if there else "Nothing was written."
    )
    talk(f"\n{said}")
    return exit_codes.LEFT if aborted else exit_codes.FINE


def _say_next(file: Path, scenario: Scenario, conversation: Conversation) -> None:
    from rotasolve.views.words.summary import crops_in_plan
    from rotasolve.views.words.wording import say_count

    held = f"{say_count(len(scenario.beds), 'bed')}, {say_count(len(crops_in_plan(scenario)), 'crop')}"
    if conversation.taken:
        taken = ", ".join(dict.fromkeys(conversation.taken))
        talk(f"An example stands in for what nobody told: {taken}. Change it in the file.")
    plan = file.with_name(f"{file.stem}.plan.json")
    talk(
        f"Written: {file} ({held}).\n"
        f"Then: rotasolve check {file}\n"
        f"      rotasolve plan {file} -o {plan}\n"
        f"To add or change something: rotasolve change {file} \"wish carrots 5 kg\" ('rotasolve change -h' has more)"
    )
