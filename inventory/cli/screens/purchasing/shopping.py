"""The supplier list for a person: what it costs, by when to order, per supplier what and why in few words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import partial

from inventory.buying import BasketLine, NearMiss, SupplierOrder
from inventory.cli.drawing.blocks import Block, Cells, Fact, Listing, Screen, Sentence
from inventory.cli.drawing.colour import look, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.screens.purchasing.when import order_by, served
from inventory.ledger.shop import Shop
from inventory.measures import (
    currency,
    listed,
    plural,
    show_amount,
    show_day,
    show_money,
)
from inventory.measures.dates import days_in
from inventory.measures.numbers import fixed
from inventory.reports.purchasing.shopping import Shopping
from inventory.reports.purchasing.shopping_words import (
    certainty,
    chosen_ahead,
    comes_late,
    inspect,
    late_ones,
    late_parcels,
    left_off,
    money,
    nearly,
    not_on_list,
    other_lists,
    waiting,
    waits_in_short,
    within_budget,
)

SAID = 2
"""Sentences of a kind that are said before the rest is left to `--why`."""


SAVED = 3
"""Lines below it where the list was saved: an empty one, the file, the next command."""


def shopping_screen(shop: Shop, result: Shopping, *, saved: bool = False, noted: bool = False) -> list[str]:
    """The list in one page: what is promised first, the rest folded where the page ends.

    saved: it lies in a file; noted: a line was said beside it.
    """
    if not result.basket.bills:
        return draw(Screen(_nothing(result), (), [_beside(shop, result)], doors=_doors(result)))
    first = sorted(result.basket.bills, key=lambda bill: (_first(bill), -bill.landed))
    bills = [block for bill in first for block in _bill(shop, result, bill)]
    groups = [bills, _beside(shop, result)]
    following = None if saved else ("List to send", "kitdrawer shopping --save list.xlsx")
    head, under, doors = _headline(shop, result), _under(shop, result), _doors(result)
    below = (SAVED if saved else 0) + noted
    return draw(Screen(head, under, groups, "", doors, following, below))


def shopping_in_full(shop: Shop, result: Shopping) -> list[str]:
    """Every line with its pack, code, cost and day."""
    groups = [_whole_bill(shop, bill) for bill in result.basket.bills]
    head = _headline(shop, result) if result.basket.bills else _nothing(result)
    screen = Screen(
        head, _under(shop, result), [*groups, _beside(shop, result)], doors=[("Reasons", "--why")]
    )
    return draw(screen, everything=True)


def shopping_reasons(shop: Shop, result: Shopping) -> list[str]:
    """Why each line is on the list, why each other want is not, and what else could be done."""
    year = _year(shop, result)
    lines = [
        Sentence(days_in(f"{line.offer.part}: {'; '.join(line.reasons)}", year), "· ")
        for bill in result.basket.bills
        for line in bill.lines
    ]
    under = [days_in(certainty(shop, result), year), *other_lists(shop, result)] if lines else []
    groups: list[Sequence[Block]] = [lines]
    for title, sentences in (
        ("Late parcels:", late_parcels(shop, result)),
        ("Too late:", (comes_late(shop, one) for one in late_ones(result))),
        ("Not on the list:", (not_on_list(shop, one) for one in left_off(result))),
        ("Waits:", (*waiting(result.ahead), *chosen_ahead(result.ahead)) if result.ahead else ()),
        ("Nearly:", (nearly(shop, one) for one in result.misses)),
        ("Check:", result.warnings),
        ("Inspect:", map(inspect, result.inspections)),
    ):
        said: list[Block] = [Sentence(days_in(one, year), "· ") for one in sentences]
        groups += [[Sentence(title), *said]] if said else []
    head = _headline(shop, result) if result.basket.bills else _nothing(result)
    return draw(Screen(head, under, groups, doors=[("Every line", "--all")]), everything=True)


def _doors(result: Shopping) -> list[tuple[str, str]]:
    wanted = result.demands or (result.ahead is not None and result.ahead.waits)
    return [("Every line", "--all"), ("Reasons", "--why")] if wanted else []


def _nothing(result: Shopping) -> str:
    if result.demands:
        return stop("Nothing can be ordered.") + f" {plural(len(result.demands), 'part')} wanted."
    if result.ahead is not None and result.ahead.waits:
        many = plural(len(result.ahead.waits), "part waits", "parts wait")
        return f"Nothing has to be ordered now; {many} for {show_day(result.ahead.trip)}."
    return f"Nothing is wanted until {show_day(result.until)}."


def _year(shop: Shop, result: Shopping) -> int:
    """The year line 1 says, or this one."""
    found = order_by(result, shop.today)
    return max(found[1], shop.today).year if found else shop.today.year


def _headline(shop: Shop, result: Shopping) -> str:
    count, found = len(result.basket.lines), order_by(result, shop.today)
    text = f"Buy {plural(count, 'line')} for {money(shop, result.basket.total)}"
    if found is None:
        return f"{text}; then there is enough until {show_day(result.until)}."
    bill, day = found
    if day <= shop.today:
        return f"{text}; {bill.supplier.name} {look('today')}, {show_day(shop.today)}."
    return f"{text}; {bill.supplier.name} by {show_day(day)}."


def _under(shop: Shop, result: Shopping) -> list[str]:
    basket = result.basket
    if not basket.bills:
        return []
    waits = listed(served(result))
    said = [f"{waits} {'wait' if len(served(result)) > 1 else 'waits'} for it"] if waits else []
    said.append(f"goods {money(shop, basket.goods)}, postage {money(shop, basket.postage)}")
    known = "No cheaper list exists" if basket.proven else certainty(shop, result).rstrip(".")
    text = "; ".join(said)
    return [f"{text[:1].upper()}{text[1:]}. {known}.", *within_budget(basket.choice)]


def _first(bill: SupplierOrder) -> date:
    """The first day something of it is needed by."""
    return min((line.needed_by for line in bill.lines if line.needed_by), default=date.max)


def _bill(shop: Shop, result: Shopping, bill: SupplierOrder) -> Iterator[Block]:
    coin = currency(bill.supplier.currency)
    postage = f"{fixed(bill.postage, coin.exponent)} postage" if bill.postage else "postage free"
    arrives = f", arrives {show_day(bill.arrives, _year(shop, result))}" if bill.arrives else ""
    yield Sentence(f"{bill.supplier.name}: {show_money(bill.goods, coin)}, {postage}{arrives}")
    lines = sorted(bill.lines, key=lambda line: line.needed_by or date.max)
    columns = (
        Cells("", right=True),
        Cells("Part"),
        Cells("Code", folds=2),
        Cells("Cost", right=True, folds=1),
        Cells("", folds=1),
    )
    rows = [
        [
            f"{line.packs} ×",
            _named(shop, line),
            line.offer.code,
            fixed(line.cost, coin.exponent),
            _reason(shop, result, line),
        ]
        for line in lines
    ]
    least = max(sum(line.needed_by is not None for line in lines), 1)
    yield Listing(columns, rows, bare=True, indent=2, least=least, rest=partial(_rest, lines, coin.exponent))


def _rest(lines: Sequence[BasketLine], places: int, many: int) -> str:
    """What stands for the last lines of a supplier: how many, which, for how much together."""
    folded = lines[len(lines) - many :]
    names = list(dict.fromkeys(line.offer.part for line in folded))
    return f"{many} more, {fixed(sum(line.cost for line in folded), places)}: {listed(names, most=3)}"


def _named(shop: Shop, line: BasketLine) -> str:
    part, pack = shop.catalogue.part(line.offer.part), line.offer.pack
    if pack == 1000 and part.unit == "piece":
        return part.name
    size = show_amount(pack, part.unit)
    return f"{part.name}, {f'pack of {size}' if part.unit == 'piece' else size}"


def _reason(shop: Shop, result: Shopping, line: BasketLine) -> str:
    """One reason: the promises it serves and their day, else why stock is wanted."""
    if line.needed_by is None:
        return days_in(line.reasons[0], _year(shop, result)) if line.reasons else ""
    orders = dict.fromkeys(
        name for one in result.demands if one.part.name == line.offer.part for name in one.orders
    )
    day = show_day(line.needed_by, _year(shop, result))
    return f"{listed(orders, most=2)}, due {day}" if orders else f"by {day}"


def _whole_bill(shop: Shop, bill: SupplierOrder) -> list[Block]:
    coin = currency(bill.supplier.currency)
    arrives = f", arrives {show_day(bill.arrives, shop.today.year)}" if bill.arrives else ""
    sums = f"{show_money(bill.goods, coin)} goods + {show_money(bill.postage, coin)} postage"
    columns = (
        Cells("Packs", right=True, folds=1),
        Cells("Part"),
        Cells("Pack", folds=2),
        Cells("Code", folds=3),
        Cells("Cost", right=True),
        Cells("By", folds=1),
    )
    rows = [
        [
            str(line.packs),
            line.offer.part,
            show_amount(line.offer.pack, shop.catalogue.part(line.offer.part).unit),
            line.offer.code,
            show_money(line.cost, coin),
            show_day(line.needed_by, shop.today.year) if line.needed_by else "",
        ]
        for line in bill.lines
    ]
    return [Sentence(f"{bill.supplier.name}: {sums}{arrives}"), Listing(columns, rows)]


def _beside(shop: Shop, result: Shopping) -> list[Block]:
    """What is late, left off, nearly reached and to be checked, each in a line or two."""
    year = _year(shop, result)
    left = sorted(left_off(result), key=lambda one: not one.want.orders)
    promised = sum(bool(one.want.orders) for one in left)
    most = max(promised, 1 if left else 0)
    return [
        *_some("Late", late_parcels(shop, result), year),
        *_some("Too late", (comes_late(shop, one) for one in late_ones(result)), year),
        *_some("Left off", (not_on_list(shop, one) for one in left), year, most),
        *_some("Waits", waits_in_short(result.ahead) if result.ahead else (), year),
        *_nearest(shop, result),
        *_some("Check", result.warnings, year),
        *_some("Inspect", map(inspect, result.inspections), year),
    ]


def _some(label: str, sentences: Iterable[str], year: int, most: int = SAID) -> list[Block]:
    said = [days_in(one, year) for one in sentences]
    more = f"and {len(said) - most} more: --why" if len(said) > most else ""
    shown = [*said[:most], *([more] if more else [])]
    return [Fact(label if at == 0 else "", one) for at, one in enumerate(shown)]


def _nearest(shop: Shop, result: Shopping) -> list[Block]:
    """The near miss that saves most, in few words."""
    paying = [one for one in result.misses if one.pays and one.saving > 0]
    if not paying:
        return []
    best = max(paying, key=lambda one: one.saving)
    return [Fact("Save", f"{_in_short(shop, best)}, saves {money(shop, best.saving)}: --why")]


def _in_short(shop: Shop, one: NearMiss) -> str:
    if one.kind == "postage":
        coin = currency(shop.catalogue.supplier(one.supplier).currency or shop.currency.code)
        return f"{show_money(one.short, coin)} more at {one.supplier} makes postage free"
    what = one.parts[0] if len(one.parts) == 1 else f"any of {plural(len(one.parts), 'part')}"
    return f"{one.packs} more of {what} at {one.supplier} reaches the next price break"
