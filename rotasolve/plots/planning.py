"""Many gardens planned in one go: each checked first, plans written as they are ready, and a table beside them.

A plan that is there, and was made for the scenario as it is now, is kept. So a run that was stopped, or ended by
force, goes on where it ended when it is started again. Nothing is ever half written: each file is put in place whole.
"""

from __future__ import annotations

import hashlib
import json
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rotasolve.domain.edits import edits_of
from rotasolve.domain.plots import Plot, with_plan
from rotasolve.errors import FileTrouble, InputFault, NoEngine
from rotasolve.files.crops import load_catalogue
from rotasolve.files.files import read_text, write_text
from rotasolve.files.plans import read_plan, read_plan_text, write_plan
from rotasolve.files.scenarios import beside, read_with_catalogue, scenario_hash
from rotasolve.plots.engine import MOST_TRIES, Done, Order
from rotasolve.plots.gardens import TABLE, GardenFile
from rotasolve.plots.table import name_in_table, read_table, table_text
from rotasolve.plots.work import NOT_ALIKE, order_text, versions

if TYPE_CHECKING:
    import threading
    from collections.abc import Iterator, Sequence

    from rotasolve.plots.engine import Engine
    from rotasolve.solver.cpsat import Limits

_TABLE_SHARE = 0.05
"""Share of the time that writing the table may take: with thousands of plots it is not written for each of them."""


@dataclass
class Round:
    """One go over many gardens.

    ``again`` plans all gardens, and writes over plans that were changed by hand. ``rows`` are in the order of the
    gardens, ``faults`` say in full what is wrong with those that have any.
    """

    gardens: Sequence[GardenFile]
    output: Path
    limits: Limits
    own_crops: Sequence[Path] = ()
    again: bool = False
    rows: dict[str, Plot] = field(default_factory=dict)
    faults: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        load_catalogue(tuple(self.own_crops))  # faults of these are told once, and not for each garden
        # The crop files of each garden whose order is out, and those of each garden whose scenario names some.
        self._out: dict[str, Sequence[str]] = {}
        self._crop_files: dict[str, list[Path]] = {}
        self._files = {garden.garden: garden for garden in self.gardens}
        self._table, self._next_table = self.output / TABLE, 0.0
        self._begun, self._answered = time.monotonic(), 0

    def check(self) -> int:
        """Read all gardens, say what is wrong or done already, and return how many are to be planned.

        Raises
        ------
        FileTrouble
            If the table's place is taken by another file.
        """
        known = read_table(self._table)
        for garden in self.gardens:
            self.rows[garden.garden] = self._checked(garden, known.get(name_in_table(garden.garden)))
        return sum(row.state == "waiting" for row in self.rows.values())

    def plan(self, engine: Engine, stop: threading.Event) -> None:
        """Plan what waits, writing each plan as it is ready; the table is written even if the engine fails."""
        self._begun = time.monotonic()
        try:
            for done in engine.run(self._orders(), stop):
                self.rows[done.garden] = self._taken(done)
                self._answered += 1
                self.write_table()
        finally:
            self._out.clear()  # what is still out is given up
            self.write_table(last=True)

    def write_table(self, last: bool = False) -> None:
        """Write the table; unless it is the ``last`` time, only if the last time is long enough ago."""
        begun = time.monotonic()
        if last or begun >= self._next_table:
            write_text(table_text(self.rows.values()), self._table, overwrite=True)
            ended = time.monotonic()
            self._next_table = ended + (ended - begun) / _TABLE_SHARE

    @property
    def in_hand(self) -> int:
        """How many gardens are being planned, or lie at a scheduler."""
        return len(self._out)

    def seconds_left(self) -> float | None:
        """Return about how long what waits will take, by what was answered so far; None before the first answer."""
        if not self._answered:
            return None
        waiting = sum(row.state == "waiting" for row in list(self.rows.values()))
        return (time.monotonic() - self._begun) / self._answered * waiting

    def _checked(self, garden: GardenFile, known: Plot | None) -> Plot:
        # Of what waits, and of what cannot be used, the table says what the plan that is there was made from.
        row = Plot(garden=garden.garden, made_from=known.made_from if known is not None else "")
        try:
            scenario, _ = read_with_catalogue(garden.file, self.own_crops)
            if scenario.crop_files:
                self._crop_files[row.garden] = [beside(garden.file, name) for name in scenario.crop_files]
            made_from = _made_from(scenario_hash(scenario), self._crop_texts(row.garden))
        except (InputFault, FileTrouble) as refusal:
            return self._with_faults(row, refusal)
        row = row.model_copy(update={"title": scenario.title})
        if self.again:
            return row
        if (file := garden.plan_in(self.output)).exists():
            return self._beside_plan(row, file, scenario_hash(scenario), made_from, known)
        if known is not None and known.state == "impossible" and known.made_from == made_from:
            return known.model_copy(update={"garden": row.garden, "title": row.title})
        return row

    def _beside_plan(self, row: Plot, file: Path, fingerprint: str, made_from: str, known: Plot | None) -> Plot:
        """Return the row of a garden whose plan's place is taken, perhaps by a plan for another fingerprint."""
        try:
            plan = read_plan(file).plan
        except (InputFault, FileTrouble):
            return row.model_copy(update={"state": "left alone", "note": f"{file.name} is no plan that can be read"})
        edits = edits_of(plan)
        by_hand = edits is None or edits.touched
        if plan.scenario_hash == fingerprint and row.made_from in ("", made_from):
            seconds = plan.standing.seconds if plan.standing is not None else None
            told = {
                "state": "kept",
                "made_from": made_from,
                "seconds": known.seconds if known is not None and row.made_from else seconds,
                "note": "changed by hand" if by_hand else "",
            }
            return with_plan(row, plan).model_copy(update=told)
        if by_hand:
            return row.model_copy(update={"state": "left alone", "note": f"{file.name} was changed by hand"})
        return row

    def _with_faults(self, row: Plot, refusal: InputFault | FileTrouble | str) -> Plot:
        count = len(refusal.faults) if isinstance(refusal, InputFault) else 1
        self.faults[row.garden] = str(refusal)
        return row.model_copy(update={"state": "faults", "note": f"{count} fault{'' if count == 1 else 's'}"})

    def _crop_texts(self, garden: str) -> list[str]:
        return [read_text(file) for file in (*self._crop_files.get(garden, ()), *self.own_crops)]

    def _orders(self) -> Iterator[Order]:
        for garden in self.gardens:
            row = self.rows[garden.garden]
            if row.state != "waiting":
                continue
            try:
                text, crops = read_text(garden.file), self._crop_texts(row.garden)
            except (InputFault, FileTrouble) as refusal:  # it was there a moment ago
                self.rows[row.garden] = self._with_faults(row, refusal)
                continue
            self._out[row.garden] = crops
            yield Order(row.garden, order_text(text, str(garden.file), crops, self.limits))

    def _taken(self, done: Done) -> Plot:
        row, crops = self.rows[done.garden], self._out.pop(done.garden)
        if done.text is None:
            note = f"the process that planned it ended {MOST_TRIES} times: was there enough memory?"
            return row.model_copy(update={"state": "failed", "note": note})
        answer: dict[str, Any] = json.loads(done.text)
        outcome, what = answer["outcome"], str(answer["what"])
        row = row.model_copy(update={"seconds": answer["seconds"]})
        if outcome == NOT_ALIKE:
            raise NoEngine(f"a worker has {what}, or other crops, and here there is {versions()}; install the same")
        if outcome == "plan":
            return self._written(row, answer["plan"], crops)
        if outcome == "faults":
            return self._with_faults(row, what)
        if outcome == "impossible":
            made_from = _made_from(answer["fingerprint"], crops)
            return row.model_copy(update={"state": "impossible", "made_from": made_from})
        if outcome == "no plan in time":
            return row.model_copy(update={"state": outcome})
        return row.model_copy(update={"state": "failed", "note": f"a defect of rotasolve: {what}"})

    def _written(self, row: Plot, text: str, crops: Sequence[str]) -> Plot:
        garden = self._files[row.garden]
        file = garden.plan_in(self.output)
        plan = read_plan_text(text, str(file)).plan.model_copy(update={"scenario_file": garden.way_from(file)})
        try:
            write_plan(plan, file, overwrite=True)
        except FileTrouble as trouble:
            return row.model_copy(update={"state": "failed", "note": str(trouble)})
        # By the scenario that was planned: the file may have been changed since it was checked.
        told = {"state": "planned", "made_from": _made_from(plan.scenario_hash, crops)}
        return with_plan(row, plan).model_copy(update=told)


def _made_from(fingerprint: str, crops: Sequence[str]) -> str:
    return hashlib.sha256(json.dumps([fingerprint, *crops]).encode("utf-8")).hexdigest()[:16]
