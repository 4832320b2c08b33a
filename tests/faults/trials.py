"""One trial for every command that writes a book or a file, and what may be found when it was cut short."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from sqlalchemy import make_url

from inventory.cli.app import COMMANDS, make_app
from inventory.cli.edge import run

from .shop import ENGINES, SALT, Shop
from .warm import TODAY
from .worlds import NOTHING, STORE, World, picture, there, world

LOOKING = frozenset(
    (
        "admit",
        "can-take",
        "entries",
        "fits",
        "guide",
        "levels",
        "losses",
        "makeable",
        "shelf",
        "trace",
        "verify",
    )
)  # what is not here and has no trial fails a test
DOCUMENT = r"(?:as|\() ?(?:document|entry) (\d+)"
"""How a command tells that a document is booked."""


@dataclass(frozen=True)
class Trial:
    """A command with its words: `{sheets}`, `{out}` and `{other}` are filled in for each run.

    done: what it says once it is done; after: for an item of the world, the item that must be there before it (STORE
    changes first, say); empty: begins where no store is; damaged: the store is overwritten with letters before.
    before: commands that were booked already.
    """

    command: str
    words: str
    done: str = DOCUMENT
    after: tuple[tuple[str, str], ...] = ()
    engines: Sequence[str] = ENGINES
    empty: bool = False
    damaged: bool = False
    before: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What tells it from other trials of the same command."""
        said = self.words.replace("{sheets}/", "").replace("{out}/", "").replace("--yes", "").strip()
        how = (
            " (over letters)"
            if self.damaged
            else " (where nothing is)"
            if self.empty and self.command == "restore"
            else ""
        )
        return said.format(salt="SUPPLIER", other="DATABASE or FILE").replace("~", " ") + how

    def call(self, shop: Shop, folder: Path, other: str) -> tuple[str, ...]:
        """The words for one run. folder: where files go; other: another place for a book."""
        said = self.words.format(sheets=shop.sheets, out=folder, other=other, salt=SALT.replace(" ", "~"))
        return tuple(word.replace("~", " ") for word in said.split(" "))

    def told(self, out: str) -> bool:
        """Whether it said that it is done."""
        return re.search(self.done, " ".join(out.split())) is not None


TRIALS = (
    Trial("begin", "begin --rate USD=0.92", "A new book in EUR", empty=True),
    Trial("columns", "columns --save {out}/shop.xlsx", "Saved, empty"),
    Trial("load", "load {sheets}/orders.csv --yes"),
    Trial("load", "load {sheets}/counts.csv --yes --json", r'"document": (\d+)'),
    Trial("promise", "promise S43 --yes"),
    Trial("orders", "orders --within 30d --save {out}/orders.xlsx", "Saved:"),
    Trial("market", "market harbour~market 2026-12-12 --expected 20 --yes"),
    Trial("rehearse", "rehearse --futures 50 --save {out}/ahead.xlsx", "Saved:"),
    Trial("release", "release S42 --yes"),
    Trial("add", "add Godwit~kit~copper 2 --family Godwit --plating antique~copper --yes"),
    Trial(
        "sold",
        "sold Godwit 1 --price 38 --yes",
        before=("weekend book {sheets}/saturday --yes", "release S41 --yes"),
    ),
    Trial("spent", "spent stall~fee 45 --at harbour~market --yes"),
    Trial("days", "days --save {out}/market.xlsx", "Saved:"),
    Trial("days", "days {sheets}/market.csv --yes"),
    Trial("change", "change S41 --count 1 --by 2026-12-20 --yes"),
    Trial(
        "came-back",
        "came-back S41 --part felt~sleeve --yes",
        before=("handed-over S41 --count 1 --made-now --yes",),
    ),
    Trial("took", "took clip 1 --from Dunlin~kit~chrome --yes"),
    Trial("merge", "merge CA~thin CA~medium --yes"),
    Trial("retire", "retire gunmetal --yes"),
    Trial("made", "made Dunlin~pen --blank walnut --plating chrome --spoiled turn=1 --yes"),
    Trial("made", "made --order S41 --yes"),
    Trial("rename", "rename walnut~blank walnut~square --yes"),
    Trial("paid", "paid S42 50 --yes"),
    Trial("hours", "hours tue~2,~sat~5 --off 2026-12-08 --yes"),
    Trial("took", "took walnut~blank 1 --reason lent --yes"),
    Trial("found", "found walnut~blank 2 --yes"),
    Trial("handed-over", "handed-over S41 --lost turn=1 --yes"),
    Trial("handed-over", "handed-over S41 --count 1 --made-now --yes"),
    Trial("shopping", "shopping --save {out}/list.xlsx", "Saved:"),
    Trial("shopping", "shopping --save {out}/lists", "Saved:"),
    Trial("goal", "goal new~lathe 900 --by 2027-03-31 --yes"),
    Trial("cost", "cost S42 --save {out}/cost.xlsx", "Saved as"),
    Trial("earned", "earned --save {out}/earned.xlsx", "Saved as"),
    Trial("worth", "worth --save {out}/worth.xlsx", "Saved as"),
    Trial("history", "history --save {out}/history.xlsx", "Saved as"),
    Trial("labels", "labels --kind kits --save {out}/labels.html", "Saved:"),
    Trial("page", "page {out}/shop.html", "Saved:"),
    Trial("placed", "placed --yes"),
    Trial("placed", "placed {sheets}/list.xlsx --yes"),
    Trial("due-in", "due-in --save {out}/parcel.xlsx", "Saved:"),
    Trial("due-in", "due-in --save {out}/parcel", "Saved:"),
    Trial("arrived", "arrived {sheets}/parcel --postage 5.90 --yes"),
    Trial("arrived", "arrived --supplier {salt} --complete --yes"),
    Trial("plan", "plan --on 2026-12-05 --anew --stall Avocet~pen,~chrome,~olivewood~blank,~2 --yes"),
    Trial("weekend sheet", "weekend sheet --save {out}/saturday.xlsx", "Written:"),
    Trial("weekend sheet", "weekend sheet --save {out}/saturday", "Written:.*Written:.*to count"),
    Trial("weekend book", "weekend book {sheets}/saturday --yes"),
    Trial(
        "weekend book",
        "weekend book {sheets}/saturday --save {out}/sunday.xlsx --yes",
        DOCUMENT + ".*Written:",
        (("sunday.xlsx", STORE),),
    ),
    Trial("count sheet", "count sheet --few 12 --save {out}/count.xlsx", "Saved:"),
    Trial("count sheet", "count sheet --kind kits --save {out}/kits.csv", "Saved:"),
    Trial("count book", "count book {sheets}/kits.csv --as-counted --yes"),
    Trial("rates", "rates CA~medium --pin barrel~area=0.09 --yes"),
    Trial("undo", "undo --yes", r"Undone \(entry (\d+)\)"),
    Trial("backup", "backup {out}/copy", "Copied and checked"),
    Trial("backup", "backup {out}/copy --overwrite", "Copied and checked"),
    Trial(
        "restore",
        "restore {sheets}/earlier --yes",
        "Restored and checked",
        ((STORE, "book.kitdrawer.replaced-STAMP"),),
        ("sqlite",),
    ),
    Trial("restore", "restore {sheets}/earlier --yes", "Restored and checked", (), ("sqlite",), empty=True),
    Trial(
        "restore",
        "restore {sheets}/earlier --yes",
        "Restored and checked",
        ((STORE, "book.kitdrawer.replaced-STAMP"),),
        ("sqlite",),
        damaged=True,
    ),
    Trial("carry", "carry {other}", "Carried and checked"),
    Trial("carry", "carry {out}/carried.kitdrawer", "Carried and checked"),
)


@dataclass(frozen=True)
class Run:
    """One run of a command: its store, its folder, its words, and the other database it works on, if any."""

    store: str
    folder: Path
    words: tuple[str, ...]
    other: str = ""

    def world(self) -> World:
        """What there is now."""
        found = dict(world(self.store, self.folder))
        if self.other and there(self.other):
            found["the other book"] = picture(self.other)
        return found


def without_trial() -> set[str]:
    """Commands nobody said of whether they write, or how that is tried."""
    return set(COMMANDS) - LOOKING - {one.command for one in TRIALS}


def half_done(trial: Trial, before: World, found: World, after: World) -> list[str]:
    """What is neither as it was nor as it is to be, or came before what had to come first; empty where all is well."""
    wrong = [
        item
        for item in sorted({*before, *found, *after})
        if found.get(item, NOTHING) not in (before.get(item, NOTHING), after.get(item, NOTHING))
    ]
    for item, first in trial.after:
        changed = found.get(item, NOTHING) != before.get(item, NOTHING)
        if changed and found.get(first, NOTHING) != after.get(first, NOTHING):
            wrong.append(f"{item} before {first}")
    return wrong


def _booked(words: list[str], store: str) -> None:
    """A command that is over before the trial begins."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("KITDRAWER_TODAY", TODAY)
        patch.setenv("KITDRAWER_STORE", store)
        assert run(make_app(words), words) in (0, 3), words


@contextmanager
def begun(trial: Trial, shop: Shop, engine: str, folder: Path) -> Iterator[Run]:
    """A store and a folder as they are before the command, and its words."""
    with ExitStack() as stack:
        store = stack.enter_context(shop.copied(engine, folder, empty=trial.empty))
        other, named = "", str(folder / "other.kitdrawer")
        if engine == "postgresql" and "{other}" in trial.words:
            other = stack.enter_context(shop.copied(engine, folder, empty=True))
            named = make_url(other)._replace(password=None).render_as_string()
        if "--overwrite" in trial.words:
            shutil.copy(shop.sheets / "earlier", folder / "copy")
        if trial.damaged:
            Path(store).write_bytes(b"spilt coffee " * 500)
        for words in trial.before:
            _booked(words.format(sheets=shop.sheets).split(), store)
        yield Run(store, folder, trial.call(shop, folder, named), other)
