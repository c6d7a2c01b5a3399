"""The board refuses what would make a rule unexplainable, and the shipped gardens keep their size."""

from __future__ import annotations

import pytest

from rotasolve.board import Board, Visit
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.files.shipped import shipped_files
from rotasolve.relations.ground.garden import Cell, make_garden
from rotasolve.rules.season_window import WindowClaim
from rotasolve.solver.program import build_program
from tests.helpers.tiny import CATALOGUE, bed, scenario

CLAIM = WindowClaim("kale", "bed")

MOST = {
    "cold-frame": (380, 430),
    "southern-garden": (6860, 6840),
    "family-garden": (9100, 3130),
    "allotment": (43200, 12520),
}
"""Variables and rows of each shipped scenario, a twentieth above what they were when last looked at."""


def board() -> Board:
    return Board(make_garden(scenario(("kale",), [bed("bed")]), CATALOGUE))


def test_a_row_without_a_claim_is_refused() -> None:
    with pytest.raises(RuntimeError, match="outside because"):
        board().at_most([(0, 1)], 1)


def test_a_claim_is_posted_once() -> None:
    here = board()
    with here.because(CLAIM):
        here.at_most([(0, 1)], 1)
    with pytest.raises(RuntimeError, match="posted twice"), here.because(CLAIM):
        pass


def test_claims_do_not_nest() -> None:
    here, other = board(), WindowClaim("kale", "other")
    with here.because(CLAIM), pytest.raises(RuntimeError, match="opened inside"), here.because(other):
        pass


def test_a_mark_is_known_by_what_it_marks() -> None:
    here = board()
    zone = Cell("bed", 0)
    one, both = Visit(zone, "cabbages", (2027, 2027)), Visit(zone, "cabbages", (2027, 2028))
    first, every = frozenset({0}), frozenset(range(len(here.garden.choices)))
    mark = here.mark(one, every)
    assert here.mark(Visit(Cell("bed", 0), "cabbages", (2027, 2027)), every) == mark
    # The same name for other choices would bind the wrong ones: it is another mark.
    assert here.mark(one, first) != mark
    assert here.mark(both, every) != mark


def test_half_months_that_ask_nothing_new_are_left_out() -> None:
    # Kale stands from 17 July to 30 September, five half months; one row for each strip says it all.
    here = board()
    for cell in here.garden.cells:
        assert len(list(here.crowded(cell))) == 1


@pytest.mark.parametrize("name", sorted(MOST))
def test_shipped_gardens_keep_their_size(name: str) -> None:
    catalogue = load_catalogue()
    file = next(file for file in shipped_files("scenarios") if file.name == f"{name}.yaml")
    program = build_program(make_garden(read_scenario(file, catalogue), catalogue))
    variables, rows = MOST[name]
    assert variables * 0.75 < len(program.upper) <= variables
    assert rows * 0.75 < len(program.rows) <= rows
