"""Taking a document back: every line once more with the other sign, refused where later ones stand on it.

Undoing an undo is the same thing again, and brings the document back. Names, requests and prices that came with a
load stay: they are what things are, not what happened.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from inventory.catalogue import OrderState, fold
from inventory.errors import StillNeeded
from inventory.ledger.book import FOR_ORDERS, Balance, Claim
from inventory.ledger.claims import ClaimKey, claim_key
from inventory.ledger.documents.booked import Booked, Document
from inventory.ledger.documents.lines import Line
from inventory.ledger.documents.proposal import Proposal
from inventory.ledger.lending import BACK
from inventory.ledger.sessions import SessionState
from inventory.measures import listed

NAMED = 6
"""Later documents that a refusal names, the newest: in a long book thousands may stand on an early one."""


ASKED = 40
"""Parts that are short for which later documents are looked up: more would keep a person waiting, and tell no more."""


@dataclass(frozen=True, slots=True)
class Layer:
    """What a lot holds or a purchase still owes: thousandths, minor units, and how much of it is claimed."""

    part: str
    quantity: int
    cost: int
    claimed: int = 0


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the book says of everything a document touched.

    lots, due: by number. balances: by folded part name. claims: of its orders. states, doubts: what orders and
    parts go back to, by folded name; sessions: what those go back to, by number.
    later: gives for a part the lines of later documents that stand, each with its document.
    later_states: later documents that stand and decided something about its orders or sessions. not_lent: parts of
    which more would have come back than was lent.
    """

    lots: Mapping[int, Layer] = field(default_factory=dict)
    due: Mapping[int, Layer] = field(default_factory=dict)
    balances: Mapping[str, Balance] = field(default_factory=dict)
    claims: tuple[Claim, ...] = ()
    states: Mapping[str, OrderState] = field(default_factory=dict)
    doubts: Mapping[str, bool] = field(default_factory=dict)
    sessions: Mapping[int, SessionState] = field(default_factory=dict)
    later: Callable[[str], Iterable[tuple[Document, Line]]] = lambda _: ()
    later_states: tuple[Document, ...] = ()
    not_lent: tuple[str, ...] = ()


def already(first: Document, asked: int, tip: int, *, stands: bool) -> StillNeeded:
    """The refusal to turn a document round whose turn it is not.

    first: what was first booked; asked: the document named; tip: the last that turned it round; stands: whether the
    first one stands.
    """
    if stands:
        return StillNeeded(
            f"Entry {asked} is already undone: entry {first.id} stands again, by entry {tip}.",
            hint=f"Take it back: kitdrawer undo {first.id}.",
        )
    hint = f"Bring it back: kitdrawer undo {tip}."
    return StillNeeded(f"Entry {first.id} is already undone, by entry {tip}.", hint=hint)


def undoing(
    booked: Booked, around: Surroundings, on: date, expected_version: int, first: Document
) -> Proposal:
    """The document that takes `booked` back, to be booked on top of a version. first: what its chain began with.

    Raises StillNeeded where that would leave less than nothing, naming the later documents that need it.
    """
    lines = _reversed(booked)
    _refuse_if_needed(booked.document, lines, around)
    doubts = {name: around.doubts.get(fold(name), False) for name, _ in booked.doubts}
    # the order of a sale came with it, so that nobody asks for it once the sale is taken back
    unsaid: OrderState = "released" if first.kind in ("sold", "days") else "wish"
    verb = "Undo of" if booked.document.undo_depth % 2 == 0 else "Bring back"
    return Proposal(
        kind="undo",
        title=f"{verb} {first.id}: {first.title}",
        on=on,
        lines=lines,
        order_states=tuple((name, around.states.get(fold(name), unsaid)) for name, _ in booked.order_states),
        expected_version=expected_version,
        to_count=tuple(name for name, doubtful in doubts.items() if doubtful),
        counted=tuple(name for name, doubtful in doubts.items() if not doubtful),
        reverses=booked.document.id,
        session_states=tuple((n, around.sessions.get(n, "dropped")) for n, _ in booked.session_states),
    )


def standing_on(booked: Booked, around: Surroundings) -> tuple[Document, ...]:
    """The later documents that would have to be undone before this one, oldest first; none: it can be turned round."""
    return tuple(later for _, later in sorted(_needed(_reversed(booked), around)[1].items()))


def _reversed(booked: Booked) -> tuple[Line, ...]:
    return tuple(
        replace(line, quantity=-line.quantity, cost=-line.cost, reason="undone", cost_from=-line.cost_from)
        for line in reversed(booked.lines)  # a claim ends before the one it had to make way for comes back
    )


def _needed(lines: tuple[Line, ...], around: Surroundings) -> tuple[list[str], dict[int, Document]]:
    """The parts that would be short, and the later documents that may be why, by number."""
    needed_by = {later.id: later for later in around.later_states}
    missing: dict[str, None] = {}
    for part, stands_on in _short(lines, around):
        missing[part] = None
        if len(missing) > ASKED:
            break
        needed_by.update((later.id, later) for later, line in around.later(part) if stands_on(line))
    return list(missing), needed_by


def _refuse_if_needed(document: Document, lines: tuple[Line, ...], around: Surroundings) -> None:
    missing, needed_by = _needed(lines, around)
    if not missing and not needed_by:
        return
    newest = [str(later) for _, later in sorted(needed_by.items(), reverse=True)][:NAMED]
    more = len(needed_by) - len(newest)
    named = "; ".join([*newest, *([f"{more} earlier"] if more else [])])
    of = listed([f"“{part}”" for part in missing], most=NAMED) or "its orders"
    raise StillNeeded(
        f"Entry {document.id} cannot be undone: what later entries did with {of} stands on it"
        + (f": {named}." if named else "."),
        hint="Undo those first, the newest before the others.",
    )


def _short(lines: Iterable[Line], around: Surroundings) -> Iterable[tuple[str, Callable[[Line], bool]]]:
    """Each part that would be short, with a test for the later lines that may be why."""
    lines = tuple(lines)
    yield from _short_layers(lines, around.lots, "lot")
    yield from _short_layers(lines, around.due, "purchase")
    yield from _short_claims(lines, around.claims)
    yield from _short_parts(lines, around.balances)
    yield from ((part, lambda line: line.reason == BACK) for part in around.not_lent)


def _short_layers(
    lines: tuple[Line, ...], layers: Mapping[int, Layer], which: str
) -> Iterable[tuple[str, Callable[[Line], bool]]]:
    holding, claiming = ("shelf", "claim") if which == "lot" else ("due", "due claim")
    sums: dict[int, list[int]] = defaultdict(lambda: [0, 0, 0])
    for line in lines:
        number = getattr(line, which)
        if number is not None and line.account == holding:
            sums[number][0] += line.quantity
            sums[number][1] += line.cost
        elif number is not None and line.account == claiming:
            sums[number][2] += line.quantity
    for number, (quantity, cost, claimed) in sums.items():
        layer = layers[number]
        left, worth, set_aside = layer.quantity + quantity, layer.cost + cost, layer.claimed + claimed
        if left < 0 or worth < 0 or (worth and not left) or not 0 <= set_aside <= left:
            yield layer.part, lambda line, number=number: getattr(line, which) == number  # type: ignore[misc]  # a bound default


def _short_claims(
    lines: tuple[Line, ...], claims: Iterable[Claim]
) -> Iterable[tuple[str, Callable[[Line], bool]]]:
    sums: dict[ClaimKey, int] = defaultdict(int)
    for claim in claims:
        sums[claim_key(claim)] += claim.quantity
    touched: dict[ClaimKey, Line] = {}
    for line in lines:
        if line.order is not None and line.account in FOR_ORDERS:
            key = claim_key(line)
            sums[key] += line.quantity
            touched[key] = line
    # Only all lines together count: a session lets go of what an order waits for, and has it wait anew for less.
    yield from ((line.part, _same_claim(line)) for key, line in touched.items() if sums[key] < 0)


def _same_claim(one: Line) -> Callable[[Line], bool]:
    def same(line: Line) -> bool:
        return line.order == one.order and fold(line.part) == fold(one.part)

    return same


def _short_parts(
    lines: tuple[Line, ...], balances: Mapping[str, Balance]
) -> Iterable[tuple[str, Callable[[Line], bool]]]:
    moved: dict[tuple[str, str], int] = defaultdict(int)
    names: dict[str, str] = {}
    for line in lines:
        moved[fold(line.part), line.account] += line.quantity
        names.setdefault(fold(line.part), line.part)
    for key, name in names.items():
        there = balances.get(key, Balance())
        shelf = there.unclaimed + moved[key, "shelf"] - moved[key, "claim"]
        coming = there.due_in - there.due_claimed + moved[key, "due"] - moved[key, "due claim"]
        for left, accounts in ((shelf, ("shelf", "claim")), (coming, ("due", "due claim"))):
            if left < 0:
                yield (
                    name,
                    lambda line, key=key, accounts=accounts: (  # type: ignore[misc]  # bound defaults
                        fold(line.part) == key and line.account in accounts
                    ),
                )
