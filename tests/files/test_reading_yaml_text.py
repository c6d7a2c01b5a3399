from __future__ import annotations

import contextlib
from collections.abc import Sequence

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.fault import Fault
from rotasolve.errors import InputFault
from rotasolve.files import yaml_text
from rotasolve.files.document import MOST_FAULTS, TextPlace
from rotasolve.files.yaml_text import read_yaml


def refused(text: str) -> list[str]:
    with pytest.raises(InputFault) as refusal:
        read_yaml(text, "f")
    return [str(fault) for fault in refusal.value.faults]


def places(text: str) -> list[tuple[int, int]]:
    with pytest.raises(InputFault) as refusal:
        read_yaml(text, "f")
    return [(fault.line, fault.column) for fault in refusal.value.faults]


@pytest.mark.parametrize(
    ("word", "value"),
    [
        ("No", "No"),
        ("yes", "yes"),
        ("on", "on"),
        ("y", "y"),
        ("true", True),
        ("True", True),
        ("TRUE", True),
        ("false", False),
        ("12:30", "12:30"),
        ("0123", "0123"),
        ("0x1f", "0x1f"),
        ("0o17", "0o17"),
        ("1_000", "1_000"),
        ("007.5", "007.5"),
        ("0", 0),
        ("-5", -5),
        ("+5", 5),
        ("52.5", 52.5),
        (".5", 0.5),
        ("1e3", 1000.0),
        ("1.2 m", "1.2 m"),
        ("2027-05-01", "2027-05-01"),
        ("~", None),
        ("null", None),
        ("", None),
        ("'3'", "3"),
        ('"true"', "true"),
        ("'~'", "~"),
        ("=", "="),
        ("\u0663", "\u0663"),
    ],
)
def test_words_follow_yaml_1_2_core(word: str, value: object) -> None:
    found = read_yaml(f"a: {word}", "f").at(("a",))
    assert (type(found), found) == (type(value), value)


def test_keys_and_values_know_their_places_in_characters() -> None:
    document = read_yaml("# é\nbeds:\n  - name: Müßig\n    size: 3\n  - {née: 'x', b: 2}\n", "f")
    assert document.keys[("beds", 0, "size")] == TextPlace(4, 5)
    assert document.values[("beds", 0, "name")] == TextPlace(3, 11)
    assert document.values[("beds", 1)] == TextPlace(5, 5)
    assert document.keys[("beds", 1, "b")] == TextPlace(5, 16)
    assert document.values[("beds", 1, "b")] == TextPlace(5, 19)


def test_byte_order_mark_and_windows_line_ends_shift_nothing() -> None:
    document = read_yaml("\ufeffa: 1\r\nb: 2\r\n", "f")
    assert document.values[("b",)] == TextPlace(2, 4)
    assert document.lines == ("a: 1", "b: 2", "")


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("a:\n\tb: 1", (2, 1), "a tab is used to indent - use spaces"),
        ("name: Bed 1: herbs", (1, 12), "this text holds a colon - put the whole text in quotes"),
        ("a: 1\n b: 2", (2, 2), "this line does not fit the line above it"),
        ("a:\n  b: 1\n c: 2", (3, 2), "this line does not fit the lines above it"),
        ("a:\n  - x\n - y", (3, 2), "this line does not fit the lines above it"),
        ("a: [1, 2\nb: 3", (1, 4), "a list opened with ["),
        ("a: {b: 1", (1, 4), "a group opened with {"),
        ("a: 'x", (1, 4), "a quote is opened here and not closed"),
        ("a: 'b' c", (1, 8), "text goes on after the closing quote"),
        ('a: "\\q"', (1, 5), "a backslash in double quotes"),
        ("a: @x", (1, 4), "text cannot begin with @"),
        ("a: *x", (1, 4), "text cannot begin with *"),
        ("a: &x 3", (1, 4), "text cannot begin with &"),
        ("a: &", (1, 4), "text cannot begin with &"),
        ("a: !!python/object:os.system x", (1, 4), "text cannot begin with !"),
        ("a: ! x", (1, 4), "text cannot begin with !"),
        ("&a b: 1", (1, 1), "text cannot begin with &"),
        ("a: - b", (1, 4), "a list entry cannot begin here"),
        ("%YAML 1.1\n---\na: 1", (1, 1), "a line cannot begin with %"),
        ("%TAG ! tag:x,2000:\n---\na: 1", (1, 1), "a line cannot begin with %"),
        ("%FOO\n---\na: 1", (1, 1), "a line cannot begin with %"),
        ("a: 1\n---\nb: 2", (2, 1), "a second document begins here"),
        ("<<: {a: 1}", (1, 1), "'<<' to copy fields is not read here"),
        ("1: a", (1, 1), "a field's name must be text, not '1'"),
        ("true: a", (1, 1), "a field's name must be text, not 'true'"),
        ("? [a, b]\n: c", (1, 3), "a field's name must be text"),
        ("a: .nan", (1, 4), "an infinite or undefined number"),
        ("a: -.inf", (1, 4), "an infinite or undefined number"),
        ("a: 1e999", (1, 4), "far too large"),
        ("a: 12345678901234567890", (1, 4), "far too large"),
        ("a: b\x00c", (1, 5), "an invisible sign (U+0000)"),
        ("a: b\n\u2028", (2, 1), "an invisible sign (U+2028)"),
        ('a: "\\e[2J"', (1, 4), "an invisible control character"),
        ("", (1, 1), "the file is empty"),
        ("# only this\n", (1, 1), "the file is empty"),
        ("---\n", (1, 1), "the file is empty"),
    ],
)
def test_trap_is_refused_at_its_place(text: str, place: tuple[int, int], words: str) -> None:
    assert places(text) == [place]
    assert words in refused(text)[0]


def test_structural_faults_come_all_at_once() -> None:
    assert refused("a: 1\nb: 2\na: 3\nc: &x 1\nb: *x\n2: y\n") == [
        "f:3:1: 'a' is written twice, first in line 1 - keep one of the two",
        "f:4:4: text cannot begin with & - put the text in quotes, or remove the mark",
        "f:5:1: 'b' is written twice, first in line 2 - keep one of the two",
        "f:5:4: text cannot begin with * - put the text in quotes, or write the values out",
        "f:6:1: a field's name must be text, not '2' - put it in quotes",
    ]


def test_depth_and_size_are_bounded() -> None:
    assert read_yaml("[" * 30 + "]" * 30, "f").data
    assert places("[" * 31 + "]" * 31) == [(1, 31)]
    assert places("[" * 100_000)[0][0] == 1
    assert "larger than 2 MB" in refused("a: " + "x" * 2_000_000)[0]
    assert len(places("a: 1\n" * 5000)) == MOST_FAULTS


def test_alias_bomb_never_grows() -> None:
    levels = "".join(f"l{n}: &l{n} [{', '.join([f'*l{n - 1}'] * 9)}]\n" for n in range(1, 9))
    assert (1, 5) in places("l0: &l0 [x]\n" + levels)


WILD = st.text(st.sampled_from("ab:-[]{}&*!%@`'\"#|>?,<~. \n\t\\0123e\u00e9\u2028\x00"), max_size=60)


@given(st.one_of(st.text(max_size=200), WILD))
def test_any_text_is_read_or_refused(text: str) -> None:
    found: Sequence[Fault] = ()
    try:
        read_yaml(text, "f")
    except InputFault as refusal:
        found = refusal.faults or [Fault("f", 0, 0, "a refusal without a fault", source_line="x" * 99)]
    assert all(len(fault.source_line) <= 76 for fault in found)


@given(WILD)
def test_both_parsers_keep_to_input_faults(text: str) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(yaml_text, "_LOADER", yaml.SafeLoader)
        try:
            slow = read_yaml(text, "f").data
        except InputFault:
            return
    with contextlib.suppress(InputFault):
        assert read_yaml(text, "f").data == slow
