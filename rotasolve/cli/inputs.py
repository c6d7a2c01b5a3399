"""What commands read: a scenario by file or by shipped name, and plans that belong to it."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rotasolve.cli.terminal import is_terminal, warn
from rotasolve.errors import FileTrouble, GardenFault

if TYPE_CHECKING:
    from datetime import date
    from importlib.resources.abc import Traversable

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.files.plans import PlanFile
    from rotasolve.tasks.by_hand import Note

_SUFFIX = ".yaml"


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
    path = Path(word)
    if path.exists() or path.name != word:
        return path
    shipped = shipped_scenarios()
    found = shipped.get(word.removesuffix(_SUFFIX))
    if found is not None:
        return found
    from rotasolve.files.wording import did_you_mean

    hint = did_you_mean(word.removesuffix(_SUFFIX), shipped) or f"shipped scenarios: {', '.join(sorted(shipped))}"
    raise FileTrouble(f"{word}: there is no such file, and no shipped scenario of that name; {hint}")


def read_inputs(word: str, own_crops: Sequence[Path] | None) -> tuple[Scenario, Catalogue]:
    """Return a scenario and the catalogue it is read with.

    Raises
    ------
    RotasolveError
        If a file is missing or has faults.
    """
    from rotasolve.files.crops import load_catalogue
    from rotasolve.files.scenarios import read_scenario

    file = find_scenario(word)
    catalogue = load_catalogue(tuple(own_crops or ()))
    return read_scenario(file, catalogue), catalogue


def find_crop(word: str, catalogue: Catalogue) -> str:
    """Return the catalogue's name of a crop as a grower writes it.

    Raises
    ------
    GardenFault
        If no crop is called so; the message tells the nearest name.
    """
    from rotasolve.files.crop_names import CropNames

    names = CropNames(catalogue.crops)
    found = names.find(word)
    if found is None:
        hint = names.hint(word) or "'rotasolve crops' lists all"
        raise GardenFault(f"the crop '{word}' is not known; {hint}")
    return found


def mismatch(plan: Plan, scenario: Scenario) -> tuple[str, ...]:
    """Return a warning if the plan was made for another scenario, or before this one was changed."""
    from rotasolve.files.scenarios import scenario_hash

    if plan.scenario_hash == scenario_hash(scenario):
        return ()
    return ("the scenario is not the one the plan was made for, or it has been changed since.",)


def open_plan(path: Path, scenario: Scenario, catalogue: Catalogue, lenient: bool = False) -> Plan:
    """Return the plan of a file as it holds now, and say on stderr if it was edited by hand.

    ``lenient`` shows a plan of another scenario as it is.

    Raises
    ------
    RotasolveError
        If the file is missing, is no plan, or names what the scenario does not have.
    """
    return take_up_file(path, scenario, catalogue, lenient)[1]


def take_up_file(
    path: Path, scenario: Scenario, catalogue: Catalogue, lenient: bool = False
) -> tuple[PlanFile, Plan, tuple[Note, ...]]:
    """Return a plan file, the plan as it holds now, and what was worked out anew in it; as ``open_plan`` otherwise."""
    from rotasolve.domain.edits import edits_of
    from rotasolve.errors import InputFault
    from rotasolve.files.plan_checks import checked_plan
    from rotasolve.files.plans import read_plan_file
    from rotasolve.tasks.by_hand import take_up
    from rotasolve.views.pages.editing import say_edits

    file = read_plan_file(path)
    edits = edits_of(file.plan)
    whole = edits is not None and not edits.touched
    if whole and not mismatch(file.plan, scenario):
        return file, file.plan, ()
    try:
        file = checked_plan(file, scenario, catalogue, any_years=edits is None or whole)
    except InputFault:
        if lenient and not file.left_out and (edits is None or whole):
            return file, file.plan, ()
        raise
    plan, notes = take_up(scenario, catalogue, file.plan, file.left_out)
    said = say_edits(edits_of(plan), len(notes))
    if said:
        warn((f"{path}: {said}",))
    return file, plan, notes


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


def read_day(text: str | None, option: str) -> date | None:
    """Return the date an option gives, or None if it is not given.

    Raises
    ------
    typer.BadParameter
        If the text is not a date.
    """
    import typer

    from rotasolve.domain.seasons import parse_date

    try:
        return None if text is None else parse_date(text)
    except ValueError as refusal:
        raise typer.BadParameter(str(refusal), param_hint=option) from None


def may_write(path: Path, force: bool) -> bool:
    """Return whether a file may be replaced (True) or must not be there yet (False); ask where somebody can answer.

    Raises
    ------
    FileTrouble
        If the file is there and may not be replaced, or there is no folder for it.
    """
    if path.is_dir():
        raise FileTrouble(f"{path}: this is a folder, not a file")
    if not path.parent.is_dir():
        raise FileTrouble(f"{path}: there is no folder {path.parent}")
    if force or not path.exists():
        return force
    if is_terminal(sys.stdin) and is_terminal(sys.stderr):
        import typer

        if typer.confirm(f"{path} is there already. Replace it?", default=False, err=True):
            return True
        raise FileTrouble(f"{path} was left as it is")
    raise FileTrouble(f"{path} is there already and was left as it is; --force replaces it")
