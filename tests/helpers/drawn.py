"""Drawings read back from their SVG text, by the rules of SVG alone: nothing here is shared with what writes them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_LINE = re.compile(r"M(-?[\d.]+) (-?[\d.]+)([hv])(-?[\d.]+)")
_BOX = re.compile(r"M(-?[\d.]+) (-?[\d.]+)h(-?[\d.]+)v(-?[\d.]+)h-?[\d.]+z")


@dataclass(frozen=True)
class Dots:
    """The dots of one path: places in its own units and in those of the page, and how broad a dot is on the page."""

    own: tuple[tuple[float, float], ...]
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


def dots_of(root: ElementTree.Element) -> list[Dots]:
    """Return the dots of each planting's path, in the order of the file."""
    found = []
    for panels in root.iter(f"{SVG}g"):
        if panels.get("class") != "plants":
            continue
        assert panels.get("stroke-linecap") == "round"
        for panel in panels:
            across, down, turn, scale = (float(number) for number in _NUMBER.findall(panel.get("transform", "")))
            for path in panel:
                own = tuple(_dots(path))
                page = tuple((across + turn * x, down + scale * y) for x, y in own)
                found.append(Dots(own, page, float(path.get("stroke-width", "1")) * scale))
    return found


def _dots(path: ElementTree.Element) -> Iterator[tuple[float, float]]:
    """Yield the dots: a dash of no length at the begin of each line and after every gap that fits into it."""
    dash, gap = (float(number) for number in path.get("stroke-dasharray", "").split())
    assert dash == 0
    whole = path.get("d", "")
    lines = _LINE.findall(whole)
    assert "".join(f"M{x} {y}{way}{length}" for x, y, way, length in lines) == whole
    for x, y, way, length in lines:
        for nth in range(math.floor(float(length) / gap) + 1):
            along = nth * gap
            yield (float(x) + along, float(y)) if way == "h" else (float(x), float(y) + along)


def boxes_of(root: ElementTree.Element, mark: str) -> list[tuple[float, float, float, float]]:
    """Return (left, top, right, bottom) of each rectangle filled with a mark."""
    found = []
    for path in root.iter(f"{SVG}path"):
        if path.get("fill") == f"url(#{mark})":
            for x, y, wide, high in _BOX.findall(path.get("d", "")):
                found.append((float(x), float(y), float(x) + float(wide), float(y) + float(high)))
    return found


def lines_of(root: ElementTree.Element) -> list[Line]:
    """Return all lines of text with what they inherit from their groups."""
    return list(_lines(root, 0.0, {}))


def _lines(element: ElementTree.Element, across: float, above: dict[str, str]) -> Iterator[Line]:
    here = {**above, **{key: value for key, value in element.attrib.items() if key not in ("x", "y", "transform")}}
    if element.tag == f"{SVG}text" and " " not in element.get("x", ""):
        yield Line(
            words=element.text or "",
            x=across + float(element.get("x", "0")),
            y=float(element.get("y", "0")),
            size=float(here["font-size"]),
            bold=here.get("font-weight") == "bold",
            anchor=here.get("text-anchor", "start"),
            fill=here["fill"],
        )
    moved = element.get("transform", "")
    if moved and "scale" not in moved:
        across += float(_NUMBER.findall(moved)[0])
    for child in element:
        yield from _lines(child, across, here)
