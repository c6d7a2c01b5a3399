"""Drawings read back from their SVG text, by the rules of SVG and CSS alone; what writes them is not used.

What a drawing uses again stands in its definitions; here it is found wherever it is used, with what it inherits there.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_LINE = re.compile(r"M(-?[\d.]+) (-?[\d.]+)([hv])(-?[\d.]+)")
_RULE = re.compile(r"([^{}]+)\{([^}]*)\}")
_UNSEEN = ("defs", "symbol", "clipPath", "style", "title", "desc")
_OWN = ("id", "class", "transform", "x", "y", "width", "height", "d", "href")
"""What no element inherits."""

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


@dataclass(frozen=True)
class Shown:
    """An element where it is shown: its name, where its origin lies on the page, its own and inherited attributes.

    A field of a hatch is shown as ``symbol`` with the attributes of what uses it.
    """

    tag: str
    x: float
    y: float
    said: dict[str, str]
    words: str


@dataclass(frozen=True)
class Dots:
    """The dots of one planting: places on the page, and how broad a dot is there."""

    page: tuple[tuple[float, float], ...]
    pen: float


@dataclass(frozen=True)
class Line:
    """A line of text: its words, left end, base line, size, letters bold or not, and colour."""

    words: str
    x: float
    y: float
    size: float
    bold: bool
    anchor: str
    fill: str


def parsed(text: str) -> ElementTree.Element:
    """Return the root of a standalone drawing."""
    return ElementTree.fromstring(text.encode("utf-8"))


def shown_in(root: ElementTree.Element) -> Iterator[Shown]:
    """Yield all that is shown, in the order in which it is painted."""
    known = {element.get("id", ""): element for element in root.iter() if element.get("id")}
    yield from _shown(root, 0.0, 0.0, {}, known, _rules(root))


def _rules(root: ElementTree.Element) -> dict[str, dict[str, str]]:
    """Return what the style sheet says of each class; ``font`` gives the size alone."""
    rules: dict[str, dict[str, str]] = {}
    for selectors, body in _RULE.findall("".join(style.text or "" for style in root.iter(f"{SVG}style"))):
        said = dict(part.strip().split(": ", 1) for part in body.split(";") if part.strip())
        if "font" in said:
            said["font-size"] = said.pop("font").split(" ")[0]
        for selector in selectors.split(","):
            rules.setdefault(selector.strip().rpartition(".")[2], {}).update(said)
    return rules


def _shown(
    element: ElementTree.Element,
    x: float,
    y: float,
    above: dict[str, str],
    known: dict[str, ElementTree.Element],
    rules: dict[str, dict[str, str]],
) -> Iterator[Shown]:
    tag = element.tag.removeprefix(SVG)
    if tag in _UNSEEN:
        return
    inherited = {key: value for key, value in above.items() if key not in _OWN}
    # A style sheet counts for more than an attribute.
    said = {**inherited, **element.attrib, **rules.get(element.get("class", ""), {})}
    move = element.get("transform", "")
    if move:
        assert move.startswith("translate("), move
        right, down = ([float(number) for number in _NUMBER.findall(move)] + [0.0])[:2]
        x, y = x + right, y + down
    if tag == "use":
        x, y = x + float(element.get("x", "0")), y + float(element.get("y", "0"))
        used = known[element.get("href", "")[1:]]
        if used.tag == f"{SVG}symbol":
            yield Shown("symbol", x, y, said, "")
        else:
            yield from _shown(used, x, y, said, known, rules)
        return
    yield Shown(tag, x, y, said, element.text or "")
    for child in element:
        yield from _shown(child, x, y, said, known, rules)


def dots_of(root: ElementTree.Element) -> list[Dots]:
    """Return the dots of each planting, in the order of the drawing."""
    return [
        Dots(tuple(_dots(one)), float(one.said["stroke-width"]))
        for one in shown_in(root)
        if one.tag == "path" and one.said.get("stroke-dasharray", "").startswith("0 ")
    ]


def _dots(path: Shown) -> Iterator[tuple[float, float]]:
    """Yield the dots: a dash of no length at the begin of each line and after every gap that fits into it."""
    assert path.said["stroke-linecap"] == "round"
    _, gap = (float(number) for number in path.said["stroke-dasharray"].split())
    whole = path.said["d"]
    lines = _LINE.findall(whole)
    assert "".join(f"M{x} {y}{way}{length}" for x, y, way, length in lines) == whole
    for x, y, way, length in lines:
        for nth in range(math.floor(abs(float(length)) / gap) + 1):
            along = math.copysign(nth * gap, float(length))
            across, down = (along, 0.0) if way == "h" else (0.0, along)
            yield path.x + float(x) + across, path.y + float(y) + down


def grounds_of(root: ElementTree.Element, mark: str) -> list[Box]:
    """Return each field of a mark."""
    return [
        (one.x, one.y, one.x + float(one.said["width"]), one.y + float(one.said["height"]))
        for one in shown_in(root)
        if one.tag == "symbol" and one.said["href"] == f"#{mark}"
    ]


def edges_of(root: ElementTree.Element) -> list[Box]:
    """Return the outline of each part of a bed at each stage."""
    found = []
    for one in shown_in(root):
        if one.said.get("class") == "edge":
            x, y, wide, high, _ = (float(number) for number in _NUMBER.findall(one.said["d"]))
            found.append((one.x + x, one.y + y, one.x + x + wide, one.y + y + high))
    return found


def lines_of(root: ElementTree.Element) -> list[Line]:
    """Return all lines of text; letters that stand one by one (``letters_of``) are none."""
    return [
        Line(
            words=one.words,
            x=one.x + float(one.said.get("x", "0")),
            y=one.y + float(one.said.get("y", "0")),
            size=float(one.said["font-size"].removesuffix("px")),
            bold=one.said.get("font-weight") == "bold",
            anchor=one.said.get("text-anchor", "start"),
            fill=one.said["fill"],
        )
        for one in shown_in(root)
        if one.tag == "text" and " " not in one.said.get("x", "")
    ]


def numbers_of(root: ElementTree.Element) -> list[tuple[str, float, float]]:
    """Return the numbers on a bed's ground, each with its middle and its base line."""
    found = []
    for one in shown_in(root):
        if one.tag != "text" or one.said.get("stroke-width") != "7":
            continue
        across, down = one.said["x"].split(), one.said["y"].split()
        told = [one.words] if len(across) == 1 else list(one.words)
        found += [(n, one.x + float(x), one.y + float(y)) for n, x, y in zip(told, across, down, strict=True)]
    return found
