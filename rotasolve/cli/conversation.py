"""A conversation: questions one after another, with help, the way back, and answers that outlive a stop.

What is asked next hangs on nothing but what was told so far. So an answer can be taken back, and a conversation that
was left can be gone through again with the answers that are kept, by the same readers that a person's go through.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import typer

from rotasolve.cli.terminal import look_of_terminal, talk
from rotasolve.errors import RotasolveError

BACK, HELP, STOP = ("back", "<"), ("?", "help"), ("stop", "quit", "exit")
NOTHING = ("-", "none", "nothing", "no")
"""Answers that take a proposal away where nothing may be said."""
_WORDS_FOR_ALL = (
    "'back' goes back to the question before, 'stop' keeps your answers for later, Enter takes what stands in [ ]."
)


@dataclass(frozen=True)
class Step:
    """A question.

    ``read`` turns an answer into its value, or raises ValueError with what is wrong. ``proposal`` is what Enter means,
    and if it is ``assumed`` also nobody to ask: None if there must be an answer. ``example`` is what an example garden
    has. ``echo`` says what was understood.
    """

    key: str
    words: str
    read: Callable[[str], Any]
    help: str
    option: str
    proposal: str | None = None
    example: str | None = None
    echo: Callable[[Any], str] = lambda value: ""
    assumed: bool = True


class Partly(ValueError):
    """Some things of an answer are wrong: ``kept`` is the text of those that are not, ``wrong`` of those that are."""

    def __init__(self, kept: str, wrong: str, faults: tuple[str, ...]) -> None:
        self.kept, self.wrong, self.faults = kept, wrong, faults
        super().__init__("\n".join(faults))


class Stopped(Exception):
    """Somebody wants to go on later."""


class _Back(Exception):
    """Somebody wants the question before."""


Steps = Callable[[Mapping[str, Any]], Iterator[Step]]
"""All questions in order, given what was told; those behind the first one that is not told are not looked at."""


class Kept:
    """The answers so far in a file beside the one that is to be written."""

    def __init__(self, file: Path) -> None:
        self.file = file.with_name(f"{file.stem}.begun.json")

    def read(self) -> dict[str, str]:
        """Return the answers that were kept; none if there is no such file, or nothing to be read in it."""
        from rotasolve.files.files import read_text

        try:
            told = json.loads(read_text(self.file))["answers"]
            return {str(key): str(text) for key, text in told}
        except (RotasolveError, ValueError, KeyError, TypeError):
            return {}

    def write(self, said: Mapping[str, str]) -> None:
        """Keep answers."""
        from rotasolve.files.files import write_text

        text = json.dumps({"format": 1, "answers": list(said.items())}, ensure_ascii=False, indent=1)
        write_text(text + "\n", self.file, overwrite=True)

    def forget(self) -> None:
        """Take the file away: what it holds has been written."""
        self.file.unlink(missing_ok=True)


@dataclass
class Conversation:
    """Collects answers: those given beside it, those kept from before, and those of a person if there is one.

    ``asks`` says whether somebody can answer, ``examples`` that an example is taken where nobody did. After ``run``,
    ``troubles`` lists what is missing or wrong where nothing could be asked, and ``taken`` the options of the examples.
    """

    steps: Steps
    given: Mapping[str, str]
    kept: Kept | None = None
    asks: bool = False
    examples: bool = False
    troubles: list[str] = field(default_factory=list)
    taken: list[str] = field(default_factory=list)
    _said: dict[str, str] = field(default_factory=dict)
    _before: dict[str, str] = field(default_factory=dict)

    def run(self) -> dict[str, Any]:
        """Return what was told, by the keys of the questions.

        Raises
        ------
        Stopped
            If somebody wants to go on later; the answers are kept.
        typer.Abort
            At Ctrl-C or the end of input; the answers are kept.
        """
        told: dict[str, Any] = {}
        before = self.kept.read() if self.kept is not None and self.asks else {}
        if before:
            talk(f"Going on with the {len(before)} answers of last time; 'back' changes them.")
        while (step := next((one for one in self.steps(told) if one.key not in told), None)) is not None:
            try:
                told[step.key] = self._settled(step, before)
            except _Back:
                self._go_back(told)
        return told

    def _settled(self, step: Step, before: dict[str, str]) -> Any:
        """Return the value of a question; None, with a trouble noted, if it has none and nobody can be asked."""
        given = self.given.get(step.key)
        if given is not None:
            try:
                return step.read(given)
            except ValueError as refusal:
                faults = [f"{step.option}: {line}" for line in str(refusal).splitlines()]
            if not self.asks:
                self.troubles += faults
                return None
            talk("\n".join(faults))
        kept = before.pop(step.key, None)
        if kept is not None:
            try:
                value = step.read(kept)
            except ValueError:
                before.clear()  # something else has changed: what was told behind it may mean something else now
            else:
                self._said[step.key] = kept
                return value
        if self.asks:
            before.clear()
            return self._asked(step)
        text = step.proposal if step.assumed else None
        if self.examples and step.example is not None:
            text = step.example
        if text is None:
            self.troubles.append(f"{step.option} is missing: {step.words}")
            return None
        if text and text == step.example:
            self.taken.append(step.option.removeprefix("--").replace("-", " "))
        return step.read(text)

    def _asked(self, step: Step) -> Any:
        proposal = self._before.get(step.key, step.proposal)
        kept, words = "", step.words
        while True:
            said = self._prompt(words, "" if kept else proposal)
            if said.casefold() in HELP:
                _say(f"{_flowing(step.help)}\n{_WORDS_FOR_ALL}")
                continue
            empty = step.proposal == "" and said.casefold() in NOTHING
            text = "" if empty else said or ("" if kept else proposal or "")
            if not text and not kept and proposal is None:
                talk("  This one needs an answer; '?' explains it.")
                continue
            text = ", ".join(filter(None, (kept, text)))
            try:
                value = step.read(text)
            except Partly as partly:
                _say(str(partly))
                kept = partly.kept
                if kept:
                    words = f"The others are taken. Write only these again, Enter leaves them out: {partly.wrong}"
                continue
            except ValueError as refusal:
                _say(str(refusal))
                continue
            self._said[step.key] = text
            self._keep()
            _say(step.echo(value))
            return value

    def _prompt(self, words: str, proposal: str | None) -> str:
        """Return what somebody types, stripped."""
        shown = "\n".join(_wrapped(f"{words} [{proposal}]" if proposal else words, ""))
        said = str(typer.prompt(shown, default="", show_default=False, prompt_suffix="\n> ", err=True)).strip()
        if said.casefold() in BACK:
            raise _Back
        if said.casefold() in STOP:
            self._keep()
            raise Stopped
        return said

    def _go_back(self, told: dict[str, Any]) -> None:
        """Take the last answer back, and all that was settled since."""
        if not self._said:
            talk("  This is the first question.")
            return
        key = list(self._said)[-1]
        self._before[key] = self._said.pop(key)
        for later in list(told)[list(told).index(key) :]:
            del told[later]
        self._keep()

    def _keep(self) -> None:
        if self.kept is not None and self._said:
            self.kept.write(self._said)


def _say(text: str) -> None:
    for line in text.splitlines():
        talk("\n".join(_wrapped(line, "  ")))


def _flowing(text: str) -> str:
    """Return a help's paragraphs on a line each; its examples, which are indented, keep theirs."""
    lines: list[str] = []
    for line in text.splitlines():
        if lines and not line.startswith(" ") and not lines[-1].startswith(" "):
            lines[-1] += f" {line}"
        else:
            lines.append(line)
    return "\n".join(lines)


def _wrapped(text: str, indent: str) -> list[str]:
    """Return a line wrapped to the terminal, unless it is part of a table or an example, or wrapped already."""
    from rotasolve.views.words.layout import wrap

    if text.startswith(" ") or "  " in text.strip():
        return [f"{indent}{text}"]
    return wrap(text, look_of_terminal(sys.stderr).text_width, indent)
