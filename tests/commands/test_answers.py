"""Every command that writes into the book answers people and programs alike: the same entry, the same exit code."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import typer

from inventory.cli.app import COMMANDS, make_app
from inventory.store import open_store

from .buying import SALT, edited
from .conftest import Kitdrawer
from .learned import weekend
from .test_counting import fill

COUNTS = "part,quantity\nDunlin kit gunmetal,2\n"


@dataclass(frozen=True)
class Case:
    """A command line without `--yes` and `--json`. before: commands that come first; code: how it ends.

    ordered: on the book in which S42 is promised and its parts are due in, not on the sample's; keeps: JSON names the
    entry under `document` too, as it did before there was `entry`; worked: on the book after a session.
    """

    words: tuple[str, ...]
    before: tuple[tuple[str, ...], ...] = ()
    code: int = 0
    ordered: bool = False
    keeps: bool = False
    worked: bool = False

    @property
    def name(self) -> str:
        """Its words without files' folders."""
        return " ".join(Path(word).name if "/" in word else word for word in self.words)


CASES = (
    Case(("load", "{counts}"), keeps=True),
    Case(("promise", "S41")),
    Case(("promise", "S42"), code=3),
    Case(("release", "S42"), ordered=True),
    Case(("handed-over", "S42"), ordered=True),
    Case(("placed", "--supplier", SALT)),
    Case(("arrived", "--supplier", SALT, "--complete"), ordered=True),
    Case(("plan", "S41", "--on", "2026-11-28"), (("promise", "S41"),)),
    Case(("plan", "S42", "--on", "2026-11-28"), (("promise", "S42"),), 3),
    Case(("plan", "--stall", "Sanderling pen, rhodium, stabilised maple red, 6"), code=3),
    Case(("weekend", "book", "{weekend}"), keeps=True),
    Case(("count", "book", "{counted}"), code=3, keeps=True),
    Case(("count", "book", "{counted}", "--as-counted"), keeps=True),
    Case(("rates", "CA medium", "--pin", "barrel area=0.09"), keeps=True),
    Case(("add", "Dunlin kit chrome", "3", "--paid", "4.10")),
    Case(("market", "harbour market", "2026-12-12", "--expected", "20")),
    Case(("took", "Dunlin kit chrome", "1", "--reason", "gave away")),
    Case(("found", "Dunlin kit chrome", "1")),
    Case(("sold", "avocet pen chrome", "1", "--price", "38"), worked=True),
    Case(("goal", "new lathe", "900", "--by", "2027-03-31")),
    Case(("spent", "stall fee", "45", "--at", "harbour market")),
    Case(("rename", "Dunlin kit chrome", "Dunlin set chrome")),
    Case(("made", "Dunlin pen", "--blank", "walnut", "--plating", "chrome")),
    Case(("days", "{days}")),
    Case(("change", "S42", "--count", "4"), code=3, before=(("promise", "S42"),)),
    Case(("came-back", "S41", "--part", "felt sleeve"), before=(("promise", "S41"), ("handed-over", "S41"))),
    Case(("took", "clip", "1", "--from", "Dunlin kit chrome")),
    Case(("merge", "CA thin", "CA medium")),
    Case(("retire", "Far Reach Fittings")),
    Case(("paid", "S41"), (("promise", "S41"),)),
    Case(("hours", "tue 2, sat 5")),
    Case(("undo",), ordered=True),
)


def entries(store: Path) -> int:
    """How many entries the book has."""
    with open_store(store) as found, found.reading() as read:
        return read.version


def ready(case: Case, kitdrawer: Kitdrawer, folder: Path) -> tuple[str, ...]:
    """The words of a case once what comes before it is done."""
    for words in case.before:
        assert kitdrawer(*words, "--yes").code in (0, 3)
    counts = folder / "counts.csv"
    counts.write_text(COUNTS, encoding="utf-8")
    days = folder / "market.csv"
    days.write_text("what,part,how many\nfound,walnut blank,2\n", encoding="utf-8")
    filled = str(weekend(kitdrawer, folder)) if "{weekend}" in case.words else ""
    counted = folder / "kits.csv"
    if "{counted}" in case.words:
        assert kitdrawer("count", "sheet", "--kind", "kits", "--save", str(counted)).code == 0
        fill(counted, {"Dunlin kit gunmetal": "1", "Avocet kit chrome": "4"})
    return tuple(
        word.format(counts=counts, weekend=filled, counted=counted, days=days) for word in case.words
    )


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_people_and_programs_are_answered_alike(
    kitdrawer: Kitdrawer, store: Path, once_ordered: Path, once_booked: Path, case: Case
) -> None:
    """JSON alone books nothing and says so; with --yes it names the entry, and ends as the screen does."""
    if case.ordered or case.worked:
        shutil.copy(once_ordered if case.ordered else once_booked, store)
    words, before = ready(case, kitdrawer, store.parent), entries(store)
    looked = kitdrawer(*words, "--json")
    assert (looked.code, looked.json["entry"], entries(store)) == (case.code, None, before)
    copy = store.with_suffix(".copy")
    shutil.copy(store, copy)
    told = kitdrawer(*words, "--json", "--yes", "--store", str(copy))
    shown = kitdrawer(*words, "--yes")
    assert (told.code, shown.code) == (case.code, case.code), shown.err
    assert entries(copy) == entries(store)
    assert told.json["entry"] == (entries(copy) if entries(copy) > before else None)
    if case.keeps:
        assert told.json["document"] == told.json["entry"]
    assert set(looked.json) == set(told.json)


def parser(name: str) -> Any:
    """What reads the command line of a command, which may have two words."""
    found: Any = typer.main.get_command(make_app(name.split()))
    for word in name.split():
        found = found.commands[word]
    return found


def test_every_command_that_books_is_in_the_table() -> None:
    """Whatever takes `--yes` books an entry, but for those that make a whole book or put one in another's place."""
    booking = {
        name for name in COMMANDS if "--yes" in {word for one in parser(name).params for word in one.opts}
    }
    tried = {" ".join(case.words[: len(name.split())]) for case in CASES for name in booking}
    assert booking - tried == {"begin", "restore"}


def test_a_no_has_the_same_code(kitdrawer: Kitdrawer, store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is short is short whatever is answered."""
    assert store.exists()
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", lambda *_, **__: False)
    answer = kitdrawer("promise", "S42")
    assert (answer.code, answer.out.splitlines()[-1]) == (3, "Not promised.")


def test_several_parcels_of_one_sheet(kitdrawer: Kitdrawer, store: Path, once_ordered: Path) -> None:
    """Each is an entry of its own; the last one's number stands at the top too."""
    shutil.copy(once_ordered, store)
    assert kitdrawer("placed", "--yes").code == 0
    sheet = store.parent / "parcel.xlsx"
    assert kitdrawer("due-in", "--save", str(sheet)).code == 0
    senders = {row["supplier"] for row in kitdrawer("due-in", "--json").json["due_in"]}
    for sender in senders:
        edited(sheet, {"D2": 1}, sender)
    told = kitdrawer("arrived", str(sheet), "--yes", "--json").json
    numbers = [one["entry"] for one in told["parcels"]]
    last = entries(store)
    assert numbers == list(range(last - len(senders) + 1, last + 1))
    assert (told["entry"], len(senders) > 1) == (last, True)
