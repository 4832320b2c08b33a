"""`arrived`: a parcel is here."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Part, fold
from inventory.cli.answers import Answer, worked
from inventory.cli.entering.asked import read_asking
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.rates import RateOption, with_rates
from inventory.cli.screens.doubtful import SureOption, check_sure, doubtful_json
from inventory.cli.screens.purchasing.parcels import arrived_screen
from inventory.cli.session import (
    AllOption,
    JsonOption,
    StoreOption,
    YesOption,
    booked_as,
    existing,
    opened,
    packs_offered,
    say,
    shop_of,
    somebody,
    talk,
)
from inventory.errors import BadInput, Place
from inventory.jobs.purchasing.arriving import BookedParcel, arrive
from inventory.jobs.purchasing.parcels import check_rows, everything_due
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.paid import ACCEPTED, paid_for
from inventory.ledger.shop import Shop
from inventory.measures import Currency, currency, read_date, read_money
from inventory.reports.purchasing.parcels import Arrived, Delivery

if TYPE_CHECKING:
    from inventory.store import Read, Store

Packs = Callable[[str], Collection[int]]
"""The packs a part is offered in, thousandths."""
SHEETS = (".xlsx", ".xlsm", ".csv", ".tsv")
"""What a sheet's name ends in; anything else is a part, or a folder."""


SETTLES = typer.Option(
    "--settles/--still-due",
    help="That order is settled so, or still due in.",
)


CANCELS = typer.Option("--cancel-rest", help="What is missing is cancelled.")


def arrived(
    what: Annotated[
        str,
        typer.Argument(metavar="FILE or PART", help="A filled delivery sheet (a folder too), or one part."),
    ] = "",
    supplier: Annotated[str, typer.Option(help="Who sent it.")] = "",
    everything: Annotated[
        bool, typer.Option("--complete", "--all", help="All that was ordered came.")
    ] = False,
    quantity: Annotated[str, typer.Option(help="How much came in good order.")] = "",
    damaged: Annotated[str, typer.Option(help="How much came damaged.")] = "",
    price: Annotated[str, typer.Option(help="A pack's price, if changed.")] = "",
    pack: Annotated[str, typer.Option(help="What a pack holds, if several are ordered.")] = "",
    paid: Annotated[str, typer.Option(help="In place of a price: what was paid, for what --for says.")] = "",
    paid_for: Annotated[
        str, typer.Option("--for", metavar="WHAT", help="What was paid for: pack, bottle, all, or an amount.")
    ] = "",
    instead_of: Annotated[
        str, typer.Option("--instead-of", metavar="PART", help="The part that was ordered.")
    ] = "",
    settles: Annotated[bool | None, SETTLES] = None,
    cancel_rest: Annotated[bool, CANCELS] = False,
    use_by: Annotated[str, typer.Option("--use-by", metavar="DATE", help="The use-by date on it.")] = "",
    lot: Annotated[str, typer.Option(help="A name for the lot.")] = "",
    postage: Annotated[str, typer.Option(help="Postage of this parcel, in the supplier's coin.")] = "",
    note: Annotated[str, typer.Option(help="The delivery note's number.")] = "",
    on: Annotated[str, typer.Option(metavar="DATE", help="The day it came; else today.")] = "",
    unasked: Annotated[
        bool, typer.Option("--not-ordered", "--unasked", help="Take what was not ordered.")
    ] = False,
    rate: RateOption = None,
    sure: SureOption = False,
    every: AllOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """A parcel is here: it goes on the shelf, its postage into the lots' cost, to promises that wait first.

    For example:
    kitdrawer arrived parcel.xlsx
    kitdrawer arrived --supplier "Oystershell Kits" --complete --postage 5.90
    kitdrawer arrived "tube 7 x 53" --supplier "Oystershell Kits" --quantity 10
    """
    said = ArrivedOptions(
        what, supplier, everything, quantity, damaged, price, pack, instead_of, settles, cancel_rest, use_by, lot,
        postage, note, on, unasked, paid, paid_for,
    )  # fmt: skip
    with opened(store) as found:
        with found.reading() as read:
            seen = shop_of(read, lambda _: ())
            ask = not (yes or as_json)
            parcels = _deliveries(with_rates(seen, rate or []), said, packs_offered(read), ask=ask)
        told = list(
            _ParcelBooking(found, rate or [], seen, yes=yes, sure=sure, as_json=as_json, every=every).all_of(
                parcels
            )
        )
    if as_json:
        say(dumps({"entry": told[-1]["entry"], "parcels": told}))


def _asked(parcel: Delivery) -> Delivery:
    """The parcel with what nobody said of parts that came in place of others, asked of whoever is there."""
    lines = []
    for line in parcel.lines:
        if line.instead_of and line.settles is None and somebody():
            talk(f"{line.part} came in place of {line.instead_of}.")
            question = f"Does it settle what was ordered (else {line.instead_of} is still to come)?"
            line = replace(line, settles=typer.confirm(question, err=True))
        lines.append(line)
    return replace(parcel, lines=tuple(lines))


@dataclass(frozen=True, slots=True)
class ArrivedOptions:
    """The options, as text."""

    what: str
    supplier: str
    everything: bool
    quantity: str
    damaged: str
    price: str
    pack: str
    instead_of: str
    settles: bool | None
    cancel_rest: bool
    use_by: str
    lot: str
    postage: str
    note: str
    on: str
    unasked: bool
    paid: str = ""
    paid_for: str = ""


def _deliveries(shop: Shop, said: ArrivedOptions, packs_of: Packs, *, ask: bool) -> tuple[Delivery, ...]:
    path = Path(said.what)
    if path.suffix.casefold() in SHEETS or (said.what and not said.supplier and path.is_dir()):
        return _from_sheet(path, shop, said, packs_of, ask=ask)
    if not said.supplier:
        raise BadInput("Who sent it?", hint="Say --supplier NAME, or give a sheet made by `due-in --save`.")
    lines = everything_due(shop, said.supplier) if said.everything else (_line(shop, said, packs_of),)
    postage = read_money(said.postage, _coin(shop, said.supplier)) if said.postage else 0
    day = read_date(said.on) if said.on else shop.today
    return (Delivery(said.supplier, day, lines, postage, said.note, said.unasked),)


def _from_sheet(
    path: Path, shop: Shop, said: ArrivedOptions, packs_of: Packs, *, ask: bool
) -> tuple[Delivery, ...]:
    """The parcels of a sheet. Options say what it leaves open, of one parcel; what is of one part stands on its row.

    ask: whether cells nobody is sure of may be asked about at the keyboard.
    """
    from inventory.sheets.purchasing.parcel_reading import read_delivery

    of_parts = (
        said.everything, said.quantity, said.damaged, said.price, said.pack, said.instead_of,
        said.settles is not None, said.cancel_rest, said.use_by, said.lot, said.paid, said.paid_for,
    )  # fmt: skip
    if any(of_parts):
        raise BadInput(
            "What came of each part stands on the sheet.",
            hint="With a sheet say --supplier, --postage, --note, --on and --not-ordered alone.",
        )
    file, known, coin = existing(path, "due-in --save parcel.xlsx"), shop.catalogue, shop.currency
    parcels = read_asking(
        lambda answers: read_delivery(file, known, coin, shop.today, packs_of, answers), ask=ask
    )
    if said.supplier:
        name = shop.catalogue.supplier(said.supplier).name
        parcels = tuple(one for one in parcels if fold(one.supplier) == fold(name))
        if not parcels:
            raise BadInput(
                f"The sheet says nothing of {name}.", hint="Leave --supplier out to see of whom it does."
            )
    if (said.postage or said.note or said.on) and len(parcels) > 1:
        senders = ", ".join(one.supplier for one in parcels)
        raise BadInput(
            f"The sheet holds parcels from {senders}: --postage, --note and --on are those of one.",
            hint="Say --supplier, or fill the tab `delivery`.",
        )
    return tuple(_completed(shop, said, one) for one in parcels)


def _completed(shop: Shop, said: ArrivedOptions, parcel: Delivery) -> Delivery:
    """A parcel of a sheet with what the options say of it. Raises BadInput where the sheet says it already."""
    told = [
        name
        for name, option, there in (
            ("--postage", said.postage, parcel.postage),
            ("--note", said.note, parcel.note),
            ("--on", said.on, parcel.on != shop.today),
        )
        if option and there
    ]
    if told:
        raise BadInput(
            f"The sheet says it already: {', '.join(told)}.",
            hint="Leave it out here, or empty its cell in the tab `delivery`.",
        )
    return replace(
        parcel,
        postage=read_money(said.postage, _coin(shop, parcel.supplier)) if said.postage else parcel.postage,
        note=said.note or parcel.note,
        on=read_date(said.on) if said.on else parcel.on,
        unasked=said.unasked,
    )


def _coin(shop: Shop, supplier: str) -> Currency:
    return currency(shop.catalogue.supplier(supplier).currency or shop.currency.code)


def _line(shop: Shop, said: ArrivedOptions, packs_of: Packs) -> Arrived:
    if not said.what:
        raise BadInput(
            "What came?", hint="Name the PART with --quantity, say --complete, or give a delivery sheet."
        )
    part = shop.catalogue.part(said.what)
    if said.settles is not None and not said.instead_of:
        raise BadInput(
            "It settles what, or what is still due?",
            hint="Name the part that was ordered: --instead-of PART.",
        )
    good, damaged = _amount(shop, part.name, said.quantity), _amount(shop, part.name, said.damaged)
    price, pack = _price(shop, said, part, good + damaged, packs_of)
    return Arrived(
        part.name,
        good,
        damaged,
        price,
        said.instead_of,
        said.cancel_rest,
        said.lot,
        read_date(said.use_by) if said.use_by else None,
        pack,
        settles=said.settles,
    )


def _price(
    shop: Shop, said: ArrivedOptions, part: Part, came: int, packs_of: Packs
) -> tuple[int | None, int | None]:
    """The price in minor units and thousandths of the pack it is for. Raises BadInput where both ways are used."""
    coin, pack = _coin(shop, said.supplier), _amount(shop, part.name, said.pack) or None
    if not said.paid and not said.paid_for:
        return read_money(said.price, coin) if said.price else None, pack
    if said.price or not said.paid or not said.paid_for:
        raise BadInput(
            "A price is --price, of a pack, or --paid with --for, what was paid for what.", hint=ACCEPTED
        )
    packs = {pack} if pack else packs_of(part.name)
    return read_money(said.paid, coin), paid_for(said.paid_for, part, came, packs)


def _amount(shop: Shop, name: str, text: str) -> int:
    return shop.catalogue.part(name).read_amount(text) if text else 0


@dataclass(frozen=True, slots=True)
class _ParcelBooking:
    """How parcels are booked. seen: the shop as it was looked at to read them; sure: no price is asked about."""

    store: Store
    rate: list[str]
    seen: Shop
    yes: bool
    sure: bool
    as_json: bool
    every: bool = False

    def all_of(self, parcels: Sequence[Delivery]) -> Iterator[dict[str, Value]]:
        """Book them one after the other. A price that is asked about is refused before any of them is booked."""
        for parcel in parcels:
            check_rows(parcel.lines)
        parcels = parcels if self.yes or self.as_json else [_asked(parcel) for parcel in parcels]
        if len(parcels) > 1 and self.yes and not self.sure:
            with self.store.reading() as read:
                shop = self._shop(read)
            self._check([doubt for one in parcels for doubt in arrive(shop, one).doubts])
        for parcel in parcels:
            yield self._book(parcel, alone=len(parcels) == 1)

    def _shop(self, read: Read) -> Shop:
        return with_rates(shop_of(read, before=self.seen), self.rate)

    def _check(self, doubts: Sequence[Place]) -> None:
        check_sure(doubts, sure=self.sure, yes=self.yes)

    def _book(self, parcel: Delivery, *, alone: bool) -> dict[str, Value]:
        """Book one parcel, and what JSON says of it."""

        def make(read: Read) -> tuple[Shop, BookedParcel]:
            shop = self._shop(read)
            made = arrive(shop, parcel)
            if alone:
                self._check(made.doubts)
            return shop, made

        answer = Answer(
            make,
            lambda one: one[1].proposal,
            lambda one: say(arrived_screen(one[0], parcel.on, one[1], everything=self.every)),
            "Book this delivery?",
            lambda number, one: _told(number, *one),
            lambda _, one: _json(*one),
            intake=lambda one: one[1].intake,
        )
        number, made = worked(self.store, answer, yes=self.yes, as_json=self.as_json)
        if not self.as_json:
            answer.told(number, made)
        return {"entry": number, **answer.body(number, made)}


def _json(shop: Shop, made: BookedParcel) -> dict[str, Value]:
    exact = Exact(shop.currency.exponent)
    lines = made.proposal.lines
    return {
        "title": made.proposal.title,
        "currency": shop.currency.code,
        "lines": [
            {
                "part": line.part,
                "quantity": exact.amount(line.quantity),
                "cost": exact.money(None if line.cost_from == UNKNOWN else line.cost),
                "what": line.reason,
            }
            for line in lines
            if line.account == "shelf"
        ],
        "claimed": [
            {"order": line.order, "part": line.part, "quantity": exact.amount(line.quantity)}
            for line in lines
            if line.account == "claim" and line.quantity > 0
        ],
        "notes": list(made.notes),
        "doubtful": doubtful_json(made.doubts),
    }


def _told(number: int | None, _: Shop, made: BookedParcel) -> None:
    got = any(line.account == "claim" and line.quantity > 0 for line in made.proposal.lines)
    booked_as(number, made, *([("How the orders stand", "kitdrawer orders")] if got else []))
