"""HTML pages: no script, nothing from the network, one style for screens and for paper.

The templates and the style are the files in ``files``. Text becomes part of a page in the templates only, where
every value is cleaned and escaped unless it is a drawing, which has escaped its own texts (``views/svg.py``).
"""

from __future__ import annotations

import hashlib
import re
from base64 import b64encode
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from rotasolve.views.drawings.svg import drawing_style
from rotasolve.views.words.wording import TIED, clean

if TYPE_CHECKING:
    from jinja2 import Environment

    from rotasolve.views.drawings.svg import Drawing
    from rotasolve.views.report.report_parts import Paper

_FILES = "files"
_QUOTED = re.compile(r'="([\w#.%()-]+)"(/>)?')
_LINES = re.compile(r"\s*\n\s*(?=\n|</?(?:d[dlt]|div|li|ol|p|svg|t[dhr]|table|tbody|thead|ul)\b)")
"""Ends of lines that no reader of the file needs: it stays one of short paragraphs."""
_SIZES: dict[Paper, tuple[str, str]] = {"A4": ("A4", "297mm"), "Letter": ("Letter", "279mm")}
"""The name of a paper in CSS, and its height."""


def html_page(template: str, paper: Paper = "A4", **values: object) -> str:
    """Return a page from a template that fills the frame all pages share.

    Parameters
    ----------
    template
        The name of a file in ``files``.
    paper
        The paper the page's print style is made for.
    values
        What the template asks for.
    """
    style = _style(paper)
    page = (
        _environment()
        .get_template(template)
        .render(
            style=markup(style),
            style_hash=b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii"),
            **values,
        )
    )
    return _short(page) + "\n"


def markup(text: str) -> Any:
    """Mark text as HTML already: our own style, and drawings."""
    from jinja2.filters import do_mark_safe

    return do_mark_safe(text)


def _style(paper: Paper) -> str:
    size, height = _SIZES[paper]
    text = files("rotasolve.views.report").joinpath(_FILES, "report.css").read_text(encoding="utf-8") + drawing_style()
    lines = (line.strip() for line in re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL).splitlines())
    text = "\n".join(line for line in lines if line)
    # The page's own style sheet names the paper in these two places, so that it stays a style sheet editors can read.
    return text.replace("size: A4", f"size: {size}").replace("--paper: 297mm", f"--paper: {height}")


def _drawn(drawing: Drawing) -> Any:
    return markup(drawing.inline())


def _finished(value: Any) -> Any:
    """Take out of a text what no page can show, before it is escaped; lines are broken by the page's style."""
    return clean(value).replace(TIED, " ") if type(value) is str else value


def _short(page: str) -> str:
    """Leave out quotes that HTML does not ask for, and empty lines: quotes in texts are escaped."""
    return _LINES.sub("", _QUOTED.sub(lambda found: f"={found[1]} />" if found[2] else f"={found[1]}", page))


@cache
def _environment() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("rotasolve.views.report", _FILES),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_finished,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.filters["drawn"] = _drawn
    return environment
