"""A person at a pseudo-terminal: types a line wherever the program waits for one, and keeps what the screen showed."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

PROMPT = "\n> "
CTRL_C, CTRL_D = "\x03", "\x04"
LONGEST_SECONDS, _PATIENCE_SECONDS = 120.0, 5.0


class Shown(NamedTuple):
    """The exit status, and all that the screen showed, the lines typed included."""

    status: int
    screen: str


def converse(arguments: Iterable[object], said: Iterable[str], folder: Path, environment: Mapping[str, str]) -> Shown:
    """Run the program in a folder at a terminal of its own, and type a line at each prompt.

    A line that is ``CTRL_C`` or ``CTRL_D`` is that key alone. Lines left over when the program ends are a fault of the
    test, and so is a program that waits for more than there is to say.
    """
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "rotasolve", *map(str, arguments)]
    process = subprocess.Popen(
        command,
        cwd=folder,
        env={**environment, "TERM": "xterm", "COLUMNS": "80"},
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        start_new_session=True,
        preexec_fn=_take_terminal,
    )
    os.close(theirs)
    lines, screen, seen, line, end = list(said), "", 0, "", time.monotonic() + LONGEST_SECONDS
    try:
        while (more := _read(ours, end, line)) is not None:
            screen += more.replace("\r\n", "\n")
            if screen.endswith(PROMPT) and len(screen) > seen:
                assert lines, f"the program waits for more:\n{screen}"
                line = lines.pop(0)
                seen = len(screen)
                os.write(ours, line.encode() if line in (CTRL_C, CTRL_D) else f"{line}\n".encode())
        status = process.wait(LONGEST_SECONDS)
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGKILL)
            process.wait()
        os.close(ours)
    assert not lines, f"never asked for {lines}:\n{screen}"
    return Shown(status, screen)


def _take_terminal() -> None:
    """Make the terminal that of the new session, so that Ctrl-C reaches it."""
    import fcntl
    import termios

    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


def _read(terminal: int, end: float, pressed: str) -> str | None:
    """Return what the screen shows next, None when the program has gone.

    A key that ends the program is pressed again, as people do, if it came in the moment before it is listened to.
    """
    while not select.select([terminal], [], [], _PATIENCE_SECONDS)[0]:
        if time.monotonic() > end:
            raise AssertionError("the program says nothing more and does not end")
        if pressed in (CTRL_C, CTRL_D):
            os.write(terminal, pressed.encode())
    try:
        return os.read(terminal, 65536).decode("utf-8", "replace") or None
    except OSError:  # Linux ends so when nobody holds the other side any more
        return None
