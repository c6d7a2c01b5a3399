"""The YAML parser's complaints in a grower's words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.files.document import TextPlace

if TYPE_CHECKING:
    from yaml import MarkedYAMLError

_QUOTE = 'put the whole text in quotes, such as name: "Bed 1: herbs"'
_INDENT = "begin lines that belong together in the same column, with spaces"

# Searched in this order; the first key found in the parser's text wins. The third part tells whether the opening
# (the parser's context mark) or the place of the complaint is shown.
_WORDING: tuple[tuple[str, str, str, bool], ...] = (
    ("found a tab character", "a tab is used to indent", "use spaces instead of the tab", False),
    (
        "while scanning a quoted scalar",
        "a quote is opened here and not closed",
        "close it with the same quote, at the end of the text",
        True,
    ),
    (
        "while parsing a quoted scalar",
        "a backslash in double quotes begins a special character",
        "use single quotes, or write the backslash twice",
        False,
    ),
    ("while scanning an alias", "text cannot begin with *", "put the text in quotes", True),
    ("while scanning an anchor", "text cannot begin with &", "put the text in quotes", True),
    ("while scanning a directive", "a line cannot begin with %", "remove the line", True),
    ("while parsing a tag", "text cannot begin with !", "put the text in quotes", True),
    ("while scanning a tag", "text cannot begin with !", "put the text in quotes", True),
    (
        "while scanning a block scalar",
        "text after | or > cannot be read",
        "write the text in quotes on one line",
        True,
    ),
    (
        "while parsing a flow sequence",
        "a list opened with [ is not well formed",
        "separate entries by commas and close it with ]",
        True,
    ),
    (
        "while parsing a flow mapping",
        "a group opened with { is not well formed",
        "separate fields by commas and close it with }",
        True,
    ),
    ("could not find expected ':'", "this line has no colon", "write it as field: value", True),
    (
        "block sequence entries are not allowed",
        "a list entry cannot begin here",
        "begin '- ' on a line of its own",
        False,
    ),
    ("while parsing a block mapping", "this line does not fit the lines above it", _INDENT, False),
    (
        "while parsing a block collection",
        "this line does not fit the list above it",
        "begin each entry with '- ' in the same column",
        False,
    ),
    ("expected <document start>", "this line does not fit the lines above it", _INDENT, False),
    ("exceeded max", "values lie too deep inside one another", "check the brackets", False),
)


def reword(error: MarkedYAMLError, lines: tuple[str, ...]) -> tuple[TextPlace, str, str]:
    """Return (place, what is wrong, how to mend it) for a parser's complaint."""
    complaint = f"{error.context or ''} {error.problem or ''}"
    there = error.problem_mark or error.context_mark
    place = TextPlace(there.line + 1, there.column + 1) if there is not None else TextPlace(1, 1)
    line = lines[place.line - 1] if place.line <= len(lines) else ""
    sign = line[place.column - 1 : place.column]
    if "cannot start any token" in complaint:
        if sign == "\t" or "\t" in line[: place.column]:
            return (
                TextPlace(place.line, line.index("\t") + 1),
                "a tab is used to indent",
                "use spaces instead of the tab",
            )
        return place, f"text cannot begin with {sign or 'this sign'}", "put the text in quotes"
    if "mapping values are not allowed" in complaint:
        return _stray_colon(place, line)
    if "did not find expected key" in complaint and line[: place.column - 1].rstrip().endswith(('"', "'")):
        return place, "text goes on after the closing quote", "put the whole text in one pair of quotes"
    for key, what, mend, at_opening in _WORDING:
        if key in complaint:
            if at_opening and error.context_mark is not None:
                place = TextPlace(error.context_mark.line + 1, error.context_mark.column + 1)
            return place, what, mend
    return place, "this line cannot be read", "check indentation, colons and quotes here and just above"


def _stray_colon(place: TextPlace, line: str) -> tuple[TextPlace, str, str]:
    """Tell a colon inside a text from a line that does not belong where it stands."""
    if ": " in line[: place.column - 1]:
        return place, "this text holds a colon", _QUOTE
    first = len(line) - len(line.lstrip()) + 1
    return (
        TextPlace(place.line, first),
        "this line does not fit the line above it",
        f"{_INDENT}, and end a heading with :",
    )
