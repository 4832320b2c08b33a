"""Finished pieces sold off the shelf without an order before: noted as one and handed over in the same entry.

So the price lies where every order's does, and the customer where theirs do. Taken back, the pieces are on the shelf
and the order is given up.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import count

from inventory.catalogue import Blank, Kit, Order, Part, Piece, fold
from inventory.catalogue.safety import Doing, safety_of
from inventory.errors import BadInput
from inventory.jobs.accounts.spending import COMMISSION, commission_of, expense
from inventory.jobs.days.by_hand import ByHand, DocumentHead, by_hand, so_much
from inventory.jobs.days.taking import check_there
from inventory.jobs.stock.drawing import Purpose, take
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.documents.proposal import Expense, Payment
from inventory.ledger.shop import Shop
from inventory.measures import show_money


@dataclass(frozen=True, slots=True)
class Sale:
    """How many pieces; price: minor units for one, None where nobody said; at: where or to whom.

    commission: what whoever sold them keeps: `15 %` of what was paid, or a sum; empty: nothing.
    """

    pieces: int
    price: int | None = None
    at: str = ""
    commission: str = ""


def sold(shop: Shop, part: Part, sale: Sale, draft: Draft | None = None) -> ByHand:
    """So many finished pieces are sold. Raises BadInput for what is none, NotEnough where fewer are free."""
    piece = part.detail
    if not isinstance(piece, Piece):
        raise BadInput(
            f"“{part.name}” is no finished piece: {part.kind}s are parts.",
            hint="Name a finished one; they come onto the shelf by `kitdrawer weekend book` and `kitdrawer made`.",
        )
    check_there(shop, part, 1000 * sale.pieces, None)
    order = _order(shop, piece, sale)
    draft = draft or Draft(shop.book, shop.prices)
    since = len(draft.lines)
    drawn = take(draft, part, 1000 * sale.pieces, Purpose(order.name, "handed over", shop.today))
    at = f" at {sale.at}" if sale.at else ""
    money = [] if sale.price is None else [_money(shop, sale), _selling(shop, piece)]
    kept = _commission(shop, sale, order)
    money += [f"Less {show_money(one.amount, shop.currency)} commission." for one in kept]
    said = DocumentHead("sold", f"Sold {so_much(part, 1000 * sale.pieces)}{at}", notes=tuple(money))
    made = by_hand(shop, draft, part, said, drawn.cost_from, since)
    steps = ((order.name, order.state),)
    paid = (Payment(order.name, (sale.price or 0) * sale.pieces),)  # on the spot
    sold_ = replace(made.proposal, orders=(order,), order_states=steps, payments=paid, expenses=kept)
    return replace(made, proposal=sold_)


def _commission(shop: Shop, sale: Sale, order: Order) -> tuple[Expense, ...]:
    if not sale.commission:
        return ()
    if sale.price is None:
        raise BadInput("A commission is of what was paid.", hint="Say the price of one: --price 38.")
    taken = sale.price * sale.pieces
    amount = commission_of(shop, sale.commission, taken)
    if amount > taken:
        raise BadInput(
            f"A commission of {show_money(amount, shop.currency)} is more than was paid.",
            hint="Give a share such as 15 %, or a sum for all the pieces.",
        )
    return (expense(shop, COMMISSION, amount, shop.today, sale.at, order),) if amount else ()


def _selling(shop: Shop, piece: Piece) -> str:
    pattern = shop.catalogue.pattern(piece.pattern)
    blank = shop.catalogue.part(piece.blank).detail
    materials = (shop.catalogue.material(blank.material),) if isinstance(blank, Blank) else ()
    makes = frozenset({shop.catalogue.family(pattern.family).makes})
    return safety_of(Doing(materials=materials, makes=makes, selling=True)).selling


def _money(shop: Shop, sale: Sale) -> str:
    each, all_ = sale.price or 0, (sale.price or 0) * sale.pieces
    together = f", together {show_money(all_, shop.currency)}" if sale.pieces > 1 else ""
    return f"For {show_money(each, shop.currency)} each{together}."


def _order(shop: Shop, piece: Piece, sale: Sale) -> Order:
    kit = shop.catalogue.part(piece.kit).detail
    names = (f"sold {shop.today.isoformat()} {number}" for number in count(1))
    return Order(
        next(name for name in names if fold(name) not in shop.book.orders),
        piece.pattern,
        piece.blank,
        sale.pieces,
        shop.today,
        (kit.plating,) if isinstance(kit, Kit) else (),
        sale.at,
        piece.refill,
        piece.extra_diameter,
        sale.price,
        "handed over",
    )
