"""Something taken out of a whole kit: the kit is no longer whole, and what is left of it is a part of its own.

The fittings that are left keep the kit's cost, as those do whose tubes a session took.
"""

from __future__ import annotations

from dataclasses import replace

from inventory.catalogue import Kit, Part, Supply, fold
from inventory.errors import BadInput
from inventory.jobs.days.by_hand import ByHand, DocumentHead, by_hand, so_much
from inventory.jobs.days.taking import check_there
from inventory.jobs.stock.drawing import Purpose, take
from inventory.ledger import Line, NewLot
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.shop import Shop
from inventory.measures import show_amount

FITTING = "spare fitting"
"""The type of supply that incomplete kits are."""


def cannibalised(
    shop: Shop, kit: Part, what: str, quantity: int, why: str, draft: Draft | None = None
) -> ByHand:
    """So many kits (thousandths) lose one of what they hold. what: its name; why: in our words, what became of it.

    Raises BadInput for what is no kit, nor what is left of one, NotEnough.
    """
    left = _left(shop, kit, what)
    check_there(shop, kit, quantity, None)
    draft = draft or Draft(shop.book, shop.prices)
    since = len(draft.lines)
    drawn = take(draft, kit, quantity, Purpose(None, "robbed", shop.today))
    new = left if fold(left.name) not in shop.catalogue.parts else None
    line = Line(
        "shelf", left.name, quantity, drawn.cost, lot="left", reason="saved", cost_from=drawn.cost_from
    )
    draft.add([line], [NewLot("left", left.name, "", shop.today)])
    title = f"{why.capitalize()} {show_amount(quantity, kit.unit)} × {what} from {so_much(kit, quantity)}"
    notes = (f"{so_much(left, quantity)} on the shelf instead: no whole kit, at the same cost.",)
    return by_hand(shop, draft, kit, DocumentHead("took", title, new, notes), drawn.cost_from, since=since)


def _left(shop: Shop, kit: Part, what: str) -> Part:
    """The part that a kit without that is; the known one where there is one."""
    whole = isinstance(kit.detail, Kit)
    spare = isinstance(kit.detail, Supply) and fold(kit.detail.type) == FITTING and " without " in kit.name
    if not (whole or spare):
        raise BadInput(
            f"“{kit.name}” is a {kit.kind}, and nothing can be taken out of it.", hint="--from names a kit."
        )
    name = f"{kit.name} without its {what}" if whole else f"{kit.name} and its {what}"
    known = shop.catalogue.parts.get(fold(name))
    note = f"{kit.note}; " * bool(kit.note) + "not a whole kit"
    return known or replace(kit, name=name, detail=Supply(FITTING), note=note, level=None)
