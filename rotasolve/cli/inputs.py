"""What a command's words mean: scenarios, crops, beds, years, months, days, and files that may be written."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rotasolve.cli.terminal import is_terminal, talk, warn
from rotasolve.errors import FileTrouble, GardenFault

if TYPE_CHECKING:
    from datetime import date
    from importlib.resources.abc import Traversable

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario, Words

_SUFFIX = ".yaml"
_WEEKS_BACK = 8
"""So long a day that is told without its year may be past: our reading of what is meant."""


def shipped_scenarios() -> dict[str, Traversable]:
    """Return the shipped scenario files by name, without their suffix."""
    from rotasolve.files.shipped import shipped_files

    return {file.name.removesuffix(_SUFFIX): file for file in shipped_files("scenarios")}


def find_scenario(word: str) -> Path | Traversable:
    """Return the file a word names: one on disk, or a shipped scenario if there is no such file.

    Raises
    ------
    FileTrouble
        If it is neither; the message tells the nearest or all shipped names.
    """
    from rotasolve.files.refusals import refused

    path = Path(word)
    with refused(word, "cannot be read"):
        if path.exists() or path.name != word:
            return path
    shipped = shipped_scenarios()
    found = shipped.get(word.removesuffix(_SUFFIX))
    if found is not None:
        return found
    from rotasolve.files.wording import did_you_mean

    hint = did_you_mean(word.removesuffix(_SUFFIX), shipped) or f"shipped scenarios: {', '.join(sorted(shipped))}"
    raise FileTrouble(f"{word}: there is no such file, and no shipped scenario of that name; {hint}")


def own_scenario(word: str) -> Path:
    """Return the file of a scenario that is the grower's own.

    Raises
    ------
    FileTrouble
        If the word names a shipped one: nobody's diary lies beside it, and nobody writes into it.
    """
    path = Path(word)
    if path.exists() or find_scenario(word) == path:
        return path
    raise FileTrouble(f"{word} is a worked example: copy it first (rotasolve scenarios {word} --copy garden.yaml)")


def find_crop(word: str, catalogue: Catalogue, words: Words | None = None) -> str:
    """Return the catalogue's name of a crop as a grower writes it.

    Parameters
    ----------
    words
        Where the grower's word is noted, to be shown back. Default: nowhere.

    Raises
    ------
    GardenFault
        If no crop is called so, or several are; the message tells the nearest name, or those it may mean.
    """
    from rotasolve.files.crop_names import CropNames

    names = CropNames(catalogue.crops)
    found = names.find(word)
    if found is None:
        raise GardenFault("; ".join(names.trouble(word)))
    if words is not None and word.casefold() != found.casefold():
        words[found] = word
    return found


def known_bed(name: str, scenario: Scenario) -> str:
    """Return the name of a bed if there is one.

    Raises
    ------
    GardenFault
        If there is not; the message tells the nearest or all names.
    """
    from rotasolve.files.wording import did_you_mean

    names = [bed.name for bed in scenario.beds]
    if name not in names:
        hint = did_you_mean(name, names) or f"the beds are: {', '.join(names)}"
        raise GardenFault(f"there is no bed '{name}'; {hint}")
    return name


def known_years(years: Sequence[int], plan: Plan) -> tuple[int, ...]:
    """Return the garden years asked for, in order, or all of a plan if none is.

    Raises
    ------
    GardenFault
        If the plan does not have one of them; the message tells those it has.
    """
    every = range(plan.first_year, plan.first_year + plan.years)
    for year in years:
        if year not in every:
            raise GardenFault(f"the plan has no year {year}; it runs from {every[0]} to {every[-1]}")
    return tuple(sorted(set(years))) or tuple(every)


def months_named(words: Sequence[str]) -> list[int]:
    """Return the months that were named, each once.

    Raises
    ------
    GardenFault
        If a word is no month.
    """
    from rotasolve.domain.seasons import parse_month

    found = []
    for word in words:
        try:
            found.append(parse_month(word))
        except ValueError as error:
            raise GardenFault(str(error)) from None
    return list(dict.fromkeys(found))


def read_day(text: str, option: str, begins: date | None = None) -> date:
    """Return the day an option gives, as ``domain.said_days`` reads it.

    A day without a year is the next one, or one of the last ``_WEEKS_BACK`` weeks, but none before ``begins``.

    Raises
    ------
    typer.BadParameter
        If the text is not a day.
    """
    from datetime import date, timedelta

    import typer

    from rotasolve.domain.said_days import is_ambiguous, parse_said_day
    from rotasolve.domain.seasons import say_day

    today = date.today()
    since = today - timedelta(weeks=_WEEKS_BACK)
    try:
        day = parse_said_day(text, today, max(since, begins or since))
    except ValueError as refusal:
        raise typer.BadParameter(f"{option}: {refusal}") from None
    if is_ambiguous(text):
        warn((f"{text} is read with the day before the month, as {say_day(day)}.",))
    return day


def may_write(path: Path, force: bool, *read: Path) -> bool:
    """Return whether a file may be replaced (True) or must not be there yet (False); ask where somebody can answer.

    Raises
    ------
    FileTrouble
        If the file is there and may not be replaced, or is one of those ``read`` for the answer, or cannot be written
        there: nobody wants to know that only after a search.
    """
    from rotasolve.files.files import refuse_unwritable

    there = refuse_unwritable(path)
    if there and any(file.exists() and path.samefile(file) for file in read):
        raise FileTrouble(f"{path} is the scenario itself and was left as it is; name another file to write")
    if force or not there:
        return force
    if is_terminal(sys.stdin) and is_terminal(sys.stderr):
        import typer

        if typer.confirm(f"{path} is there already. Replace it?", default=False, err=True):
            return True
        raise FileTrouble(f"{path} was left as it is")
    raise FileTrouble(f"{path} is there already and was left as it is; --force replaces it")


def write_and_say(text: str, file: Path, replace: bool) -> None:
    """Write a file and say so on stderr."""
    from rotasolve.files.files import write_text

    write_text(text, file, overwrite=replace)
    talk(f"Written: {file}")


def knowing(plan: Plan, file: Path, scenario: str) -> Plan:
    """Return a plan that knows, where its file will lie, which scenario it was made for."""
    from rotasolve.files.plans import way_to

    found = find_scenario(scenario)
    shipped = found != Path(scenario)
    way = scenario.removesuffix(_SUFFIX) if shipped or not isinstance(found, Path) else way_to(found, file)
    return plan.model_copy(update={"scenario_file": way})


def write_if_possible(plan: Plan, scenario: str, file: Path | None, replace: bool) -> FileTrouble | None:
    """Write a plan that knows its scenario; return the trouble if that fails.

    What took long to find is shown before that is told.
    """
    from rotasolve.files.plans import write_plan

    try:
        if file is not None:
            write_plan(knowing(plan, file, scenario), file, replace)
    except FileTrouble as refusal:
        return refusal
    return None
