"""Every command runs inside ``guarded``: an error becomes one plain message and an exit status, no traceback."""

from __future__ import annotations

import contextlib
import functools
import os
import sys
from collections.abc import Callable
from typing import ParamSpec

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.terminal import talk
from rotasolve.domain.signs import clean
from rotasolve.errors import InputFault, InternalFault, RotasolveError

Arguments = ParamSpec("Arguments")

DEBUG_VARIABLE = "ROTASOLVE_DEBUG"


def debugging() -> bool:
    """Return whether tracebacks are wanted."""
    return bool(os.environ.get(DEBUG_VARIABLE))


def guarded(command: Callable[Arguments, int]) -> Callable[Arguments, None]:
    """Turn a command that returns its exit status into one that leaves with it, whatever happens inside."""

    @functools.wraps(command)
    def run(*args: Arguments.args, **options: Arguments.kwargs) -> None:
        raise typer.Exit(status_of(command, *args, **options))

    return run


def status_of(command: Callable[Arguments, int], *args: Arguments.args, **options: Arguments.kwargs) -> int:
    """Run a command and return its exit status, having told of whatever went wrong in it."""
    try:
        return command(*args, **options)
    except BrokenPipeError:
        _give_up_stdout()
        return exit_codes.READER_GONE
    except InputFault as refusal:
        from rotasolve.files.faults import say_faults

        _trace_if_debugging()
        talk(say_faults(refusal.faults))
        return exit_codes.COULD_NOT_RUN
    except InternalFault as fault:
        _trace_if_debugging()
        talk(f"This is a defect of rotasolve, not of your files: {fault}\n{_advice()}")
        return exit_codes.OUR_FAULT
    except RotasolveError as error:
        _trace_if_debugging()
        talk(f"Error: {clean(str(error))}")
        return exit_codes.COULD_NOT_RUN
    except typer.Abort:
        talk("\nLeft.")
        return exit_codes.LEFT
    except (typer.Exit, typer.BadParameter, KeyboardInterrupt):
        raise
    except Exception as error:
        _trace_if_debugging()
        if isinstance(error, OSError) and error.errno is not None:
            return _say_refused(error)
        talk(f"This is a defect of rotasolve: {type(error).__name__}: {clean(str(error))}\n{_advice()}")
        return exit_codes.OUR_FAULT


def _say_refused(error: OSError) -> int:
    """Say what the operating system refuses, wherever that happens: it is no defect of ours."""
    from rotasolve.files.refusals import say_refused

    if error.filename is None:  # an answer sent to a full disk, say
        _give_up_stdout()
    talk(f"Error: {'' if error.filename is None else f'{error.filename}: '}{say_refused(error)}")
    return exit_codes.COULD_NOT_RUN


def _give_up_stdout() -> None:
    # Python flushes stdout once more on its way out: that must not fail again.
    with contextlib.suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _trace_if_debugging() -> None:
    if debugging():
        import traceback

        talk(traceback.format_exc())


def _advice() -> str:
    if debugging():
        return "Please report it with the lines above and the scenario."
    return f"Please report it with the scenario; {DEBUG_VARIABLE}=1 before the command shows where it happened."
