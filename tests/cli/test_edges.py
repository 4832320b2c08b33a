"""How a command ends: interrupted, cut off, with nobody to ask, with a disk that is full; as a sentence or as JSON."""

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
import typer

from inventory.cli import main
from inventory.cli.app import make_app
from inventory.cli.edge import run

from .conftest import Kitdrawer, Process

pytestmark = pytest.mark.usefixtures("store")

WRITING = [
    ["promise", "S41"],
    ["undo"],
    ["placed"],
    ["load", "counts.csv"],
    ["restore", "copy.kitdrawer"],
    ["promise", "New one", "--pattern", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank", "--by",
     "2026-12-20"],
]  # fmt: skip


@pytest.fixture
def bench(store: Path, kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a count, a backup, and a book in which S46 is promised and parts are due in."""
    monkeypatch.chdir(store.parent)
    Path("counts.csv").write_text("part,quantity\nDunlin kit gunmetal,2\n")
    assert kitdrawer("backup", "copy.kitdrawer").code == 0
    assert kitdrawer("promise", "S46", "--yes").code == 0
    return store


def book_of(kitdrawer: Kitdrawer) -> tuple[str, str]:
    """All a person can see of the book."""
    return kitdrawer("shelf", "--json").out, kitdrawer("orders", "--all", "--json").out


MORE = [*WRITING, ["release", "S46"], ["handed-over", "S46"]]


@pytest.mark.parametrize("words", MORE, ids=lambda words: " ".join(words)[:24])
def test_only_a_yes_books(
    kitdrawer: Kitdrawer, bench: Path, ask: Callable[[bool], list[str]], words: list[str]
) -> None:
    """Refused where nobody is there to say yes; a no is told that nothing happened; a yes is what --yes is to a script.

    A command asks once.
    """
    before, file = book_of(kitdrawer), bench.read_bytes()
    answer = kitdrawer(*words)
    assert answer.code == 1
    assert "there is no keyboard to ask" in " ".join(answer.err.split())
    assert bench.read_bytes() == file
    asked = ask(False)
    answer = kitdrawer(*words)
    assert (answer.code, len(asked)) == (0, 1)
    assert any(word in answer.out for word in ("Nothing was", "Not promised"))
    assert bench.read_bytes() == file
    asked = ask(True)
    assert kitdrawer(*words).code in (0, 3)
    assert len(asked) == 1
    assert book_of(kitdrawer) != before
    assert kitdrawer("verify").code == 0


def test_the_end_of_the_input_is_no_yes(
    kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Control-D at the question ends the command with 130; nothing is booked."""

    def end(*_: object, **__: object) -> bool:
        raise typer.Abort

    before = book_of(kitdrawer)
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", end)
    answer = kitdrawer("promise", "S41")
    assert store.exists()
    assert (answer.code, "nothing half-done" in answer.err) == (130, True)
    assert book_of(kitdrawer) == before


def test_questions_are_no_data(store: Path) -> None:
    """The question goes to standard error, so that standard output holds the answer alone."""
    controller, terminal = os.openpty()
    with subprocess.Popen(
        [sys.executable, "-m", "inventory.cli", "promise", "S41"],
        stdin=terminal,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        os.write(controller, b"n\n")
        out, err = process.communicate(timeout=60)
    os.close(controller)
    os.close(terminal)
    assert store.exists()
    assert "Promise it?" in err
    assert "Promise it?" not in out
    assert out.endswith("Not promised.\n")


def test_an_interruption_as_json(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """Programs are told in their own way."""

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("inventory.jobs.stock.shelf.shelf", stop)
    answer = kitdrawer("shelf", "--json")
    assert (answer.code, answer.json["error"]["kind"], answer.err) == (130, "interrupted", "")
    assert "nothing half-done" in kitdrawer("shelf").err


def test_control_c_while_the_program_is_read(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """No traceback either where there is no command to interrupt yet."""

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("inventory.cli.app.make_app", stop)
    with pytest.raises(SystemExit) as ended:
        main(["shelf"])
    assert ended.value.code == 130
    assert capsys.readouterr().err == ""


INTERRUPTIBLE = """
import signal
signal.signal(signal.SIGINT, signal.default_int_handler)
from inventory.cli import main
main()
"""
"""The command, whether or not whoever runs the tests ignores Control-C, as a shell's background jobs do."""


def test_control_c_in_a_load(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """A sentence instead of a traceback, 130, and the book is what it was."""
    path = tmp_path / "counts.csv"
    path.write_text(
        "part,quantity,lot\n" + "".join(f"CA thin,{n % 90 + 1},lot {n}\n" for n in range(200_000))
    )
    before = book_of(kitdrawer)
    with subprocess.Popen(
        [sys.executable, "-c", INTERRUPTIBLE, "load", str(path), "--yes"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        time.sleep(2.5)
        process.send_signal(signal.SIGINT)
        _, err = process.communicate(timeout=60)
    assert store.exists()
    assert (process.returncode, err) == (130, "\nInterrupted; nothing half-done.\n")
    assert book_of(kitdrawer) == before
    assert kitdrawer("verify").code == 0


@pytest.mark.parametrize("words", [["orders"], ["shelf", "--json"]], ids=" ".join)
def test_whoever_reads_may_stop_early(store: Path, words: list[str]) -> None:
    """A pipe closed before the answer comes ends a short and a long answer quietly."""
    done = unread(*words)
    assert store.exists()
    assert done.stderr == b""
    assert done.returncode in (0, 1)


def test_what_nobody_read_is_not_booked_and_said_so(kitdrawer: Kitdrawer, store: Path) -> None:
    """A writing command whose reader stops before its answer books nothing, and does not leave that open."""
    before = store.read_bytes()
    done = unread("promise", "S41", "--yes")
    assert done.returncode == 1
    assert done.stderr == b"Nothing was booked: the answer was not read to its end.\n"
    assert store.read_bytes() == before
    assert kitdrawer("promise", "S41", "--yes").code in (0, 3)


def unread(*words: str) -> subprocess.CompletedProcess[bytes]:
    """A command whose answer goes into a pipe that is closed before it comes."""
    reader, writer = os.pipe()
    os.close(reader)
    try:
        return subprocess.run(
            [sys.executable, "-m", "inventory.cli", *words],
            stdout=writer,
            stderr=subprocess.PIPE,
            check=False,
            timeout=60,
        )
    finally:
        os.close(writer)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full here")
@pytest.mark.parametrize("words", [["orders"], ["promise", "S41", "--yes"]], ids=" ".join)
def test_an_answer_that_cannot_be_written(store: Path, words: list[str]) -> None:
    """A full disk under the answer is a sentence, not a traceback."""
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "inventory.cli", *words],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            timeout=60,
        )
    assert store.exists()
    assert done.returncode == 1
    assert done.stderr.startswith("The answer cannot be written: No space left on device.")


def test_a_process_is_as_quiet_as_it_promises(interpreter: Process, store: Path) -> None:
    """Data on standard output, nothing on standard error, no colour where nobody watches."""
    answer = interpreter("shelf", "--low")
    assert store.exists()
    assert (answer.code, answer.err, "\x1b" in answer.out) == (0, "", False)
    assert "accelerator" in answer.out
    assert interpreter("trace", "wallnut blank").err.splitlines() == [
        "There is no part called “wallnut blank”.",
        "Did you mean “walnut blank” or “ash blank” or “walnut stopper block”?",
    ]


def test_a_refusal_as_a_process_is_json_and_exit_code(process: Process, store: Path) -> None:
    """Programs that call it see both."""
    answer = process("can-take", "--order", "S99", "--json")
    assert store.exists()
    assert (answer.code, answer.err) == (1, "")
    assert json.loads(answer.out)["error"] == {
        "kind": "unknown name",
        "message": "There is no order called “S99”.",
        "hint": json.loads(answer.out)["error"]["hint"],
        "where": [],
    }


def test_without_a_command_it_shows_what_there_is(kitdrawer: Kitdrawer) -> None:
    """Help, grouped by job; it counts as usage, not as success."""
    answer = kitdrawer()
    assert answer.code == 2
    assert "Take an order" in answer.out + answer.err


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["trace"], "part"),
        (["load"], "FILE-OR-FOLDER"),
        (["undo", "x"], "document"),
        (["trace", "CA thin", "--last", "-1"], "--last"),
        (["shopping", "--time-limit", "0"], "--time-limit"),
        (["shelf", "--flamily", "Dunlin"], "--family"),
        (["verify", "all"], "all"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
@pytest.mark.parametrize("as_json", [False, True], ids=["screen", "json"])
def test_usage(kitdrawer: Kitdrawer, words: list[str], sentence: str, as_json: bool) -> None:
    """A slip in the command line itself ends with 2 and says which word."""
    answer = kitdrawer(*words, *(["--json"] if as_json else []))
    assert answer.code == 2
    if as_json:
        assert answer.json["error"]["kind"] == "usage"
        assert answer.err == ""
    else:
        assert sentence in answer.err
        assert answer.out == ""


@pytest.mark.parametrize("day", ["yesterday", "2026-02-30", "03/04/2026"])
def test_a_day_nobody_can_read(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, day: str) -> None:
    """KITDRAWER_TODAY is read like any date."""
    monkeypatch.setenv("KITDRAWER_TODAY", day)
    answer = kitdrawer("can-take", "--order", "S41", "--json")
    assert (answer.code, answer.json["error"]["kind"]) == (1, "bad measure")


def test_today_is_today(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nobody says, the wall calendar counts."""
    from datetime import date

    from inventory.cli.session import today

    monkeypatch.delenv("KITDRAWER_TODAY")
    assert abs((today() - date.today()).days) <= 1  # noqa: DTZ011 - the maker's own wall calendar


@pytest.fixture
def no_input(monkeypatch: pytest.MonkeyPatch) -> None:
    """A program started without any standard input, as some schedulers do."""
    monkeypatch.setattr("sys.stdin", None)


@pytest.mark.usefixtures("no_input")
def test_without_any_input_nobody_says_yes(kitdrawer: Kitdrawer) -> None:
    """Refused like any script without --yes."""
    assert kitdrawer("promise", "S41").code == 1


def test_run_answers_zero_for_what_answers_nothing(store: Path) -> None:
    """A command that says nothing of its exit went well."""
    assert store.exists()
    assert run(make_app(["verify"]), ["verify"]) == 0
