"""Pages and JSON answers to questions about a plan: places, room made, clashes, missed targets."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.crop_share import CropShare
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.moves import CropKg, Move, Room
from rotasolve.domain.place import NoonShade, Place, Places, Question, Refusal, Remark
from rotasolve.domain.plan import Harvest, Plan, Planting
from rotasolve.domain.result import Impossible
from rotasolve.domain.scenario import PinnedPlanting, Scenario
from rotasolve.domain.shortfall import Gain, Shortfall
from rotasolve.rules.as_pinned import PinClaim
from rotasolve.rules.free_ground import GroundClaim, Held
from rotasolve.rules.must_have import MustClaim
from rotasolve.rules.rest import Host, HostTooNear, KnownForGood, RestClaim
from rotasolve.views.answers import question_answers
from rotasolve.views.answers.clash_page import clash_page, no_clash_page
from rotasolve.views.answers.place_list import MOST_ROWS, place_list, say_notes
from rotasolve.views.answers.place_page import places_page
from rotasolve.views.answers.refusal_list import refusal_list
from rotasolve.views.answers.room_page import no_room_page, room_page
from rotasolve.views.answers.shortfall_page import shortfall_page
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look

Golden = Callable[[str, str], None]
WIDTHS = (50, 80, 120)
TODAY = date(2027, 5, 20)
KALE = Question(crop="kale", plants=8)


def kale(bed: str, strips: tuple[int, ...], start: date = date(2027, 8, 1), **more: Any) -> Planting:
    return Planting(
        **{
            "bed": bed,
            "strips": strips,
            "crop": "kale",
            "way": "set out",
            "raise_from": date(2027, 6, 20),
            "start": start,
            "first_harvest": date(2027, 10, 5),
            "last_harvest": date(2028, 1, 20),
            "clear": date(2028, 1, 31),
            "rows": 2,
            "plants": 8,
            "harvest": Harvest(low_kg=1.6, typical_kg=4, high_kg=7.2),
            **more,
        }
    )


def held(strip: int, until: date) -> Hindrance:
    """Return that garlic holds a strip of the frame."""
    why = Held((strip,), "garlic", date(2027, 10, 1), until)
    return Hindrance(GroundClaim("frame"), why, (strip,), until)


def rested(strips: tuple[int, ...], again: int) -> Hindrance:
    """Return that kale stood in the frame, and when its family may come again."""
    why = HostTooNear(Host("kale", 2026, 2026, False), False, False, 0, "Brassicaceae", False, 2, again)
    return Hindrance(RestClaim("Brassicaceae", "frame", 0, 2, "family"), why, strips, date(again - 1, 12, 31))


@pytest.fixture
def places() -> Places:
    shade = NoonShade(depth_cm=42, crop="summer squash", bed="long bed", month=10)
    lone = Harvest(low_kg=2, typical_kg=2, high_kg=2)
    return Places(
        question=KALE,
        places=(
            Place(planting=kale("long bed", (1, 2)), shade=shade, free_strips=(3, 4, 6), rest_years=2),
            Place(planting=kale("long bed", (3, 4)), free_strips=(1, 2, 6), rest_years=2),
            Place(planting=kale("long bed", (1, 2), date(2027, 8, 16)), free_strips=(3,), rest_years=2),
            Place(
                planting=kale("frame", (1,), harvest=lone),
                free_until=date(2028, 4, 16),
                remarks=(Remark(crop="kale", after="garlic", effect="good", evidence="tradition"),),
            ),
        ),
        refusals=(
            Refusal(
                bed="frame",
                year=2028,
                planting=kale("frame", (1, 2), date(2028, 8, 1)),
                hindrances=(
                    *(held(n, date(2028, 5, n)) for n in (1, 2, 3, 4, 5)),
                    rested((1, 2), 2029),
                ),
            ),
        ),
        loose_pins=(PinnedPlanting(bed="long bed", crop="garlic", start=date(2027, 10, 15)),),
    )


@pytest.mark.parametrize("width", WIDTHS)
def test_places(golden: Golden, scenario: Scenario, catalogue: Catalogue, places: Places, width: int) -> None:
    text = places_page(scenario, catalogue, places, Look(width), beside_plan=True)
    assert all(columns_of(line) <= width for line in text.splitlines())
    golden(f"places_{width}", text)


def test_every_place_and_reason_in_ascii_and_inches(
    golden: Golden, scenario: Scenario, catalogue: Catalogue, places: Places
) -> None:
    text = places_page(scenario, catalogue, places, Look(80, plain=True, inches=True), every=True)
    assert text.isascii()
    assert "1 ft" in text or " in deep" in text
    golden("places_all_ascii", text)


def test_no_place(golden: Golden, scenario: Scenario, catalogue: Catalogue, places: Places) -> None:
    none = places.model_copy(update={"places": (), "question": Question(crop="kale", on=TODAY, way="set out")})
    golden("places_none_80", places_page(scenario, catalogue, none, Look(80)))


def test_rows_are_capped_and_the_rest_counted() -> None:
    # 20 beds with strips of their own each: 12 rows are shown, 8 more are counted.
    found = [Place(planting=kale(f"bed {n}", (n,))) for n in range(1, 21)]
    text = "\n".join(place_list(found, False, Look(80)))
    assert text.count("set out") == MOST_ROWS
    assert text.endswith("8 more beds and years have a place as well (--all).")
    assert "\n".join(place_list(found, False, Look(80), every=True)).count("set out") == 20


def test_beds_alike_share_a_row() -> None:
    found = [Place(planting=kale(bed, (1,))) for bed in ("one", "two")]
    lines = place_list(found, False, Look(120))
    assert lines[0].startswith("1. one, two: strip 1, 2027; ")


def test_three_sentences_of_a_rule_and_one_where_there_are_many(places: Places) -> None:
    refusal = places.refusals[0]
    few = "\n".join(refusal_list([refusal], False, Look(200)))
    assert few.count("held by garlic") == 3
    assert "And 2 more like it (--all)." in few
    many = [refusal.model_copy(update={"bed": f"bed {n}", "year": 2027 + n}) for n in range(13)]
    text = "\n".join(refusal_list(many, False, Look(200)))
    assert text.startswith("Of 13 beds and years: ground taken in 13, rest of the family in 13.")
    assert text.count("held by garlic") == 13
    whole = " ".join(" ".join(refusal_list(many, False, Look(200), every=True)).split())
    assert whole.count("held by garlic") == 5 * 13


def test_a_reason_that_never_ends_is_said_before_one_that_does() -> None:
    closed = RestClaim("white rot", "frame", 0, 0, "closed")
    told = (rested((1,), 2029), Hindrance(closed, KnownForGood("white rot", 0), (1,)))
    refusal = Refusal(bed="frame", year=2027, planting=kale("frame", (1,)), hindrances=told)
    text = " ".join(" ".join(refusal_list([refusal], False, Look(80))).split())
    assert "hosts stay out for good. Kale stood here in 2026;" in text


@pytest.fixture
def room(plan: Plan) -> Room:
    squash, autumn, lone, _ = plan.plantings
    left = autumn.model_copy(update={"plants": 10, "rows": 1})
    return Room(
        question=KALE,
        placed=kale("long bed", (1, 2)),
        moves=(
            Move(before=squash, after=squash.model_copy(update={"bed": "frame", "start": date(2027, 6, 1)})),
            Move(before=autumn, after=left),
            Move(before=lone, after=None),
        ),
        at_least=2,
        proven=False,
        plan=plan,
        harvest=(CropKg(crop="kale", kg=4.2), CropKg(crop="summer squash", kg=-1.5)),
        lost_before=1204,
        lost_after=1301,
    )


@pytest.mark.parametrize("width", WIDTHS)
def test_room(golden: Golden, scenario: Scenario, room: Room, width: int) -> None:
    text = room_page(scenario, [room], TODAY, Look(width))
    assert all(columns_of(line) <= width for line in text.splitlines())
    golden(f"room_{width}", text)


def test_room_that_is_there_and_room_that_is_not(scenario: Scenario, room: Room) -> None:
    there = room.model_copy(update={"moves": (), "at_least": 0, "proven": True})
    assert "There is room already: nothing has to change." in room_page(scenario, [there], TODAY, Look(80))
    fewest = room.model_copy(update={"moves": room.moves[:2], "proven": True})
    assert "No change could touch fewer than 2 plantings, and this one touches no more." in room_page(
        scenario, [fewest], TODAY, Look(120)
    )
    late = room.model_copy(update={"crop_share": CropShare(percent=40, why="late")})
    assert "\n  Set out late: about 40 % of a full crop.\n" in room_page(scenario, [late], TODAY, Look(80))
    assert "started after 20 May 2027" in no_room_page(scenario, KALE, TODAY, Look(120))


def test_ways_are_numbered_and_each_says_its_cost(scenario: Scenario, room: Room) -> None:
    dear = room.model_copy(update={"lost_after": 1500, "harvest": ()})
    text = " ".join(room_page(scenario, [room, dear], TODAY, Look(400)).split())
    assert [text.index(word) for word in ("Way 1 of 2", "Way 2 of 2")] == sorted(
        text.index(word) for word in ("Way 1 of 2", "Way 2 of 2")
    )
    assert "In usual years it brings 4.2 kg more kale, 1.5 kg less summer squash." in text.replace("\xa0", " ")
    assert "It brings as much of each crop." in text
    assert "loses 1,500 points, before the change 1,204" in text
    assert "Way" not in room_page(scenario, [room], TODAY, Look(80))


WISH = MustClaim("kale", 900, None, 2027, False, None)
PIN = PinClaim("garlic", "frame", date(2027, 10, 1), (), 1)
GROUND = GroundClaim("frame")


def test_clash(golden: Golden, scenario: Scenario) -> None:
    found = Impossible((WISH, GROUND), ((GROUND,), (WISH, PIN)))
    golden("clash_80", clash_page(scenario, found, Look(80)))


def test_clash_without_a_way_out_or_without_a_reason(scenario: Scenario) -> None:
    text = clash_page(scenario, Impossible((WISH,)), Look(100))
    assert "This alone is more than the beds and seasons allow:" in text
    assert text.endswith("Give up or loosen it in the scenario and try again.\n")
    assert "no short reason was found" in clash_page(scenario, Impossible(()), Look(100))
    assert "Giving up all of this would do:" in clash_page(scenario, Impossible((WISH,), ((WISH,),)), Look(100))
    assert "No clash found" in no_clash_page(scenario, Look(100))


def shortfalls() -> tuple[Shortfall, ...]:
    gains = (
        Gain(kind="one more bed", kg=4, length_cm=600, width_cm=120),
        Gain(kind="one year less rest", kg=1.25, rest_years=1),
        Gain(kind="a cover", kg=0, cover="low tunnel", bed="long bed"),
        Gain(kind="no order of heights", kg=0),
    )
    return (
        Shortfall(crop="kale", year=2028, wanted_kg=4, got_kg=0, gains=gains),
        Shortfall(crop="kale", year=2029, wanted_kg=4, got_kg=3, gains=()),
        Shortfall(crop="garlic", year=2027, wanted_kg=4, got_kg=0, gains=gains),
        Shortfall(crop="garlic", year=2028, wanted_kg=4, got_kg=0, gains=gains),
    )


@pytest.mark.parametrize("width", WIDTHS)
def test_shortfall(golden: Golden, scenario: Scenario, plan: Plan, width: int) -> None:
    text = shortfall_page(scenario, plan, shortfalls(), Look(width))
    assert all(columns_of(line) <= width for line in text.splitlines())
    assert "2027, 2028: wanted 4 kg" in text
    golden(f"shortfall_{width}", text)


def test_a_poor_year_is_said_where_targets_are_met_in_one(scenario: Scenario, plan: Plan) -> None:
    household = scenario.household.model_copy(update={"meet_targets_at": "low yield"})
    place = scenario.model_copy(update={"household": household})
    short = shortfalls()[1].model_copy(update={"met_at": "low yield"})
    text = " ".join(shortfall_page(place, plan, [short], Look(200)).split())
    assert "1 yearly target missed in a poor year" in text
    assert "wanted 4 kg, got 3 kg in a poor year, 1 kg missing" in text
    assert "reckoned by a poor year" in shortfall_page(place, plan, (), Look(200))


def test_nothing_missed(scenario: Scenario, plan: Plan) -> None:
    assert "Every yearly target is met, reckoned by a usual year." in shortfall_page(scenario, plan, (), Look(80))
    assert "The target of kale is met in every year" in shortfall_page(scenario, plan, (), Look(80), "kale")
    household = scenario.household.model_copy(update={"targets": ()})
    none = scenario.model_copy(update={"household": household})
    assert "The scenario names no targets" in shortfall_page(none, plan, (), Look(80))


def test_answers_are_plain_json(places: Places, room: Room) -> None:
    answers = [
        question_answers.places_answer(places),
        question_answers.room_answer([room], KALE, TODAY),
        question_answers.room_answer([], KALE, TODAY, scenario_matches=False),
        question_answers.clash_answer(Impossible((WISH,), ((WISH, GROUND),))),
        question_answers.clash_answer(None),
        question_answers.shortfall_answer(shortfalls()),
    ]
    read = [json.loads(json.dumps(answer, allow_nan=False)) for answer in answers]
    assert all(answer["schema_version"] == 1 for answer in read)
    assert tuple(Place.model_validate(place) for place in read[0]["places"]) == places.places
    assert [move["change"] for move in read[1]["room"]["moves"]] == ["moved", "cut back", "given up"]
    barred = read[0]["refusals"][0]["hindrances"][5]
    assert list(barred) == ["claim", "sentence", "strips", "until", "other"]
    assert barred["claim"] == {"rule": "rest", "about": ["Brassicaceae", "frame", "2", "family"]}
    assert barred["sentence"] == "kale stood here in 2026; Brassicaceae may return in 2029"
    assert (barred["strips"], barred["until"], barred["other"]) == ([1, 2], "2028-12-31", None)
    assert read[2]["room"] is None
    assert read[3]["ways_out"][0][1]["rule"] == "free-ground"
    assert read[4] == {"schema_version": 1, "clashes": False, "clash": [], "ways_out": []}
    assert read[5]["shortfalls"][1]["missing_kg"] == 1


def test_notes_say_that_quick_kinds_are_counted(places: Places) -> None:
    crop = places.question.crop
    assert say_notes(places.model_copy(update={"loose_pins": (), "quick_days": 55})) == [
        f"quick kinds of {crop} are counted (55 days): usual ones give less here, or do not ripen"
    ]
    assert say_notes(places.model_copy(update={"loose_pins": ()})) == []
