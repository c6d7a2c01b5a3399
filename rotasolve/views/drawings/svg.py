"""A small writer of SVG 1.1: elements, text that fits, and whole drawings.

Every text and every attribute is escaped here and nowhere else, so a name in a scenario can hold any sign. Numbers are
written with few decimals. How the drawings' classes look says ``drawing.css``, in files and in pages alike.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from html import escape
from importlib.resources import files
from typing import TYPE_CHECKING

from rotasolve.views.words.wording import clean

if TYPE_CHECKING:
    from collections.abc import Sequence

WIDTH = 680
"""The least width of a drawing in user units."""
TALL_LINES = 3000
"""The length of lines that are cut off by what lies below them or by the edge of the drawing."""
INK = "#1a1a1a"
"""Text and plants."""
PAPER = "#fff"
"""The ground of every drawing, and the plate under every label."""
_NO_XML = re.compile("[\ufffe\uffff]")
_LINE = 1.25
"""Line height as a share of the letters' size."""

# Letters by their width in DejaVu Sans Bold, the broadest of the fonts asked for, in tenths of their size, rounded up.
_BY_TENTHS = {
    4: " \u00a0',./:;IJ\\ijl|",
    5: "!()-[]frt",
    6: '"*?sz_`\u2013',
    7: "$0123456789EFLTacekovxy",
    8: "ABCKPRSVXYZbdghnpqu{}",
    9: "&DGHNOQU",
}
_TENTHS = {sign: tenths for tenths, signs in _BY_TENTHS.items() for sign in signs}
_ANY_LETTER = 12
_EDGE = 16
_PLAIN = 0.91
"""No letter of DejaVu Sans is wider than this share of the width given for its bold one."""


class Markup(str):
    """Text that is SVG already; any other text is escaped when it becomes part of an element."""

    __slots__ = ()

    def __add__(self, other: str) -> Markup:
        return Markup(str.__add__(self, other)) if isinstance(other, Markup) else NotImplemented


NOTHING = Markup("")


def element(name: str, *children: str, **attributes: str | float | None) -> Markup:
    """Return an element. An attribute's ``_`` stands for ``-``, one at its end is dropped; None leaves it out."""
    said = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_escaped(value) if isinstance(value, str) else number(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    inner = "".join(child if isinstance(child, Markup) else _escaped(child) for child in children)
    return Markup(f"<{name}{said}>{inner}</{name}>" if inner else f"<{name}{said}/>")


def join(parts: Iterable[Markup]) -> Markup:
    """Return elements one after the other."""
    return Markup("".join(parts))


def number(value: float, digits: int = 1) -> str:
    """Write a number with at most so many decimals: ``3``, ``0.5``."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _escaped(text: str) -> str:
    return escape(_NO_XML.sub("?", clean(text)), quote=True)


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Return at least the width of a text in the units of ``size``."""
    tenths = sum(_TENTHS.get(sign, _ANY_LETTER) for sign in clean(text) if not unicodedata.combining(sign))
    return tenths / 10 * size * (1.0 if bold else _PLAIN)


def wrapped(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Cut a text into lines no wider than ``width``; a word that is wider is cut."""
    lines, line = [], ""
    for word in clean(text).split(" "):
        longer = f"{line} {word}" if line else word
        if text_width(longer, size, bold) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while text_width(line, size, bold) > width and len(line) > 1:
            fits = next(n for n in range(len(line) - 1, 0, -1) if n == 1 or text_width(line[:n], size, bold) <= width)
            lines.append(line[:fits])
            line = line[fits:]
    return [*lines, line] if line or not lines else lines


def line_height(size: float) -> float:
    """Return the distance from one line of text to the next."""
    return size * _LINE


def label(
    x: float, y: float, text: str, size: float | None = None, bold: bool = False, anchor: str | None = None
) -> Markup:
    """Return one line of text whose base line begins, or has its middle or end (``anchor``), at a point.

    ``size`` None leaves it to the group that holds the line.
    """
    weight = "bold" if bold else None
    return element("text", text, x=x, y=y, font_size=size, font_weight=weight, text_anchor=anchor)


def paragraph(
    x: float, y: float, text: str, width: float, size: float = 15, bold: bool = False
) -> tuple[Markup, float]:
    """Return a text in lines no wider than ``width`` with its top at ``y``, and its height."""
    lines, step = wrapped(text, width, size, bold), line_height(size)
    written = [element("text", line, y=round(y + size + nth * step)) for nth, line in enumerate(lines)]
    moved, weight = f"translate({number(x)})", "bold" if bold else None
    return element("g", *written, transform=moved, font_size=size, font_weight=weight), step * len(lines)


def opening(
    edge: float, width: float, title: tuple[str, float], how: tuple[str, float], gap: float
) -> tuple[list[Markup], float]:
    """Return a bold title and how a drawing of a width is to be read, each with its size, and where they end."""
    parts, top = list[Markup](), float(edge)
    for (text, size), bold in ((title, True), (how, False)):
        written, height = paragraph(edge, top, text, width - 2 * edge, size, bold)
        parts.append(written)
        top += height + gap
    return parts, top


def badges(told: Iterable[tuple[float, float, str]], size: float = 13) -> Markup:
    """Return numbers in white on dark discs, the middle of each at its (x, y).

    A disc is a line as long as the text, or of no length, with a round pen.
    """
    lines, numbers = "", []
    for x, y, text in told:
        flat = max(text_width(text, size, bold=True) - size, 0)
        lines += f"M{number(x - flat / 2)} {number(y)}h{number(flat)}"
        numbers.append(label(x, y + size * 0.36, text))
    discs = element("path", d=lines, stroke=INK, stroke_width=1.65 * size, stroke_linecap="round")
    return discs + element("g", *numbers, font_size=size, font_weight="bold", text_anchor="middle", fill=PAPER)


def numbered(words: Iterable[tuple[str, str]], x: float, y: float, width: float) -> tuple[Markup, float]:
    """Return texts below one another, each beside a disc with its number if it has one, and their height."""
    parts, told, down = list[Markup](), [], y
    for nth, text in words:
        indent = 34 if nth else 0
        written, height = paragraph(x + indent, down, text, width - indent)
        parts.append(written)
        if nth:
            told.append((x + 13, down + 10, nth))
        down += max(height, 22) + 5
    return join([*parts, badges(told) if told else NOTHING]), down - y


def box(x: float, y: float, width: float, height: float) -> str:
    """Return a rectangle as part of a path, so that many of them share one element."""
    return f"M{number(x)} {number(y)}h{number(width)}v{number(height)}h{number(-width)}z"


def polygon(corners: Iterable[tuple[float, float]]) -> str:
    """Return a shape with some corners as part of a path."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in corners) + "z"


@cache
def drawing_style() -> str:
    """Return the style sheet of all drawings."""
    return files("rotasolve.views.drawings").joinpath("drawing.css").read_text(encoding="utf-8")


@dataclass(frozen=True)
class Drawing:
    """A drawing: what it is called, its size in user units, its elements, what it shows in words if nothing else says.

    ``definitions`` are what its elements refer to (``hatch_fields.SharedParts``).
    """

    title: str
    width: float
    height: float
    body: Markup
    description: str = ""
    definitions: Markup = NOTHING

    def standalone(self) -> str:
        """Return a whole SVG file."""
        drawn = element(
            "svg",
            element("title", self.title),
            element("desc", self.description),
            element("style", Markup(drawing_style())),
            self.definitions,
            element("rect", width=self.width, height=self.height, fill=PAPER),
            self.body,
            xmlns="http://www.w3.org/2000/svg",
            class_="drawing",
            role="img",
            viewBox=self._size,
            width=self.width,
            height=self.height,
        )
        return f'<?xml version="1.0" encoding="UTF-8"?>\n{drawn}\n'

    def inline(self) -> Markup:
        """Return the element to be put into a page that holds the style, and the definitions once for all drawings."""
        return element(
            "svg",
            element("desc", self.description) if self.description else NOTHING,
            self.body,
            class_="drawing",
            role="img",
            aria_label=self.title,
            viewBox=self._size,
            # A drawing that shrinks to fit on a page stays at the left, as the text above it.
            preserveAspectRatio="xMinYMin",
        )

    @property
    def _size(self) -> str:
        return f"0 0 {number(self.width)} {number(self.height)}"


def with_words(
    picture: Drawing, title: str, how: str, words: Sequence[tuple[str, str]], description: str, definitions: Markup
) -> Drawing:
    """Return a picture as a file has it: below a title and how it is to be read, above what it shows in words."""
    width = picture.width + 2 * _EDGE
    parts, top = opening(_EDGE, width, (title, 24), (how, 13.5), 6)
    foot = top + picture.height
    said, height = numbered(words, _EDGE, foot + 12, width - 2 * _EDGE)
    height = round(height + 12 + _EDGE)
    # Lines of months run on below a picture, and a drawing may be shown in a place that is taller than it is.
    ground = element("rect", y=foot, width=width, height=TALL_LINES, fill=PAPER)
    shown = element("g", picture.body, transform=f"translate({_EDGE} {number(top)})")
    return replace(
        picture,
        title=clean(title),
        width=width,
        height=round(foot + height),
        body=join([*parts, shown, ground, said]),
        description=description,
        definitions=definitions,
    )
