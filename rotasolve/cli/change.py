"""``rotasolve change``: add or change a bed, a wish or what grew where in a scenario file."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write, own_scenario, write_and_say
from rotasolve.cli.options import AsJson, Force, OwnCrops, ScenarioArgument
from rotasolve.cli.terminal import answer, answer_json

HELP = """Add or change a bed, a wish, or what grew where, in a scenario file; comments and order stay as they are.

Examples:

\b
  rotasolve change garden.yaml "bed gate bed: 6 x 1.2 m, east-west, tunnel"
  rotasolve change garden.yaml "bed gate bed: cold frame"      the cover only
  rotasolve change garden.yaml "wish carrots 20 kg, lettuce May-October"
  rotasolve change garden.yaml "no wish kale"
  rotasolve change garden.yaml "grew gate bed: 2026 potatoes, kale"
  rotasolve change garden.yaml "no grew gate bed: 2026 kale"
  rotasolve change garden.yaml "must have 10 leeks in gate bed"
      "disease gate bed: clubroot" "people 4" "years 3" "allow phacelia"
  rotasolve change garden.yaml "closed gate bed: 1 May 2027 to 1 June 2027"
      "manure gate bed: 12 October 2026" "place gate bed: east 2 m, north 0 m"
      "stands gate bed: garlic since 15 October 2026 until 20 July 2027"
  rotasolve change garden.yaml "rule few plantings: much" "risk cautious"
      "hedge north side: 10 x 0.6 m, 2 m high, e-w, east 0 m, north 8 m"
      "tree old apple: 4 m across, 5 m high, east 3 m, north 9 m"
      "units inches" "surplus welcome" "count in meals" "first year 2028"

Each text in quotes is one change; without quotes all words are one. The file is written only if it can be used after
all of them.
"""


@guarded
def change(
    scenario: ScenarioArgument,
    changes: Annotated[list[str], typer.Argument(metavar="CHANGE", help="What to change.", show_default=False)],
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="FILE", help="Write a new file; the scenario stays.")
    ] = None,
    own_crops: OwnCrops = None,
    json: AsJson = False,
    force: Force = False,
) -> int:
    """Change a scenario file."""
    from datetime import date

    from rotasolve.files.files import read_text
    from rotasolve.files.scenario_changes import changed_by_lines
    from rotasolve.files.scenarios import read_with_catalogue

    file = own_scenario(scenario)
    _, catalogue = read_with_catalogue(file, tuple(own_crops or ()))
    lines = changes if any(" " in one.strip() for one in changes) else [" ".join(changes)]
    before = read_text(file)
    text = changed_by_lines(before, str(file), lines, catalogue, date.today())
    changed = _changed_lines(before, text)
    target = output if output is not None else file
    if text != before or output is not None:
        # The scenario itself is what the command was asked to change.
        write_and_say(text, target, True if output is None else may_write(output, force))
    if json:
        answer_json({"file": str(target), "changed": changed})
    else:
        answer("\n".join(changed) if changed else "Nothing has changed: the file says so already.")
    return exit_codes.FINE


def _changed_lines(before: str, after: str) -> list[str]:
    """Return the lines taken out, with a minus, and those put in, with a plus."""
    import difflib

    found = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    return [line for line in found if line[:1] in "+-" and not line.startswith(("+++", "---"))]
