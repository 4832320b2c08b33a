"""`cost`: where each coin of a piece goes, what it would have to sell for, and what it costs made otherwise."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import fold
from inventory.cli.json.exact import dumps
from inventory.cli.order_options import BlankOption, ExtraOption, PlatingOption, RefillOption
from inventory.cli.session import ChartsOption, JsonOption, OverOption, StoreOption, opened, say, shop_of
from inventory.errors import BadInput, UnknownName

if TYPE_CHECKING:
    from inventory.catalogue import Order, Pattern
    from inventory.jobs.accounts.prices import AskedPrices
    from inventory.jobs.orders.order_check import OrderReport
    from inventory.ledger.shop import Shop
    from inventory.reports.accounts.cost import CostReport
    from inventory.store import Read

TOGETHER = 10
"""Pieces that are made together where nobody says how many: what is used once an evening is shared by them."""


def cost(
    what: Annotated[str, typer.Argument(help="A pattern, an order, or a finished piece (words of it).")],
    plating: PlatingOption = "",
    blank: BlankOption = "",
    count: Annotated[int | None, typer.Option(help="Pieces made together; 10 if not said.")] = None,
    refill: RefillOption = "",
    extra_diameter: ExtraOption = "",
    otherwise: Annotated[
        list[str] | None,
        typer.Option(
            "--or", metavar="WHAT", help="Made otherwise: a plating, blank, refill, or 2 mm thicker."
        ),
    ] = None,
    margin: Annotated[str, typer.Option(metavar="SHARE", help="Price by this margin; else the shop's.")] = "",
    times: Annotated[str, typer.Option(metavar="N", help="Price by so many times the cost; else 2.")] = "",
    wage: Annotated[
        str, typer.Option(metavar="MONEY", help="Price by this wage an hour; else the shop's.")
    ] = "",
    price: Annotated[str, typer.Option(metavar="MONEY", help="What this price for one comes to.")] = "",
    fee: Annotated[
        str, typer.Option(metavar="MONEY", help="Paid once, as a stall: how many pieces pay it?")
    ] = "",
    everything: Annotated[bool, typer.Option("--all", help="Every part.")] = False,
    save: ChartsOption = None,
    overwrite: OverOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What a pattern, an order or a piece made costs, and where each coin goes; prices by margin, multiple and wage.

    For example:
    kitdrawer cost "Dunlin pen"
    kitdrawer cost S42 --price 28 --fee 45
    kitdrawer cost "Avocet pen" -p gunmetal --or chrome --or "3 mm"
    """
    many = TOGETHER if count is None else count
    said = _Said(plating, blank, many, refill, extra_diameter, tuple(otherwise or ()))
    with opened(store) as found, found.reading() as read:
        shop = shop_of(read)
        made = _with_prices(read, shop, what, said, _asked(shop, margin, times, wage, price, fee))
    if save is not None:
        from inventory.sheets.accounts.cost import write_cost

        write_cost(save, made, shop.currency, overwrite=overwrite)
    _say(made, shop, everything=everything, saved=save, as_json=as_json)


@dataclass(frozen=True, slots=True)
class _Said:
    """How a piece is to be made, as it was said."""

    plating: str
    blank: str
    count: int
    refill: str
    extra: str
    otherwise: tuple[str, ...]

    def anything(self) -> bool:
        """Whether anything was said."""
        return self != _Said("", "", TOGETHER, "", "", ())


def _asked(shop: Shop, margin: str, times: str, wage: str, price: str, fee: str) -> AskedPrices:
    from inventory.jobs.accounts.prices import TIMES, AskedPrices
    from inventory.measures import read_fraction, read_money, read_number

    share = (
        read_fraction(margin if "%" in margin or margin.startswith(("0", ".")) else f"{margin} %")
        if margin
        else None
    )
    if share is not None and not 0 <= share < 1:
        raise BadInput(
            f"A margin of {margin} is none.", hint="Give a share of the price below 100 %, such as 40."
        )
    many = read_number(times) if times else TIMES
    if not 0 < many <= 100:
        raise BadInput(f"{times} times the cost is no price.", hint="Give a number such as 2 or 2.5.")
    sums = [read_money(text, shop.currency) if text else None for text in (wage, price, fee)]
    return AskedPrices(share, Fraction(many), *sums)


def _with_prices(read: Read, shop: Shop, what: str, said: _Said, asked: AskedPrices) -> CostReport:
    from inventory.jobs.accounts.prices import break_even, rule_prices, sold_before

    made, pattern = _cost(read, shop, what, said)
    before = sold_before(shop, pattern, read.went_out())
    prices = () if made.unknown else rule_prices(shop, made, asked, before)
    even = break_even(made, asked, prices) if prices else None
    return replace(made, prices=prices, before=before, even=even)


def _say(made: CostReport, shop: Shop, *, everything: bool, saved: Path | None, as_json: bool) -> None:
    from inventory.cli.screens.accounts.cost import cost_json, cost_screen

    if as_json:
        say(dumps(cost_json(made, shop.currency)))
        return
    say(cost_screen(made, shop.currency, everything=everything, saved=saved))


def _cost(read: Read, shop: Shop, what: str, said: _Said) -> tuple[CostReport, str]:
    """The cost of what is meant, and its pattern. Raises UnknownName, BadInput, Refused."""
    order = shop.book.orders.get(fold(what))
    pattern = shop.catalogue.patterns.get(fold(what))
    if order is not None and pattern is None:
        if said.anything() and order.state in ("handed over", "released"):
            raise BadInput(f"“{order.name}” is made.", hint="Ask for its pattern to see it made otherwise.")
        return _of_order(read, shop, order, said.otherwise), order.pattern
    if pattern is not None:
        return _to_make(shop, pattern, said), pattern.name
    return _of_piece(read, shop, what)


def _of_piece(read: Read, shop: Shop, what: str) -> tuple[CostReport, str]:
    from inventory.catalogue import Piece
    from inventory.jobs.accounts.cost_made import cost_of_piece
    from inventory.jobs.days.by_hand import part_called

    try:
        part = part_called(shop, what)
    except UnknownName:
        names = [
            *(one.name for one in shop.book.orders.values()),
            *(one.name for one in shop.catalogue.patterns.values()),
        ]
        raise UnknownName("pattern, order or piece", what, names) from None
    detail = part.detail
    if not isinstance(detail, Piece):
        raise BadInput(
            f"“{part.name}” is a {part.kind}.", hint=f'What it cost: kitdrawer trace "{part.name}"'
        )
    found = cost_of_piece(shop, part, read.pieces_made(part=part.name))
    if found is None:
        raise BadInput(
            f"No {part.name} was ever made: those there were counted in.",
            hint=f'What one would cost: kitdrawer cost "{detail.pattern}"',
        )
    return found, detail.pattern


def _of_order(read: Read, shop: Shop, order: Order, otherwise: tuple[str, ...]) -> CostReport:
    from inventory.jobs.accounts.cost_made import cost_of_order, cost_of_piece
    from inventory.jobs.accounts.cost_otherwise import FAR
    from inventory.jobs.orders.order_check import check
    from inventory.jobs.orders.requests import request_of
    from inventory.jobs.orders.reserving import without_claims

    if order.state in ("handed over", "released"):
        found = cost_of_order(shop, order, read.pieces_made(order=order.name))
        if found is None:
            raise BadInput(
                f"Nothing went out for “{order.name}”.", hint=f'See: kitdrawer cost "{order.pattern}"'
            )
        return found
    free = without_claims(shop, order.name)
    request = replace(request_of(order), due=max(order.due, shop.today + FAR))
    report = check(free, request)
    if not report.plan.evening.good:
        pieces = [need.part for need in report.plan.parts if need.role == "finished"]
        found = cost_of_piece(shop, pieces[0], read.pieces_made(part=pieces[0].name)) if pieces else None
        if found is None:
            raise BadInput(
                f"“{order.name}” is finished, and what it took nobody knows.", hint="It was counted in."
            )
        return replace(found, what=f"{order.name}: {found.what}")
    return _expected(free, report, otherwise)


def _to_make(shop: Shop, pattern: Pattern, said: _Said) -> CostReport:
    from inventory.jobs.accounts.cost import usual_choice, without_pieces
    from inventory.jobs.accounts.cost_otherwise import FAR
    from inventory.jobs.orders.order_check import check
    from inventory.jobs.orders.requests import OrderRequest
    from inventory.measures import read_length

    plating, blank = usual_choice(shop.catalogue, pattern, shop)
    request = OrderRequest(
        pattern.name,
        tuple(filter(None, (said.plating or plating,))),
        said.blank or blank,
        said.count,
        shop.today + FAR,
        said.refill or None,
        read_length(said.extra) if said.extra else None,
    )
    bare = without_pieces(shop)
    return _expected(bare, check(bare, request), said.otherwise)


def _expected(shop: Shop, report: OrderReport, otherwise: tuple[str, ...]) -> CostReport:
    from inventory.jobs.accounts.cost import expected_cost
    from inventory.jobs.accounts.cost_otherwise import changes

    usually = not report.resolved.request.order
    base = expected_cost(shop, report, usually=usually)
    return replace(base, changes=changes(shop, report, base, otherwise, usually=usually))
