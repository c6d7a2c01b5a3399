"""Lines in which growers tell of beds, wishes and past crops: sizes, directions, amounts, months, years."""

from __future__ import annotations

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.measures import parse_length
from rotasolve.files.crop_names import CropNames
from rotasolve.files.crops import load_catalogue
from rotasolve.files.told_beds import ToldBed, read_bed_line
from rotasolve.files.told_past import Grew, PastFaults, read_past_line
from rotasolve.files.told_wishes import read_wishes_line


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


DISEASES = ("clubroot", "white rot")


@pytest.mark.parametrize(
    ("text", "length_cm", "width_cm"),
    [
        ("6x1.2", 600, 120),
        ("6 x 1.2 m", 600, 120),
        ("6 m x 1.2 m", 600, 120),
        ("6m x 1.2m", 600, 120),
        ("1,2 x 6 m", 600, 120),
        ("20 by 4 ft", 609.6, 121.92),  # 1 ft = 30.48 cm: the agreement of 1959
        ("20' x 4'", 609.6, 121.92),
        ("4 ft 6 in by 12 ft", 365.76, 137.16),  # 4.5 x 30.48
        ("400 x 120 cm", 400, 120),
        ("3 metres by 75 cm", 300, 75),
        ("6 \u00d7 1.2", 600, 120),
    ],
)
def test_sizes_are_read_as_people_write_them(text: str, length_cm: float, width_cm: float) -> None:
    size = read_bed_line(text, ()).size
    assert size is not None
    assert [parse_length(side) for side in size] == pytest.approx([length_cm, width_cm])


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("gate bed: 6x1.2, e-w, low tunnel", ("gate bed", "east-west", "low tunnel", (), None, 1)),
        ("6x1.2 n-s", (None, "north-south", None, (), None, 1)),
        ("3 beds of 4 x 1.2 m", (None, None, None, (), None, 3)),
        ("west, 4 x 1.2 m, E - W, polytunnel, clubroot", ("west", "east-west", "tunnel", ("clubroot",), None, 1)),
        ("6x1.2 under a cold frame, 4 hours of sun", (None, None, "cold frame", (), 4.0, 1)),
        ("corner 4 x 1 m, open, White Rot", ("corner", None, "open ground", ("white rot",), None, 1)),
    ],
)
def test_all_of_a_bed_may_stand_in_one_line(text: str, told: tuple[object, ...]) -> None:
    bed = read_bed_line(text, DISEASES)
    assert (bed.name, bed.runs, bed.cover, bed.diseases, bed.sun_hours, bed.many) == told


def test_a_known_bed_goes_before_the_word_for_a_cover() -> None:
    assert read_bed_line("tunnel: cold frame", (), ("tunnel",)) == ToldBed("tunnel", cover="cold frame")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("20 x 4", "has no unit"),
        ("gate bed: 6x1.2, low tunel", "did you mean 'low tunnel'"),
        ("6x1.2, n-s, e-w", "does not go with"),
        ("90 beds of 4 x 1 m", "too many"),
    ],
)
def test_what_is_not_clear_is_asked_for(text: str, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        read_bed_line(text, DISEASES)


def test_wishes_in_all_units_with_months(catalogue: Catalogue) -> None:
    text = (
        "potato 40 kg, carrot, a little kale October to March, 10 lb onion; leek 30 plants, pea 1,5 kg, beetroot 4 jars"
    )
    found = read_wishes_line(text, catalogue, CropNames(catalogue.crops), people=2)
    assert found.faults == ()
    assert [(wish.under, dict(wish.fields)) for wish in found.wishes] == [
        ("targets", {"crop": "potato", "kg": 40}),
        ("eats", {"crop": "carrot"}),
        ("eats", {"crop": "kale", "fresh_from": "October", "fresh_to": "March", "how_much": "little"}),
        ("targets", {"crop": "onion", "kg": 4.54}),  # 10 x 0.45359 kg
        ("targets", {"crop": "leek", "plants": 30}),
        ("targets", {"crop": "pea", "kg": 1.5}),
        ("targets", {"crop": "beetroot", "litres_of_jars": 4}),
    ]


def test_all_faults_of_wishes_come_together_and_the_rest_is_kept(catalogue: Catalogue) -> None:
    text = "carott 5 kg, leek 3 kg, brocoli, leek 2 kg, phacelia"
    found = read_wishes_line(text, catalogue, CropNames(catalogue.crops), people=2)
    assert found.words == ("leek 3 kg",)
    assert found.wrong == ("carott 5 kg", "brocoli", "leek 2 kg", "phacelia")
    for told, part in zip(found.faults, ("'carrot'", "'broccoli'", "given twice", "green manure"), strict=True):
        assert part in told


def test_without_people_a_wish_needs_an_amount(catalogue: Catalogue) -> None:
    names = CropNames(catalogue.crops)
    assert "has no amount" in read_wishes_line("carrot", catalogue, names, None).faults[0]
    assert read_wishes_line("carrot,5", catalogue, names, None).wishes[0].fields["kg"] == 5


def test_what_grew_is_told_by_year(catalogue: Catalogue) -> None:
    names = CropNames(catalogue.crops)
    assert read_past_line("2026 potato, kale; 2025: onion", names, 2026) == (
        Grew("potato", 2026),
        Grew("kale", 2026),
        Grew("onion", 2025),
    )
    assert read_past_line("pea and carrot", names, 2026) == (Grew("pea", 2026), Grew("carrot", 2026))
    assert read_past_line("nothing", names, 2026) == ()


def test_faults_of_the_past_come_together(catalogue: Catalogue) -> None:
    with pytest.raises(PastFaults) as told:
        read_past_line("2026 potatto, kale; 2031 leek; 2025 ???", CropNames(catalogue.crops), 2026)
    assert (told.value.kept, told.value.wrong) == ("2026 kale", "2026 potatto; 2031 leek; 2025 ???")
    assert len(told.value.faults) == 3
