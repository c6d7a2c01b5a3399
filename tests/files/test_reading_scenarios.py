from __future__ import annotations

import contextlib
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InputFault
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario_text, scenario_hash
from tests.files.conftest import GARDEN

Faults = Callable[[str], list[str]]
Read = Callable[[str], Scenario]
SOUTH = ("52.5", "-37.8"), ("5 May", "10 October"), ("15 October", "25 April")


def test_whole_scenario_is_read(garden: str, read: Read) -> None:
    scenario = read(garden)
    assert [bed.name for bed in scenario.beds] == ["Bed 1", "Bed 2"]
    assert scenario.beds[0].length == 400


def test_other_names_and_case_become_the_catalogue_name(garden: str, read: Read) -> None:
    text = garden.replace("crop: tomato", "crop: Courgette") + (
        "also_allowed: [TOMATO]\n"
        "history:\n  - {bed: Bed 1, crop: ' Zucchini', year: 2026}\n"
        "pinned:\n  - {bed: Bed 2, crop: courgette, start: 2028-05-20}\n"
    )
    scenario = read(text.replace("width: 1 m", "width: 1 m\n    diseases: [Wilt]"))
    assert scenario.household.targets[0].crop == "zucchini"
    assert scenario.also_allowed == ("tomato",)
    assert scenario.history[0].crop == "zucchini"
    assert scenario.pinned[0].crop == "zucchini"
    assert scenario.beds[1].diseases == ("wilt",)


def test_kinds_of_a_wish_are_kinds_of_its_crop() -> None:
    crops, text = load_catalogue(), GARDEN.replace("kg: 20", "kg: 20\n      kinds: [early potatoes, maincrop potato]")
    with pytest.raises(InputFault) as refusal:
        read_scenario_text(text, "g.yaml", crops)
    assert [str(fault) for fault in refusal.value.faults] == [
        "g.yaml:22:15: 'first early potato' is no kind of 'tomato' - known here: tomato",
        "g.yaml:22:31: 'maincrop potato' is no kind of 'tomato' - known here: tomato",
    ]
    found = read_scenario_text(text.replace("crop: tomato", "crop: potatoes"), "g.yaml", crops)
    assert found.household.targets[0].kinds == ("first early potato", "maincrop potato")


HISTORY = "history:\n  - {bed: Bed 1, crop: tomato, "
PINNED = "pinned:\n  - {bed: Bed 1, crop: tomato, "


@pytest.mark.parametrize(
    ("added", "fault"),
    [
        (HISTORY + "year: 2028}", "g.yaml:23:38: history is what grew before the plan begins in 2027, not in 2028"),
        (HISTORY + "year: 2027}", "g.yaml:23:38: the plan itself begins in 2027 - add 'until'"),
        (HISTORY + "year: 2027, until: 2027-04-01}", ""),
        (HISTORY + "year: 2026, until: 2025-04-01}", "g.yaml:23:51: until, 1 April 2025, lies before"),
        (HISTORY + "year: 2026, strips: [7, 8]}", "g.yaml:23:56: bed 'Bed 1' has strips 1 to 7, not 8"),
        (HISTORY + "year: 2026, strips: [2, 2]}", "g.yaml:23:56: strip 2 is named twice"),
        (
            HISTORY.replace("Bed 1", "Bde 1") + "year: 2026}",
            "g.yaml:23:11: there is no bed 'Bde 1' - did you mean 'Bed",
        ),
        (
            HISTORY.replace("tomato", "tomatoe") + "year: 2026}",
            "g.yaml:23:24: the crop 'tomatoe' is not known - did you",
        ),
        (HISTORY.replace("tomato", "mango") + "year: 2026}", "g.yaml:23:24: the crop 'mango' is not known - choose"),
        (PINNED + "start: 2027-01-01}", ""),
        (PINNED + "start: 31 December 2029}", ""),
        (PINNED + "start: 2030-01-01}", "g.yaml:23:39: 1 January 2030 lies outside the planned years, 2027 to 2029"),
        (PINNED + "start: 2026-05-20}", "g.yaml:23:39: started on 20 May 2026, it is cleared on "),
        (PINNED + "start: 2030-01-01}", "g.yaml:23:39: 1 January 2030 lies outside"),
        ("    - {crop: Tomato, kg: 3}", "g.yaml:22:14: 'tomato' has a target already, in line 20 - write one target"),
        ("  must_have:\n    - {crop: tomato, plants: 3, year: 2030}", "g.yaml:23:39: 2030 lies outside the planned"),
        ("  must_have:\n    - {crop: tomato, plants: 3, bed: Bed 9}", "g.yaml:23:38: there is no bed 'Bed 9'"),
        ("also_allowed: [courgete]", "g.yaml:22:16: the crop 'courgete' is not known - did you mean 'courgette'?"),
    ],
)
def test_names_and_years(garden: str, faults: Faults, added: str, fault: str) -> None:
    found = faults(f"{garden}{added}\n")
    assert len(found) == bool(fault)
    assert all(fault in told for told in found)


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("name: Bed 2", "name: BED 1", "g.yaml:15:11: a bed is called 'BED 1' already, in line 12 - give each bed"),
        ("width: 1 m", "width: 1 m\n    diseases: [wlit]", "g.yaml:18:16: the disease 'wlit' is not known - did you"),
        ("width: 1 m", "width: 1 m\n    strip: 3 m", ""),
        ("length: 3 m", "length: 2 m\n    strip: 3 m", "g.yaml:17:12: a strip of 3 m is deeper than the bed, 2 m"),
        ("length: 3 m", "length: 24 m\n    strip: 30 cm", ""),
        (
            "length: 3 m",
            "length: 24.3 m\n    strip: 30 cm",
            "g.yaml:17:12: bed 'Bed 2' is cut into 81 strips; at most 80",
        ),
        ("length: 3 m", "length: 49 m", "g.yaml:15:11: bed 'Bed 2' is cut into 82 strips; at most 80 can be planned"),
        ("length: 3 m", "length: 3 m\n    east: 0 m", "g.yaml:17:5: bed 'Bed 2' has east but no north - add north, or"),
        ("half: 15 October", "half: 1 May", "g.yaml:8:11: the first frost of autumn, 1 May, comes before the last"),
        ("half: 15 October", "half: 3 June", "g.yaml:8:11: only 29 days lie between last and first frost"),
        ("half: 15 October", "half: 4 June", ""),
        ("half: 5 May", "half: 5 May\n    safe: 6 May", ""),
        (
            "half: 5 May",
            "half: 5 May\n    safe: 4 May",
            "g.yaml:7:11: the safe date of last_frost must be later than half",
        ),
        ("half: 5 May", "half: 5 May\n    daring: 6 May", "g.yaml:7:13: the daring date of last_frost must be earlier"),
        (
            "half: 15 October",
            "half: 15 October\n    safe: 15 October",
            "g.yaml:9:11: the safe date of first_frost must",
        ),
        (
            "half: 15 October",
            "half: 15 October\n    daring: 1 October",
            "must be later than half, 15 October, not 1 Oct",
        ),
        ("latitude: 52.5", "latitude: -37.8", "comes before the last frost of spring"),
    ],
)
def test_ground_and_frost(garden: str, faults: Faults, old: str, new: str, fault: str) -> None:
    found = faults(garden.replace(old, new, 1))
    assert len(found) == bool(fault)
    assert all(fault in told for told in found)


def test_south_has_its_own_order_and_years(garden: str, faults: Faults) -> None:
    for old, new in SOUTH:
        garden = garden.replace(old, new)
    assert faults(garden) == []
    # July 2030 belongs to the garden year 2030/31, after the plan; June 2030 to 2029/30, its last.
    told = faults(garden + PINNED + "start: 2030-07-01}\n  - {bed: Bed 1, crop: tomato, start: 2030-06-30}\n")
    assert told == [
        "g.yaml:23:39: 1 July 2030 lies outside the planned years, 2027/28 to 2029/30 - write a day within them"
    ]


def test_beds_may_touch_but_not_overlap(garden: str, faults: Faults) -> None:
    def placed(east: str) -> str:
        first = garden.replace("width: 1.2 m", "width: 1.2 m\n    east: 0 m\n    north: 0 m")
        return first.replace("width: 1 m", f"width: 1 m\n    north: 1 m\n    east: {east}")

    assert faults(placed("1.2 m")) == []
    assert [told[:60] for told in faults(placed("1.1 m"))] == [
        "g.yaml:21:5: bed 'Bed 2' lies partly on bed 'Bed 1' - check "
    ]


def test_garden_of_too_many_strips_is_refused(garden: str, faults: Faults) -> None:
    beds = "".join(f"  - {{name: Plot {n}, length: 48 m, width: 1 m}}\n" for n in range(20))
    told = faults(garden.replace("household:", beds + "household:"))
    # 20 beds of 48 / 0.6 = 80 strips, and 7 + 5 of the two small ones.
    assert [line[:90] for line in told] == [
        "g.yaml:11:1: the garden is cut into 1612 strips; at most 1500 can be planned - choose deeper strips, or"[:90]
    ]


def test_faults_of_all_checks_come_at_once(garden: str, faults: Faults) -> None:
    text = garden.replace("15 October", "1 May").replace("name: Bed 2", "name: Bed 1").replace("tomato", "tomaat")
    assert [told.split(" ")[0] for told in faults(text)] == ["g.yaml:8:11:", "g.yaml:15:11:", "g.yaml:20:13:"]


def test_hash_follows_content_not_spelling(garden: str, read: Read) -> None:
    same = read("# a comment\n" + garden.replace("crop: tomato", "crop: Tomato").replace("4 m", "400 cm"))
    assert scenario_hash(same) == scenario_hash(read(garden))
    assert scenario_hash(read(garden.replace("kg: 20", "kg: 21"))) != scenario_hash(read(garden))
    assert len(scenario_hash(same)) == 16


LINES = [*"abc", "beds:", "  - name: x", "    length: 2 m", "    width: 1 m", "site:", "  latitude: 1", "years: 2"]


@given(st.one_of(st.text(max_size=80), st.lists(st.sampled_from(LINES), max_size=12).map("\n".join)))
def test_any_text_is_read_or_refused(small: Catalogue, text: str) -> None:
    with contextlib.suppress(InputFault):
        read_scenario_text(text, "g.yaml", small)


@given(spot=st.integers(0, 300), cut=st.integers(0, 12), put=st.text(max_size=6))
def test_any_slip_of_the_hand_is_read_or_refused(small: Catalogue, spot: int, cut: int, put: str) -> None:
    text = "title: x\nsite: {latitude: 50, last_frost: {half: 5 May}, first_frost: {half: 5 Oct}}\nfirst_year: 2027\n"
    text += "beds:\n- {name: a, length: 4 m, width: 1 m, strip: 1 ft}\nhistory:\n- {bed: a, crop: tomato, year: 2026}\n"
    with contextlib.suppress(InputFault):
        read_scenario_text(text[:spot] + put + text[spot + cut :], "g.yaml", small)


def test_fields_gained_later_leave_the_hash_as_it_was(garden: str, read: Read) -> None:
    plain = scenario_hash(read(garden))
    assert scenario_hash(read(garden + "\nmanure: []\n")) == plain
    bed = read(garden).beds[0].name
    assert scenario_hash(read(garden + f"\nmanure:\n  - {{bed: {bed}, spread: 2027-03-01}}\n")) != plain


def test_manure_on_a_bed_that_is_not_there_is_named(garden: str, read: Read) -> None:
    with pytest.raises(InputFault) as refusal:
        read(garden + "\nmanure:\n  - {bed: nowhere, spread: 2027-03-01}\n")
    (fault,) = refusal.value.faults
    assert "there is no bed 'nowhere'" in fault.what
    assert fault.line == garden.count("\n") + 3
