"""A small writer of SVG 1.1: elements, text that fits, and whole drawings.

Every text and every attribute is escaped here and nowhere else, so a name in a scenario can hold any sign. Numbers are
written with few decimals. Elements are plain ones (path, rect, text, g) that any viewer and printer knows.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from rotasolve.views.words.wording import clean

INK = "#1a1a1a"
"""Text and plants."""
PAPER = "#fff"
"""The ground of every drawing, and the plate under every label."""
FONT = "DejaVu Sans, Verdana, Arial, sans-serif"
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
    weight = {"font_weight": "bold"} if bold else {}
    return column(x, [(y + size + nth * step, line) for nth, line in enumerate(lines)], size, **weight), step * len(
        lines
    )


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


def column(x: float, lines: Iterable[tuple[float, str]], size: float, **attributes: str) -> Markup:
    """Return lines of text with one x, each with the whole y of its base line."""
    written = [element("text", text, y=round(y)) for y, text in lines]
    if not written:
        return NOTHING
    return element("g", *written, transform=f"translate({number(x)})", font_size=size, **attributes)


def box(x: float, y: float, width: float, height: float) -> str:
    """Return a rectangle as part of a path, so that many of them share one element."""
    return f"M{number(x)} {number(y)}h{number(width)}v{number(height)}h{number(-width)}z"


@dataclass(frozen=True)
class Drawing:
    """A drawing: what it is called, what it shows in words, its size in user units, its elements.

    ``definitions`` are the patterns its elements refer to (``family_marks.mark_definitions``).
    """

    title: str
    description: str
    width: float
    height: float
    body: Markup
    definitions: Markup = NOTHING

    def standalone(self) -> str:
        """Return a whole SVG file."""
        head = '<?xml version="1.0" encoding="UTF-8"?>\n'
        return head + self._written(True, "http://www.w3.org/2000/svg") + "\n"

    def inline(self, definitions: bool = False) -> str:
        """Return the element to be put into a page; without ``definitions`` the page must hold them once itself."""
        return self._written(definitions, None)

    def _written(self, definitions: bool, namespace: str | None) -> str:
        ground = element("rect", width=self.width, height=self.height, fill=PAPER)
        return element(
            "svg",
            element("title", self.title),
            element("desc", self.description),
            self.definitions if definitions else NOTHING,
            ground,
            self.body,
            xmlns=namespace,
            class_="drawing",
            role="img",
            viewBox=f"0 0 {number(self.width)} {number(self.height)}",
            width=self.width,
            height=self.height,
            font_family=FONT,
            fill=INK,
        )
