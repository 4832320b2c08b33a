"""Whether a book is what everybody was told: a plain tally of its lines, kept apart from the program's own."""

from __future__ import annotations

import json
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from .crowd import PENCIL
from .warm import Said
from .worlds import asking

FINE = (0, 3)
REFUSED = 1
TOLD = re.compile(r"(?:as|\() ?(?:document|entry) (\d+)")
_SENTENCE = re.compile(r"(?<=[.!?:])\s+")


@dataclass(frozen=True)
class Line:
    """A line of the book, by names."""

    document: int
    account: str
    part: str
    lot: int | None
    purchase: int | None
    order: str | None
    quantity: int


def lines(store: str) -> list[Line]:
    """Every line, oldest first."""
    query = (
        "SELECT m.document_id, m.account, p.name, m.lot_id, m.purchase_id, w.name, m.quantity FROM movement m "
        "JOIN part p ON p.id = m.part_id LEFT JOIN customer_order w ON w.id = m.order_id ORDER BY m.document_id, m.id"
    )
    with asking(store) as ask:
        return [Line(*row) for row in ask(query)]


def booked_by(heard: Iterable[Said]) -> dict[int, Said]:
    """The documents commands said they booked. Fails where two were told of the same one."""
    found: dict[int, Said] = {}
    for said in heard:
        for number in map(int, TOLD.findall(" ".join(said.out.split()))):
            assert number not in found, (
                f"document {number} was told twice: {found[number].words}, {said.words}"
            )
            found[number] = said
    return found


def faults(store: str, heard: list[list[Said]], opening: int) -> Iterator[str]:
    """What is not as the workers were told; opening: documents there were before."""
    told = booked_by(said for one in heard for said in one)
    with asking(store) as ask:
        there = {int(number): (reverses, kind) for number, reverses, kind in ask(_DOCUMENTS)}
        kept = {name: tuple(sums) for name, *sums in ask(_BALANCES)}
    for number in sorted(set(there) - set(range(1, opening + 1)) - set(told)):
        yield f"document {number} is there and nobody was told"
    for number in sorted(set(told) - set(there)):
        yield f"document {number} was told and is not there"
    book = lines(store)
    yield from _tallied(book, kept)
    yield from _undone(book, {number: reverses for number, (reverses, _) in there.items() if reverses})
    yield from _pencils(book, told, {n: r for n, (r, _) in there.items() if r}, opening)
    yield from _covered(book, told)
    for said in (said for one in heard for said in one):
        yield from untold(said)


_DOCUMENTS = "SELECT id, reverses, kind FROM document"
_BALANCES = (
    "SELECT p.name, b.on_hand, b.claimed, b.due_in, b.due_claimed, b.to_buy "
    "FROM part_balance b JOIN part p ON p.id = b.part_id"
)
_ACCOUNTS = ("shelf", "claim", "due", "due claim", "to buy")


def untold(said: Said) -> Iterator[str]:
    """What is wrong with how a command ended: a loser is told in a sentence, and what to do."""
    if "Traceback" in said.err + said.out or said.code not in (*FINE, REFUSED):
        yield f"{said.words} ended with {said.code}: {said.err[-300:]}"
    elif said.code == REFUSED:
        text = " ".join(said.err.split())
        if "--json" in said.words:
            error = json.loads(said.out)["error"]
            text = f"{error['message']} {error['hint']}"
        if not text.endswith((".", "?")) or len(_SENTENCE.split(text)) < 2:
            yield f"{said.words} was told no more than: {text}"


def _tallied(book: Iterable[Line], kept: dict[str, tuple[int, ...]]) -> Iterator[str]:
    """Never oversold, after any document: claims within what is there, of every part, lot and purchase."""
    sums: dict[tuple[str, object], Counter[str]] = defaultdict(Counter)
    touched: set[tuple[str, object]] = set()
    before = 0
    for line in [*book, Line(1 << 60, "shelf", "", None, None, None, 0)]:
        if line.document != before:
            yield from (
                f"document {before}: {key} stands at {dict(sums[key])}" for key in touched if _over(sums[key])
            )
            touched, before = set(), line.document
        for key in _keys(line):
            sums[key][line.account] += line.quantity
            touched.add(key)
    for part, balance in kept.items():
        found = tuple(sums["part", part][account] for account in _ACCOUNTS)
        if found != balance:
            yield f"{part} is kept as {balance}, its lines say {found}"


def _keys(line: Line) -> Iterator[tuple[str, object]]:
    yield "part", line.part
    if line.lot is not None:
        yield "lot", line.lot
    if line.purchase is not None:
        yield "purchase", line.purchase


def _over(one: Counter[str]) -> bool:
    return min(one.values()) < 0 or one["claim"] > one["shelf"] or one["due claim"] > one["due"]


def _undone(book: list[Line], reverses: dict[int, int]) -> Iterator[str]:
    """An undo takes back what its document did, nothing else."""
    by: dict[int, Counter[tuple[object, ...]]] = defaultdict(Counter)
    for line in book:
        by[line.document][line.account, line.part, line.lot, line.purchase, line.order] += line.quantity
    for undo, document in reverses.items():
        if any((by[undo] + Counter()).values()) or any((by[document] + Counter()).values()):
            one, other = ({k: q for k, q in by[n].items() if q} for n in (undo, document))
            if one != {key: -quantity for key, quantity in other.items()}:
                yield f"document {undo} is not the reverse of {document}"


def _pencils(
    book: Iterable[Line], told: dict[int, Said], reverses: dict[int, int], opening: int
) -> Iterator[str]:
    """The shelf of what only arrivals touch: what was there, and what everybody remembers of those that stand."""
    there = sum(line.quantity for line in book if (line.part, line.account) == (PENCIL, "shelf"))
    first = sum(
        line.quantity
        for line in book
        if (line.part, line.account) == (PENCIL, "shelf") and line.document <= opening
    )
    turned = set(reverses.values())
    brought = {
        n: 1000 * int(said.words[5]) for n, said in told.items() if said.words[:2] == ("arrived", PENCIL)
    }
    wanted = first + sum(
        many
        for number, many in brought.items()
        if _stands(number, {v: k for k, v in reverses.items()}, turned)
    )
    if there != wanted:
        yield f"{PENCIL}: {there} on the shelf, {wanted} by what everybody was told"


def _stands(number: int, undone_by: dict[int, int], turned: set[int]) -> bool:
    """Whether a document stands: nobody undid it, or the undo was undone."""
    return number not in turned or not _stands(undone_by[number], undone_by, turned)


def _covered(book: Iterable[Line], told: dict[int, Said]) -> Iterator[str]:
    """A new order that was promised has a kit for each piece: set aside, on its way, or to buy."""
    by: dict[int, Counter[str]] = defaultdict(Counter)
    for line in book:
        if " kit " in line.part and line.account in ("claim", "due claim", "to buy") and line.order:
            by[line.document][line.order] += line.quantity
    for number, said in told.items():
        if said.words[0] == "promise" and "--count" in said.words:
            count = 1000 * int(said.words[said.words.index("--count") + 1])
            if by[number][said.words[1]] < count:
                yield f"{said.words[1]} was promised with {by[number][said.words[1]]} thousandths of kits for {count}"
