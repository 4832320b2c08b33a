"""Many at once on one book: what each of them wants, drawn from a seed, over the commands as they are typed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from random import Random

from .shop import SALT, Shop
from .warm import Child, Said, Warm, heard

PENCIL = "tube 7 x 46 pencil"
"""Nothing but arrivals touches it, so that everybody's own memory gives its balance."""
WANTED = (
    "Dunlin pen, gunmetal, walnut blank",
    "Dunlin pen, chrome, walnut blank",
    "Avocet pen, chrome, olivewood blank",
)
"""What orders are of; of gunmetal kits there are few."""
SHARED = (
    "promise S43",
    "promise S44",
    "handed-over S41 --made-now",
    "release S42",
    "undo 4",
    "weekend book {sheets}/saturday",
    "count book {sheets}/kits.csv --as-counted",
    "load {sheets}/orders.csv",
    "arrived {sheets}/parcel",
    "placed",
)
"""What only one of them can have: one wins, the others are told."""


@dataclass(frozen=True)
class Asked:
    """One worker's commands, at least two."""

    worker: int
    calls: tuple[tuple[str, ...], ...]


def asked_of(worker: int, shop: Shop, folder: Path, commands: int, *, seed: int) -> Asked:
    """So many commands of one worker; the sheets they load are laid out in the folder."""
    dice, calls, own = Random(f"{seed} {worker}"), [], [f"W{worker}-0"]
    for number in range(commands):
        calls.append(_one(dice, f"W{worker}-{number}", own, shop, folder))
        own += [calls[-1][1]] if calls[-1][0] == "promise" else []
    return Asked(worker, tuple(calls))


def _one(dice: Random, name: str, own: list[str], shop: Shop, folder: Path) -> tuple[str, ...]:
    kind = dice.choices(
        ("promise", "own", "arrived", "load", "undo", "shared", "look"), (28, 14, 16, 8, 12, 18, 4)
    )[0]
    if kind == "promise":
        pattern, plating, blank = dice.choice(WANTED).split(", ")
        what = (
            "--pattern",
            pattern,
            "--plating",
            plating,
            "--blank",
            blank,
            "--count",
            str(dice.randint(1, 2)),
        )
        return ("promise", name, *what, "--by", "2027-03-01", "--yes")
    if kind == "own":
        return (dice.choice(("release", "handed-over")), dice.choice(own), "--yes")
    if kind == "arrived":
        # without a note of its own it may be taken for one booked twice
        more = ("--quantity", str(dice.randint(1, 9)), "--unasked", "--note", name)
        return ("arrived", PENCIL, "--supplier", SALT, *more, "--yes")
    if kind == "load":
        return ("load", str(_orders(folder, name)), "--yes")
    if kind == "undo":
        return ("undo", *dice.choice(((), (str(dice.randint(6, 60)),))), "--yes")
    if kind == "look":
        return (dice.choice(("verify", "orders")),)
    shared = [
        one
        for one in SHARED
        if "{" not in one or (shop.sheets / one.partition("/")[2].split(" ")[0]).exists()
    ]
    return (*(word.format(sheets=shop.sheets) for word in dice.choice(shared).split(" ")), "--yes")


def _orders(folder: Path, name: str) -> Path:
    (folder / name).mkdir()
    path = folder / name / "orders.csv"
    path.write_text(
        f"order,pattern,blank,count,due,platings\n{name},Dunlin pen,walnut blank,1,2027-02-01,chrome\n",
        encoding="utf-8",
    )
    return path


def together(warm: Warm, store: str, asked: list[Asked], folder: Path) -> list[list[Said]]:
    """All workers at once, each a process of its own; what each was told, command by command."""
    logs = [folder / f".heard-{one.worker}" for one in asked]
    children = [
        Child(one.calls, str(log), {"KITDRAWER_STORE": store}) for one, log in zip(asked, logs, strict=True)
    ]
    for one, ended in zip(asked, warm.run(*children), strict=True):
        assert ended.code == 0, f"worker {one.worker} ended with {ended.code}"
    return [heard(log) for log in logs]
