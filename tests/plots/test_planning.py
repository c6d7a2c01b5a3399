"""One go over many gardens: broken files in between, what is kept and what is planned anew, and the table."""

from __future__ import annotations

import csv
import json
import os
import random
import threading
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pytest

from rotasolve.errors import FileTrouble, NoEngine
from rotasolve.files.plans import read_plan
from rotasolve.plots.engine import Done, Order
from rotasolve.plots.gardens import TABLE, gardens_in
from rotasolve.plots.planning import Round
from rotasolve.plots.table import read_table
from rotasolve.solver.cpsat import Limits
from tests.files.test_own_crops import OCA
from tests.helpers.many_plots import EFFORT, Here, garden_text, write_gardens
from tests.helpers.mutations import spoilt

States = dict[str, str]
Go = Callable[..., tuple[States, list[str]]]
IMPOSSIBLE = "  must_have:\n    - {crop: kale, plants: 900}\n"


@pytest.fixture
def gardens(tmp_path: Path) -> Path:
    return write_gardens(tmp_path / "gardens", 3)


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    folder = tmp_path / "plans"
    folder.mkdir()
    return folder


@pytest.fixture
def go(gardens: Path, plans: Path) -> Go:
    """Return a runner of one round: the states of all gardens, and those that were planned."""

    def run(most: int = 1000, own_crops: tuple[Path, ...] = (), again: bool = False) -> tuple[States, list[str]]:
        gone = Round(gardens_in([gardens]), plans, Limits(seconds=None, effort=EFFORT), own_crops, again)
        engine = Here(most)
        gone.check()
        gone.plan(engine, threading.Event())
        assert gone.in_hand == 0
        return {name: row.state for name, row in gone.rows.items()}, engine.planned

    return run


def names(*numbers: int) -> list[str]:
    return [f"plot-{number:02d}" for number in numbers]


def table(plans: Path) -> dict[str, dict[str, str]]:
    with (plans / TABLE).open(encoding="utf-8", newline="") as file:
        return {row["garden"]: row for row in csv.DictReader(file)}


def edit(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def test_broken_files_in_between_stop_nothing(gardens: Path, plans: Path, go: Go) -> None:
    (gardens / "plot-00a.yaml").write_text("format: 1\ntitle: [\n", encoding="utf-8")
    (gardens / "plot-01a.yaml").write_bytes(b"title: \xff\xfe\xfa")
    (gardens / "plot-01b.yml").symlink_to("nowhere")
    (gardens / "plot-01c.yaml").write_text(garden_text(1) + IMPOSSIBLE, encoding="utf-8")
    (gardens / "notes.txt").write_text("not a scenario", encoding="utf-8")
    (gardens / "folder.yaml").mkdir()
    if hasattr(os, "mkfifo"):
        os.mkfifo(gardens / "pipe.yaml")
    (gardens / ".hidden.yaml").write_text("not a scenario", encoding="utf-8")
    states, planned = go()
    assert planned == ["plot-00", "plot-01", "plot-01c", "plot-02"]
    assert states == {
        "plot-00": "planned",
        "plot-00a": "faults",
        "plot-01": "planned",
        "plot-01a": "faults",
        "plot-01b": "faults",
        "plot-01c": "impossible",
        "plot-02": "planned",
    }
    assert sorted(file.name for file in plans.iterdir()) == [
        "plot-00.plan.json",
        "plot-01.plan.json",
        "plot-02.plan.json",
        TABLE,
    ]
    assert {name: row["state"] for name, row in table(plans).items()} == states
    # What is known to be impossible is not tried again until it changes; faults are looked for again.
    assert go()[1] == []
    edit(gardens / "plot-01c.yaml", IMPOSSIBLE, "")
    (gardens / "plot-00a.yaml").write_text(garden_text(3), encoding="utf-8")
    assert go()[1] == ["plot-00a", "plot-01c"]


def test_the_table_says_what_the_plans_say(plans: Path, go: Go) -> None:
    go()
    rows = table(plans)
    for name in names(0, 1, 2):
        plan, row = read_plan(plans / f"{name}.plan.json").plan, rows[name]
        assert plan.standing is not None
        assert int(row["points_lost"]) == plan.points_lost
        assert int(row["points_lost_in_any_plan"]) == plan.standing.at_least_lost
        met = sum(outcome.got.typical_kg >= 0.995 * outcome.wanted_kg for outcome in plan.targets)
        assert (row["wishes_met"], row["wishes"]) == (str(met), str(len(plan.targets)))
        assert float(row["seconds"]) > 0
    assert {row["wishes_met"] for row in rows.values()} != {"0"}


def test_what_was_stopped_goes_on_and_only_what_changed_is_planned_anew(gardens: Path, plans: Path, go: Go) -> None:
    states, planned = go(most=1)
    assert (states["plot-00"], states["plot-01"], states["plot-02"]) == ("planned", "waiting", "waiting")
    first = (plans / "plot-00.plan.json").read_bytes()
    states, planned = go()
    assert planned == names(1, 2)
    assert states["plot-00"] == "kept"
    assert go()[1] == []
    # A comment changes nothing, a wish does.
    edit(gardens / "plot-01.yaml", "beds:", "beds:  # in the corner")
    edit(gardens / "plot-02.yaml", "title: Plot 2", "title: The second plot")
    assert go()[1] == names(2)
    (plans / "plot-01.plan.json").unlink()
    assert go()[1] == names(1)
    assert (plans / "plot-00.plan.json").read_bytes() == first
    # Without the table the plans alone tell.
    (plans / TABLE).unlink()
    assert go()[1] == []
    assert go(again=True)[1] == names(0, 1, 2)
    assert (plans / "plot-00.plan.json").read_bytes() == first


def test_own_crops_that_change_make_new_plans(tmp_path: Path, go: Go) -> None:
    go()
    own = tmp_path / "own.yaml"
    own.write_text("format: 1\nsources:\n  ours: {title: What we weighed}\n", encoding="utf-8")
    assert go(own_crops=(own,), most=1)[1] == names(0)
    # Stopped: the others' plans are still those made without.
    assert go(own_crops=(own,))[1] == names(1, 2)
    assert go(own_crops=(own,))[1] == []


def test_a_crop_file_that_a_scenario_names_is_part_of_it(gardens: Path, tmp_path: Path, plans: Path, go: Go) -> None:
    roots = tmp_path / "roots"
    roots.mkdir()
    (roots / "oca.yaml").write_text(OCA, encoding="utf-8")
    wishes = garden_text(1) + "    - {crop: oca, kg: 1}\ncrop_files: [../roots/oca.yaml]\n"
    (gardens / "plot-01.yaml").write_text(wishes, encoding="utf-8")
    states, planned = go()
    assert (set(states.values()), planned) == ({"planned"}, names(0, 1, 2))
    assert "oca" in (plans / "plot-01.plan.json").read_text(encoding="utf-8")
    assert go()[1] == []
    edit(roots / "oca.yaml", "{value: 180, unit: days", "{value: 170, unit: days")
    assert go()[1] == names(1)
    (roots / "oca.yaml").unlink()
    assert go()[0]["plot-01"] == "faults"


def test_a_plan_changed_by_hand_is_never_written_over(gardens: Path, plans: Path, go: Go) -> None:
    go()
    file = plans / "plot-01.plan.json"
    plan = json.loads(file.read_text(encoding="utf-8"))
    del plan["plantings"][0]
    file.write_text(json.dumps(plan), encoding="utf-8")
    mine = file.read_bytes()
    (plans / "plot-02.plan.json").write_text("no plan", encoding="utf-8")
    states, planned = go()
    assert (states["plot-01"], states["plot-02"], planned) == ("kept", "left alone", [])
    assert table(plans)["plot-01"]["note"] == "changed by hand"
    edit(gardens / "plot-01.yaml", "title: Plot 1", "title: Plot one")
    states, planned = go()
    assert (states["plot-01"], planned) == ("left alone", [])
    assert file.read_bytes() == mine
    assert go(again=True)[1] == names(0, 1, 2)
    assert file.read_bytes() != mine


def test_a_file_of_somebody_else_in_the_tables_place_is_left_alone(gardens: Path, plans: Path, go: Go) -> None:
    for text in ("my,own\r\ntable,1\r\n", "\x00", ""):
        (plans / TABLE).write_text(text, encoding="utf-8")
        with pytest.raises(FileTrouble, match="not a table of plots"):
            go()
        assert (plans / TABLE).read_text(encoding="utf-8") == text.replace("\r\n", "\n")
    assert [file.name for file in plans.iterdir()] == [TABLE]


def test_a_spoilt_table_is_read_or_refused(plans: Path, go: Go) -> None:
    go()
    text, refusals = (plans / TABLE).read_text(encoding="utf-8"), 0
    for number in range(300):
        (plans / TABLE).write_bytes(spoilt(text, random.Random(number)).encode("utf-8", "surrogatepass"))
        try:
            read_table(plans / TABLE)
        except FileTrouble:
            refusals += 1
    assert 30 <= refusals <= 270


class _Answering:
    """An engine with an answer of its own to every order."""

    def __init__(self, text: str | None) -> None:
        self.text = text

    def run(self, orders: Iterable[Order], stop: threading.Event) -> Iterator[Done]:
        for order in orders:
            yield Done(order.garden, self.text)

    def close(self) -> None:
        pass


def test_what_workers_could_not_do_is_told(gardens: Path, plans: Path) -> None:
    def answered(text: str | None) -> Round:
        gone = Round(gardens_in([gardens]), plans, Limits(seconds=None, effort=EFFORT))
        gone.check()
        gone.plan(_Answering(text), threading.Event())
        return gone

    row = answered(None).rows["plot-00"]
    assert (row.state, "ended 3 times" in row.note) == ("failed", True)
    gone = answered('{"outcome": "failed", "what": "ValueError: odd", "seconds": 1}')
    assert gone.rows["plot-01"].note == "a defect of rotasolve: ValueError: odd"
    assert (
        answered('{"outcome": "no plan in time", "what": "", "seconds": 1}').rows["plot-01"].state == "no plan in time"
    )
    gone = answered('{"outcome": "faults", "what": "plot-00: odd beds", "seconds": 1}')
    assert (gone.rows["plot-01"].state, gone.faults["plot-01"]) == ("faults", "plot-00: odd beds")
    with pytest.raises(NoEngine, match="a worker has rotasolve 9, or other crops, and here there is rotasolve"):
        answered('{"outcome": "not alike", "what": "rotasolve 9", "seconds": 1}')
    assert [file.name for file in plans.iterdir()] == [TABLE]


def test_a_plan_that_cannot_be_written_is_told_and_stops_none(plans: Path, go: Go) -> None:
    (plans / "plot-01.plan.json").mkdir()
    states, _ = go(again=True)
    assert states == {"plot-00": "planned", "plot-01": "failed", "plot-02": "planned"}


def test_two_gardens_of_one_name_are_refused(tmp_path: Path) -> None:
    one, other = (write_gardens(tmp_path / name, 1) for name in ("one", "other"))
    with pytest.raises(FileTrouble, match="would both be the garden 'plot-00'"):
        gardens_in([one, other / "plot-00.yaml"])
    assert len(gardens_in([one, one / "plot-00.yaml"])) == 1
    (tmp_path / "empty").mkdir()
    with pytest.raises(FileTrouble, match="no scenario file"):
        gardens_in([tmp_path / "empty"])
