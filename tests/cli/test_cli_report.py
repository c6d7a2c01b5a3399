"""``rotasolve report``: files, stdout, refusals, browsers that are missing or fail."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

Run = Callable[..., Result]
Program = Callable[..., "subprocess.CompletedProcess[str]"]

FAKE = """\
#!/bin/sh
for word in "$@"; do
  case "$word" in
    --print-to-pdf=*) out="${word#--print-to-pdf=}" ;;
    file:*) page="${word#file://}" ;;
  esac
done
grep -q 'Ida&#39;s' "$page" || exit 1
printf '%%PDF-1.4 ' > "$out"
for word in "$@"; do printf '%s\\n' "$word" >> "$out"; done
"""


@pytest.fixture
def browser(tmp_path: Path) -> Path:
    """Return a stand-in for a browser that writes down how it was called."""
    file = tmp_path / "browser"
    file.write_text(FAKE, encoding="utf-8")
    file.chmod(0o755)
    return file


def test_a_page_is_written_and_said(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    page = tmp_path / "garden.html"
    done = run("report", tiny, plan_file, "-o", page)
    assert (done.exit_code, done.stdout) == (0, "")
    assert "".join(done.stderr.split()) == "".join(f"Written: {page}".split())
    assert "Ida&#39;s [bold]corner[/bold]" in page.read_text(encoding="utf-8")


def test_the_page_goes_to_stdout(program: Program, tiny: Path, plan_file: Path) -> None:
    tiny.write_text(tiny.read_text(encoding="utf-8").replace("Ida's", "Zoë's 白菜"), encoding="utf-8")
    # Whatever the terminal can show, a page is UTF-8, as it says itself.
    done = program("report", tiny, plan_file, "-o", "-", PYTHONUTF8="0", PYTHONIOENCODING="utf-8")
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("<!DOCTYPE html>\n<html lang=en>")
    assert "白菜" in done.stdout
    assert "the scenario is not the one the plan was made for" in " ".join(done.stdout.split())


def test_without_a_file_it_asks_for_one(run: Run, tiny: Path, plan_file: Path) -> None:
    done = run("report", tiny, plan_file)
    assert done.exit_code == 2
    assert "name the file with -o garden.html" in " ".join(done.stderr.split())


def test_a_file_that_is_there_stays_without_force(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    page = tmp_path / "garden.html"
    page.write_text("mine", encoding="utf-8")
    done = run("report", tiny, plan_file, "-o", page)
    assert done.exit_code == 2
    assert "--force replaces it" in " ".join(done.stderr.split())
    assert page.read_text(encoding="utf-8") == "mine"
    assert run("report", tiny, plan_file, "-o", page, "--force").exit_code == 0
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_json_says_what_was_written(run: Run, tiny: Path, plan_file: Path, tmp_path: Path, browser: Path) -> None:
    page, pdf = tmp_path / "garden.html", tmp_path / "garden.pdf"
    done = run("report", tiny, plan_file, "-o", page, "--pdf", pdf, "--paper", "letter", "--browser", browser, "--json")
    assert done.exit_code == 0, done.stderr
    assert json.loads(done.stdout) == {
        "schema_version": 1,
        "html": str(page),
        "pdf": str(pdf),
        "paper": "Letter",
        "years": [2027],
        "scenario_matches": True,
    }
    assert "size: Letter" in page.read_text(encoding="utf-8")


def test_the_browser_works_alone_and_asks_no_network(
    run: Run, tiny: Path, plan_file: Path, tmp_path: Path, browser: Path
) -> None:
    pdf = tmp_path / "garden.pdf"
    done = run("report", tiny, plan_file, "--pdf", pdf, ROTASOLVE_BROWSER=str(browser))
    assert done.exit_code == 0, done.stderr
    words = pdf.read_text(encoding="utf-8").split()
    assert "--host-resolver-rules=MAP" in words
    folder = Path(next(word for word in words if word.startswith("--user-data-dir=")).partition("=")[2]).parent
    assert not folder.exists()
    assert sorted(file.name for file in tmp_path.iterdir()) == ["browser", "garden.pdf", "tiny.plan.json", "tiny.yaml"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("#!/bin/sh\necho no screen >&2\nexit 3\n", "wrote no PDF (it said: no screen)"),
        ("not a program", "cannot be started to print the PDF"),
    ],
)
def test_a_browser_that_fails_leaves_nothing(
    run: Run, tiny: Path, plan_file: Path, tmp_path: Path, browser: Path, text: str, said: str
) -> None:
    browser.write_text(text, encoding="utf-8")
    pdf = tmp_path / "garden.pdf"
    done = run("report", tiny, plan_file, "--pdf", pdf, "--browser", browser)
    assert done.exit_code == 2
    assert said in " ".join(done.stderr.split())
    assert not pdf.exists()


def test_without_a_browser_it_says_how_to_come_by_one(
    run: Run, tiny: Path, plan_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("ROTASOLVE_BROWSER", raising=False)
    monkeypatch.setattr("rotasolve.printing._candidates", lambda: iter(("no-such-browser",)))
    done = run("report", tiny, plan_file, "-o", tmp_path / "x.html", "--pdf", tmp_path / "x.pdf")
    assert done.exit_code == 2
    said = " ".join(done.stderr.split())
    assert "no browser was found to print the PDF; install Chromium, Chrome or Edge" in said
    # Nothing is begun that cannot be finished.
    assert not (tmp_path / "x.html").exists()


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--paper", "A5", "-o", "-"], "'A5' is neither A4 nor Letter"),
        (["-o", "-", "--json"], "cannot both go to stdout"),
        (["-o", "x", "--pdf", "x"], "cannot be both the HTML and the PDF file"),
        (["-o", "-", "--year", "2031"], "the plan has no year 2031; it runs from 2027 to 2027"),
        (["--pdf", "x", "--browser", "no-such-program"], "no-such-program: there is no such program"),
        (["-o", "no/such/folder.html"], "there is no folder"),
    ],
)
def test_wrong_use_is_said(run: Run, tiny: Path, plan_file: Path, options: list[str], said: str) -> None:
    done = run("report", tiny, plan_file, *options)
    assert done.exit_code == 2
    assert said in " ".join(done.stderr.replace("│", " ").split())


def test_another_scenario_s_plan_is_refused(run: Run, plan_file: Path) -> None:
    done = run("report", "family-garden", plan_file, "-o", "-")
    assert done.exit_code == 2
    assert "there is no bed 'long bed' in this" in " ".join(done.stderr.split())


@pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")
def test_ctrl_c_ends_the_browser_and_leaves_nothing(
    environment: Callable[..., dict[str, str]], tiny: Path, plan_file: Path, tmp_path: Path, browser: Path
) -> None:
    browser.write_text('#!/bin/sh\necho "$$" > "$0.pid"\nexec sleep 60\n', encoding="utf-8")
    pdf, written = tmp_path / "garden.pdf", tmp_path / "browser.pid"
    with subprocess.Popen(
        [sys.executable, "-m", "rotasolve", "report", str(tiny), str(plan_file), "--pdf", str(pdf)],
        env=environment(ROTASOLVE_BROWSER=str(browser), TMPDIR=str(tmp_path)),
        stderr=subprocess.PIPE,
        # Tests that run in the background of a script would hand on that Ctrl-C is not heard.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    ) as process:
        while not (written.exists() and written.read_text(encoding="utf-8")):
            assert process.poll() is None
            time.sleep(0.05)
        process.send_signal(signal.SIGINT)
        process.communicate(timeout=60)
        assert process.returncode == 130
    with pytest.raises(ProcessLookupError):
        os.kill(int(written.read_text(encoding="utf-8")), 0)
    assert sorted(file.name for file in tmp_path.iterdir()) == ["browser", "browser.pid", "tiny.plan.json", "tiny.yaml"]
