"""A small writer of SVG 1.1: elements, text that fits, and whole drawings.

Every text and every attribute is escaped here and nowhere else, so a name in a scenario can hold any sign. Numbers are
written with at most three decimals. Elements are plain ones (path, rect, text, g) that any viewer and printer knows.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from rotasolve.views.wording import clean

INK = "#1a1a1a"
"""Text and plants."""
PAPER = "#ffffff"
"""The ground of every drawing, and the plate under every label."""
FONT = "DejaVu Sans, Verdana, Arial, sans-serif"
_NO_XML = re.compile("[\ufffe\uffff]")
_LINE = 1.25
"""Line height as a share of the letters' size."""

# Widths of letters as shares of their size, rounded up from DejaVu Sans, which is wider than most (measured with
# fontTools): better a gap at the end of a line than a word that runs out of it.
_NARROW = frozenset("ijl.,:;'|!I()[] \u00a0ft-r/")
_BROAD = frozenset("mwMWOQGCDNHU%@&\u2013")


class Markup(str):
    """Text that is SVG already; any other text is escaped when it becomes part of an element."""

    __slots__ = ()


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


def number(value: float) -> str:
    """Write a number with at most three decimals: ``3``, ``0.5``."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _escaped(text: str) -> str:
    return escape(_NO_XML.sub("?", clean(text)), quote=True)


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Return at least the width of a text in the units of ``size``."""
    total = 0.0
    for sign in clean(text):
        if unicodedata.combining(sign):
            continue
        if sign in _NARROW:
            total += 0.42
        elif sign in _BROAD or ord(sign) > 0x24F or unicodedata.east_asian_width(sign) in "WF":
            total += 1.0
        else:
            total += 0.64 if sign.islower() or sign.isdigit() else 0.74
    return total * size * (1.12 if bold else 1.0)


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


def label(x: float, y: float, text: str, size: float = 15, bold: bool = False, anchor: str | None = None) -> Markup:
    """Return one line of text whose base line begins, or has its middle or end (``anchor``), at a point."""
    weight = "bold" if bold else None
    return element("text", text, x=x, y=y, font_size=size, font_weight=weight, text_anchor=anchor)


def paragraph(
    x: float, y: float, text: str, width: float, size: float = 15, bold: bool = False
) -> tuple[Markup, float]:
    """Return a text in lines no wider than ``width`` with its top at ``y``, and its height."""
    lines, step = wrapped(text, width, size, bold), line_height(size)
    return join(label(x, y + size + nth * step, line, size, bold) for nth, line in enumerate(lines)), len(lines) * step


def plate(x: float, y: float, width: float, height: float) -> Markup:
    """Return the white ground of a label, so that its letters stand off whatever lies below."""
    return element("rect", x=x, y=y, width=width, height=height, rx=3, fill=PAPER)


def badge(x: float, y: float, text: str, size: float = 13) -> Markup:
    """Return a number on a white disc with a rim, its middle at a point."""
    half = max(text_width(text, size, bold=True) / 2 + 3, size * 0.8)
    disc = element(
        "rect",
        x=x - half,
        y=y - size * 0.8,
        width=2 * half,
        height=size * 1.6,
        rx=size * 0.8,
        fill=PAPER,
        stroke=INK,
        stroke_width=1.2,
    )
    return disc + label(x, y + size * 0.36, text, size, bold=True, anchor="middle")  # type: ignore[return-value]


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
    definitions: Markup = Markup("")

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
            self.definitions if definitions else Markup(""),
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
