from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

import pytest
from pydantic import BeforeValidator, TypeAdapter, ValidationError

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.fault import Fault
from rotasolve.errors import InputFault, Unusable
from rotasolve.files.faults import say_faults
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.files.wording import say_error

Faults = Callable[[str], list[str]]


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("years: 3", "years: 3m", "g.yaml:10:8: 'years' must be a whole number, not '3m' - write the number only: 3"),
        ("years: 3", "years: 03", "g.yaml:10:8: 'years' must be a whole number, not '03' - write 3"),
        ("years: 3", "years: '3'", "g.yaml:10:8: 'years' must be a whole number, not '3' - write 3 without quotes"),
        ("years: 3", "years: 3.0", "g.yaml:10:8: 'years' must be a whole number, not '3.0' - write 3"),
        (
            "years: 3",
            "years: three",
            "g.yaml:10:8: 'years' must be a whole number, not 'three' - write a whole number such as 3",
        ),
        ("years: 3", "years: 11", "g.yaml:10:8: 'years' must be at most 10, not 11"),
        ("years: 3", "years:", "g.yaml:10:1: 'years' has no value - write one, or remove the line"),
        ("kg: 20", "kg: 12 kg", "g.yaml:21:11: 'kg' must be a number, not '12 kg' - write the number only: 12"),
        ("kg: 20", "kg: 2,5", "g.yaml:21:11: 'kg' must be a number, not '2,5' - write 2.5"),
        ("kg: 20", "kg: 1 000", "g.yaml:21:11: 'kg' must be a number, not '1 000' - write 1000"),
        ("kg: 20", "kg: 0123", "g.yaml:21:11: 'kg' must be a number, not '0123' - write 123"),
        ("kg: 20", "kg: true", "g.yaml:21:11: 'kg' must be a number, not 'true' - write a number such as 3 or 0.5"),
        ("kg: 20", "kg: 0", "g.yaml:21:11: 'kg' must be more than 0.0, not 0"),
        ("name: Bed 1", "name: 12", "g.yaml:12:11: 'name' must be text, not 12 - put it in quotes: \"12\""),
        (
            "length: 4 m",
            "length: 4",
            "g.yaml:13:13: 'length': a length needs a unit, and 4 has none - "
            "write a number with its unit, such as 30 cm, 1.2 m, 6 in or 4 ft",
        ),
        (
            "length: 4 m",
            "length: 1000000000 m",
            "g.yaml:13:13: 'length': a bed's length or width must lie between 20 cm and 100 m, not 1000000000 m",
        ),
        ("lenght: 4 m", "", ""),
        ("length: 4 m", "lenght: 4 m", "g.yaml:13:5: 'lenght' is not a field known here - did you mean 'length'?"),
        ("    length: 4 m\n", "", "g.yaml:12:5: entry 1 of 'beds' has no 'length' - add a line 'length: ...'"),
        ("    half: 5 May", "    {}", "g.yaml:5:3: 'last_frost' has no 'half' - add a line 'half: ...'"),
        ("title: Two beds\n", "", "g.yaml:1:1: the file has no 'title' - add a line 'title: ...'"),
        ("years: 3", "year: 3", "g.yaml:10:1: 'year' is not a field known here - did you mean 'years'?"),
        (
            "half: 5 May",
            "half: 31 June",
            "g.yaml:6:11: 'half': '31 June' is not a day that every year has - write it as 12 May",
        ),
        ("half: 5 May", "half: 5 Maybe", "g.yaml:6:11: 'half': '5 Maybe' is not a day that every year has"),
        ("format: 1", "format: 2", "g.yaml:1:9: this file is written in format 2; this rotasolve reads format 1"),
        ("kg: 20", "fresh_from: Jnue\n      kg: 20", "g.yaml:21:19: 'fresh_from': 'Jnue' is not a month"),
        ("kg: 20", "fresh_from: June\n      kg: 20", "g.yaml:20:7: entry 1 of 'targets': give both fresh_from and"),
        (
            "width: 1 m",
            "width: 1 m\n    cover: tunel",
            "g.yaml:18:12: 'cover' cannot be 'tunel' - did you mean 'tunnel'",
        ),
        ("width: 1 m", "width: 1 m\n    diseases: wilt", "g.yaml:18:15: 'diseases' must be a list, not 'wilt'"),
        ("years: 3", "years: 3\nrules: strict", "g.yaml:11:8: 'rules' must be a group of fields, not 'strict'"),
        ("years: 3", "rules: {height_order: no}", "g.yaml:10:23: 'height_order' cannot be 'no' - write one of: true, "),
        ("years: 3", "rules: {height_steps_cm: [90]}", "'height_steps_cm' needs more than 1 entries"),
        (
            "last_frost:\n    half: 5 May",
            "last_frost: 5 May",
            "g.yaml:5:15: 'last_frost' must be a group of fields, not '5 May' - "
            "write its fields indented on lines of their own, beginning with 'half: ...'",
        ),
        ("title: Two beds", "title: ''", "g.yaml:2:8: 'title' is empty - write at least one letter"),
    ],
)
def test_fault_says_place_what_and_mend(garden: str, faults: Faults, old: str, new: str, fault: str) -> None:
    found = faults(garden.replace(old, new, 1))
    if not fault:
        assert found == []
        return
    assert len(found) == 1
    assert fault in found[0]


def test_all_faults_come_at_once_in_file_order(garden: str, faults: Faults) -> None:
    text = garden.replace("latitude: 52.5", "latitude: 95").replace("kg: 20", "kg: many").replace("4 m", "4 miles")
    assert [fault.split(" ", 1)[0] for fault in faults(text)] == ["g.yaml:4:13:", "g.yaml:13:13:", "g.yaml:21:11:"]


@pytest.mark.parametrize("text", ["- a\n- b\n", "only text", "12"])
def test_file_without_fields_is_refused(text: str, faults: Faults) -> None:
    assert faults(text) == ["g.yaml:1:1: the file must hold fields - write each as field: value"]


def test_faults_are_shown_with_line_and_caret(garden: str, small: Catalogue) -> None:
    text = garden.replace("4 m", "4").replace("years: 3", "years: 3m")
    with pytest.raises(InputFault) as refusal:
        read_scenario_text(text, "g.yaml", small)
    assert say_faults(refusal.value.faults) == (
        "g.yaml:10:8: 'years' must be a whole number, not '3m' - write the number only: 3\n"
        "  years: 3m\n"
        "         ^\n"
        "g.yaml:13:13: 'length': a length needs a unit, and 4 has none - "
        "write a number with its unit, such as 30 cm, 1.2 m, 6 in or 4 ft\n"
        "      length: 4\n"
        "              ^\n"
        "2 faults; nothing was changed."
    )


def test_endless_line_is_cut_and_escape_codes_do_not_pass(garden: str, small: Catalogue) -> None:
    text = garden.replace("kg: 20", "kg: " + "x" * 50_000).replace("52.5", "\u202e52")
    with pytest.raises(InputFault) as refusal:
        read_scenario_text(text, "g.yaml", small)
    said = say_faults(refusal.value.faults)
    assert len(said) < 700
    assert "\u202e" not in said
    assert said.endswith("2 faults; nothing was changed.")


def test_a_place_far_along_a_line_is_shown_with_what_stands_about_it(garden: str, small: Catalogue) -> None:
    text = garden.replace(
        "  - name: Bed 1", f"  - {{name: Bed 0,{' ' * 90}size: 3, length: 4 m, width: 1 m}}\n  - name: Bed 1"
    )
    with pytest.raises(InputFault) as refusal:
        read_scenario_text(text, "g.yaml", small)
    shown = say_faults(refusal.value.faults).splitlines()
    assert shown[0].startswith("g.yaml:12:108: 'size' is not a field known here")
    assert shown[1].startswith("  ...   ")
    assert shown[1][shown[2].index("^") :] == "size: 3, length: 4 m, width: 1 m}"


def test_of_very_many_faults_the_number_is_told() -> None:
    said = say_faults([Fault("g.yaml", line, 1, "wrong") for line in range(1, 121)]).splitlines()
    assert said[99:] == ["g.yaml:100:1: wrong", "... and 20 more", "120 faults; nothing was changed."]


def test_wide_letters_move_the_caret(small: Catalogue, garden: str) -> None:
    text = garden.replace("  - name: Bed 1", "  - {name: 畑, size: 3, length: 4 m, width: 1 m}\n  - name: Bed 1")
    with pytest.raises(InputFault) as refusal:
        read_scenario_text(text, "g.yaml", small)
    shown = say_faults(refusal.value.faults).splitlines()
    assert shown[0].startswith("g.yaml:12:15: 'size' is not a field known here")
    # 14 letters stand before the field; the wide one takes two columns, and two more are the margin.
    assert shown[2] == " " * 17 + "^"


@pytest.mark.parametrize(
    ("refusal", "said"),
    [
        (Unusable("'a; b' is no bed", "write c; or d"), ("'bed': 'a; b' is no bed", "write c; or d")),
        (ValueError("'a; b' is no bed"), ("'bed': 'a; b' is no bed", "")),
    ],
)
def test_what_is_wrong_and_how_to_mend_it_are_never_cut_at_a_semicolon(
    refusal: ValueError, said: tuple[str, str]
) -> None:
    def refuse(value: object) -> object:
        raise refusal

    bed: TypeAdapter[object] = TypeAdapter(Annotated[object, BeforeValidator(refuse)])
    with pytest.raises(ValidationError) as caught:
        bed.validate_python("a; b")
    assert say_error(caught.value.errors()[0], ("bed",)) == said
