"""A page printed to PDF by an installed browser of the Chromium family, without a window and without the network."""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from rotasolve.errors import FileTrouble
from rotasolve.files.files import write_bytes
from rotasolve.files.refusals import refused

SECONDS = 120
"""How long a browser may take; a large report takes about ten seconds."""
_NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome-stable",
    "google-chrome",
    "chrome",
    "microsoft-edge-stable",
    "microsoft-edge",
    "msedge",
)
_ON_MACOS = (
    "Chromium.app/Contents/MacOS/Chromium",
    "Google Chrome.app/Contents/MacOS/Google Chrome",
    "Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)
_ON_WINDOWS = (
    r"Chromium\Application\chrome.exe",
    r"Google\Chrome\Application\chrome.exe",
    r"Microsoft\Edge\Application\msedge.exe",
)
_SWITCHES = (
    "--headless=new",
    "--disable-gpu",
    "--disable-extensions",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--no-default-browser-check",
    "--no-pdf-header-footer",
    "--generate-pdf-document-outline",
    # Whatever a page might ask the network for fails: no name resolves.
    "--host-resolver-rules=MAP * ~NOTFOUND",
)
_ADVICE = (
    "install Chromium, Chrome or Edge (Debian and Ubuntu: apt install chromium; Fedora: dnf install chromium; macOS: "
    "brew install --cask chromium; Windows has Edge), name one with --browser or ROTASOLVE_BROWSER, or write the "
    "report with -o and print it from any browser"
)


def find_browser(named: str | None = None) -> str:
    """Return the path of a browser of the Chromium family: the one named, or the first that is found.

    Raises
    ------
    FileTrouble
        If there is none; the message says how to come by one.
    """
    if named:
        found = shutil.which(named)
        if found is None:
            raise FileTrouble(f"{named}: there is no such program to print the PDF; {_ADVICE}")
        return found
    for candidate in _candidates():
        found = shutil.which(candidate)
        # A relative hit comes from the current folder (Windows looks there first, and PATH may hold a dot): what lies
        # beside a scenario from somebody else is not run.
        if found is not None and Path(found).is_absolute():
            return found
    raise FileTrouble(f"no browser was found to print the PDF; {_ADVICE}")


def _candidates() -> Iterator[str]:
    yield from _NAMES
    if sys.platform == "darwin":
        for folder in ("/Applications", str(Path.home() / "Applications")):
            yield from (f"{folder}/{name}" for name in _ON_MACOS)
    if sys.platform == "win32":
        for variable in ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"):
            if folder := os.environ.get(variable):
                yield from (f"{folder}\\{name}" for name in _ON_WINDOWS)


def print_page(browser: str, page: str, path: Path, *, overwrite: bool, seconds: float = SECONDS) -> None:
    """Print an HTML page to a PDF file, whole or not at all.

    The browser works in a folder of its own that is removed afterwards: it sees no profile of the user's.

    Raises
    ------
    FileTrouble
        If the browser cannot be started, takes longer than ``seconds`` or writes no PDF, or the file cannot be written.
    """
    with tempfile.TemporaryDirectory(prefix="rotasolve-", ignore_cleanup_errors=True) as name:
        folder = Path(name)
        source, printed = folder / "report.html", folder / "report.pdf"
        source.write_bytes(page.encode("utf-8"))
        command = [browser, *_SWITCHES, f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={printed}"]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            # Its sandbox refuses to run for the administrator, as in a container; the page is ours and has no script.
            command.append("--no-sandbox")
        said = _run([*command, source.as_uri()], seconds)
        content = printed.read_bytes() if printed.is_file() else b""
    if not content.startswith(b"%PDF-"):
        raise FileTrouble(f"{path}: {browser} wrote no PDF{said}; write the report with -o and print it from a browser")
    write_bytes(content, path, overwrite=overwrite)


def _run(command: list[str], seconds: float) -> str:
    """Run a browser to its end, or end it with all its helpers; return the last line it said, to be told."""
    with refused(command[0], "cannot be started to print the PDF"):
        process = subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            start_new_session=sys.platform != "win32",
        )
    with process:
        try:
            _, errors = process.communicate(timeout=seconds)
        except subprocess.TimeoutExpired:
            _end(process)
            raise FileTrouble(f"{command[0]}: did not print the PDF within {seconds:.0f} s and was ended") from None
        except BaseException:
            # Ctrl-C: the browser, which is in a session of its own, must not outlive us.
            _end(process)
            raise
    lines = errors.decode("utf-8", "replace").strip().splitlines()
    return f" (it said: {lines[-1][:200]})" if lines else ""


def _end(process: subprocess.Popen[bytes]) -> None:
    with contextlib.suppress(OSError):
        if sys.platform == "win32":
            process.kill()
        else:
            import signal

            os.killpg(process.pid, signal.SIGKILL)
