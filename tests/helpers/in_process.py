"""The program as somebody calls it, but in this process: its own entry, its own streams, its own exit status."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from types import MappingProxyType
from typing import Any, NamedTuple, TextIO

from rotasolve.cli.app import main

EMPTY: Mapping[str, str] = MappingProxyType({})


class Told(NamedTuple):
    """What a call gave: its exit status, both streams as text, and the bytes of the answer."""

    status: int
    stdout: str
    stderr: str
    answer: bytes


OURS: Any = object()
"""Stands for a stream whose text is returned."""


def call(
    *arguments: object, encoding: str = "utf-8", stdout: TextIO | None = OURS, environment: Mapping[str, str] = EMPTY
) -> Told:
    """Run the program with these arguments and, beside those that are there, environment variables.

    ``stdout`` is where answers go, None for a stream that was closed; its text is empty then.
    """
    streams = [io.TextIOWrapper(io.BytesIO(), encoding=encoding, write_through=True) for _ in range(2)]
    before = sys.argv, sys.stdin, sys.stdout, sys.stderr
    with _environment({"COLUMNS": "80", **environment}):
        sys.argv = ["rotasolve", *(str(argument) for argument in arguments)]
        sys.stdin, (sys.stdout, sys.stderr) = io.StringIO(), streams
        if stdout is not OURS:
            sys.stdout = stdout
        try:
            main()
        except SystemExit as left:
            status = left.code if isinstance(left.code, int) else -1
        finally:
            if stdout is None and sys.stdout is not None:
                sys.stdout.close()  # what the program opened in its place
            sys.argv, sys.stdin, sys.stdout, sys.stderr = before
    answer, talk = (bytes(stream.buffer.getvalue()) for stream in streams)
    out, err = (told.decode(encoding, "backslashreplace") for told in (answer, talk))
    return Told(status, out, err, answer)


@contextmanager
def _environment(wanted: Mapping[str, str]) -> Iterator[None]:
    before = dict(os.environ)
    os.environ.update(wanted)
    try:
        yield
    finally:
        os.environ.clear()
        os.environ.update(before)
