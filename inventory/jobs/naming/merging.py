"""Two names for one thing: what is there, due, set aside and offered of the one becomes the other's.

The past stays as it was written; whoever says the old name means the other from now on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NoReturn

from inventory.catalogue import Blank, Catalogue, Kit, Known, Part, Piece, Supply, Tool, Tube, fold, over
from inventory.errors import BadInput, Refused
from inventory.jobs.learning.learned_figures import relearn
from inventory.jobs.naming.names import pieces_of
from inventory.jobs.naming.renaming import renamed_piece
from inventory.jobs.orders.finished import piece_called
from inventory.ledger import Claim, DueIn, Line, NewLot, Proposal
from inventory.ledger.as_one import happened_as_one, words_as_one
from inventory.ledger.availability import off_in
from inventory.ledger.claims import settle
from inventory.ledger.documents.changes import Change, Merged, MergedKind, Renamed, Thing
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.documents.proposal import NewPurchase
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import Happened, RateWord
from inventory.ledger.shop import Shop
from inventory.measures import listed, plural

WORD = "merged"
"""The word of lines by which something went over."""


@dataclass(frozen=True, slots=True)
class Merging:
    """The proposed document; what goes over: lots, lines due, orders that hold or want some, and offers.

    what: the kind of thing; follow: parts that follow it, such as a plating's kits; notes: what else to know.
    """

    proposal: Proposal
    what: MergedKind
    old: str
    new: str
    lots: int
    due: int
    orders: tuple[str, ...]
    offers: int
    follow: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def learned_as_one(
    written: Catalogue, happened: Sequence[Happened], words: Sequence[RateWord], old: Part, new: Part
) -> LearnedFigures | None:
    """What sessions taught, as if the two had always been one part; None where there was no session and no word."""
    if not (happened or words):
        return None
    called = {fold(old.name): new.name}
    parts = {key: one for key, one in written.parts.items() if key != fold(old.name)}
    earlier = written.parts.old if isinstance(written.parts, Known) else {}
    patterns = {
        key: replace(
            one, bill=tuple(replace(line, part=called.get(fold(line.part), line.part)) for line in one.bill)
        )
        for key, one in written.patterns.items()
    }
    names = {
        **{key: fold(called.get(name, name)) for key, name in earlier.items()},
        fold(old.name): fold(new.name),
    }
    then = replace(written, parts=Known(parts, names), patterns=over(written.patterns, patterns))
    return relearn(then, happened_as_one(happened, called), words_as_one(words, called))


def merge(
    shop: Shop, old: Part, new: Part, planned: Collection[str], learned: LearnedFigures | None = None
) -> Merging:
    """The old part is the new one. planned: names of parts that open plans speak of; learned: as if they were one.

    Raises BadInput where they are one already, Refused with every reason why they cannot be one.
    """
    if fold(old.name) == fold(new.name):
        raise BadInput(
            f"“{old.name}” and “{new.name}” are one part.", hint="Name the two that are to be one."
        )
    _refuse_different(old, new, planned)
    entry = Moving(shop, Draft(shop.book, shop.prices), [], [])
    entry.move(old, new)
    changes: list[Change] = [
        Merged(old.name, new.name),
        *piece_changes(shop, entry, "part", old.name, new.name),
    ]
    there = {new.name: entry.draft.book.balance(new.name).on_hand}
    entry.draft.add(
        settle(entry.draft.book, there, off=off_in(entry.draft.book, shop.catalogue.parts, shop.today))
    )
    doubtful = fold(old.name) in map(fold, shop.book.to_count)
    proposal = proposal_of(shop, entry, old.name, new.name, changes)
    proposal = replace(
        proposal,
        counted=(old.name,) if doubtful else (),
        to_count=(new.name,) if doubtful else (),
        learned=learned,
    )
    orders = tuple(dict.fromkeys(claim.order for claim in shop.book.claims_on(old.name)))
    counts = len(shop.book.lots_of(old.name)), len(entry.purchases)
    offers = len(shop.offers.get(fold(old.name), ()))
    return Merging(proposal, "part", old.name, new.name, *counts, orders, offers)


def proposal_of(shop: Shop, entry: Moving, old: str, new: str, changes: Iterable[Change]) -> Proposal:
    """The document of what goes over and of what is called otherwise."""
    return Proposal(
        "merge",
        f"Merge {old} into {new}",
        shop.today,
        lines=tuple(entry.draft.lines),
        lots=tuple(entry.draft.lots),
        purchases=tuple(entry.purchases),
        expected_version=shop.book.version,
        changes=tuple(changes),
    )


def _refuse_different(old: Part, new: Part, planned: Collection[str]) -> None:
    reasons = list(_different(old, new))
    if fold(old.name) in map(fold, planned):
        reasons.append(f"a planned session speaks of “{old.name}”")
    if reasons:
        refuse(old.name, new.name, reasons)


def refuse(old: str, new: str, reasons: Iterable[str]) -> NoReturn:
    """Say why two things are not one."""
    raise Refused(
        f"“{old}” cannot be “{new}”: {'; '.join(reasons)}.", hint="They are two things; rename one instead."
    )


def _different(old: Part, new: Part) -> Iterator[str]:
    """What tells two parts apart that nobody could overlook."""
    if old.kind != new.kind:
        yield f"one is a {old.kind}, the other a {new.kind}"
        return
    if old.unit != new.unit:
        yield f"one is counted in {old.unit}, the other in {new.unit}"
    for word, one, other in _told(old, new):
        if one != other:
            yield f"the {word} of one is {one or 'not said'}, of the other {other or 'not said'}"


def _told(old: Part, new: Part) -> list[tuple[str, str, str]]:
    fields = {
        Kit: ("family", "plating"),
        Tube: ("outside", "length", "drill"),
        Blank: ("material", "shape"),
        Supply: ("type",),
        Tool: ("type", "size"),
        Piece: ("pattern", "kit", "blank", "refill"),
    }[type(old.detail)]
    return [
        (field, *(fold(str(getattr(one.detail, field) or "")) for one in (old, new)))  # type: ignore[misc]  # two of them
        for field in fields
    ]


def piece_changes(
    shop: Shop, entry: Moving, what: Thing, old: str, new: str, follow: list[str] | None = None
) -> Iterator[Change]:
    """Finished pieces called after the old thing are called after the new one; those of both become one.

    follow: a list that is given their names.
    """
    for made in pieces_of(shop, what, old):
        then = renamed_piece(made, old, new)
        before, after = piece_called(made), piece_called(then)
        if follow is not None:
            follow.append(before)
        there = shop.catalogue.parts.get(fold(after))
        if there is None:
            yield Renamed("part", before, after)
        else:
            entry.move(shop.catalogue.part(before), there)
            yield Merged(before, after)


@dataclass(slots=True)
class Moving:
    """The document while it is being written. moved: the parts that went over."""

    shop: Shop
    draft: Draft
    purchases: list[NewPurchase]
    moved: list[str]

    def move(self, old: Part, new: Part) -> None:
        """All that is there, due, set aside and to buy."""
        claims = self.shop.book.claims_on(old.name)
        self.draft.add(
            Line(
                one.account,
                one.part,
                -one.quantity,
                lot=one.lot,
                purchase=one.purchase,
                order=one.order,
                reason=WORD,
            )
            for one in claims
        )
        lots = {lot.id: self._lot(lot.id, old, new) for lot in self.shop.book.lots_of(old.name)}
        due = {row.purchase: self._due(row.purchase, new) for row in self._due_rows(old)}
        self.draft.add(
            Line(
                one.account,
                new.name,
                one.quantity,
                lot=None if one.lot is None else lots[one.lot],
                purchase=None if one.purchase is None else due[one.purchase],
                order=one.order,
                reason=WORD,
            )
            for one in claims
        )
        self.moved.append(old.name)

    def _due_rows(self, part: Part) -> Iterable[DueIn]:
        return [row for row in self.shop.book.due if fold(row.part) == fold(part.name)]

    def _lot(self, number: int, old: Part, new: Part) -> str:
        lot = next(one for one in self.shop.book.lots_of(old.name) if one.id == number)
        tag = self.draft.bring(
            NewLot(
                "",
                new.name,
                lot.name,
                lot.received_on,
                lot.opened_on,
                lot.use_by,
                lot.smallest_diameter,
                lot.length,
            )
        )
        out = Line("shelf", old.name, -lot.quantity, -lot.cost, lot=lot.id, reason=WORD)
        came = Line("shelf", new.name, lot.quantity, lot.cost, lot=tag, reason=WORD, cost_from=lot.cost_from)
        self.draft.add([out, came])
        return tag

    def _due(self, number: int, new: Part) -> str:
        row = next(one for one in self.shop.book.due if one.purchase == number)
        return self._due_again(row, row.supplier, new.name)

    def _due_again(self, row: DueIn, supplier: str, part: str) -> str:
        tag = f"due {len(self.purchases) + 1}"
        self.purchases.append(NewPurchase(tag, supplier, part, row.expected_on, row.code, row.pack))
        out = Line("due", row.part, -row.quantity, -row.cost, purchase=row.purchase, reason=WORD)
        self.draft.add([out, Line("due", part, row.quantity, row.cost, purchase=tag, reason=WORD)])
        return tag

    def claims_on_purchases(self, numbers: Collection[int]) -> list[Claim]:
        """What is promised out of these bought lines."""
        return [one for one in self.shop.book.claims if one.purchase in numbers]

    def buy_from(self, row: DueIn, supplier: str) -> None:
        """A line that is due is another supplier's, with what is promised out of it."""
        claims = self.claims_on_purchases({row.purchase})
        self.draft.add(
            Line(one.account, one.part, -one.quantity, purchase=row.purchase, order=one.order, reason=WORD)
            for one in claims
        )
        tag = self._due_again(row, supplier, row.part)
        self.draft.add(
            Line(one.account, one.part, one.quantity, purchase=tag, order=one.order, reason=WORD)
            for one in claims
        )


def told(made: Merging) -> str:
    """What goes over, in a sentence."""
    bits = [
        *([plural(made.lots, "lot")] if made.what == "part" else []),
        *([f"{plural(made.due, 'line')} due in"] if made.due else []),
        *(
            [f"what {', '.join(made.orders)} hold{'s' * (len(made.orders) == 1)} or want"]
            if made.orders
            else []
        ),
        *([plural(made.offers, "offer")] if made.what in ("part", "supplier") else []),
        *([f"the name of {listed(made.follow)}"] if made.follow and made.what == "pattern" else []),
        *([listed(made.follow)] if made.follow and made.what == "plating" else []),
    ]
    return ", ".join(bits)
