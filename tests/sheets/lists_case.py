"""Lists made by hand: suppliers with awkward names in three currencies, and what is bought from them."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from inventory.buying import (
    Basket,
    BasketLine,
    NearMiss,
    PackOffer,
    PriceBreak,
    SupplierOrder,
    SupplierTerms,
    Unfilled,
    Want,
)
from inventory.catalogue import Catalogue, Kit, Part, Supplier, Supply, Tool, fold
from inventory.ledger import Book
from inventory.ledger.shop import Shop
from inventory.measures import currency
from inventory.reports.purchasing.demands import Demand, Wear
from inventory.reports.purchasing.placed import Placed
from inventory.reports.purchasing.shopping import Shopping

TODAY = date(2026, 11, 25)
EUR = currency("EUR")
MARSH, REACH, ISLAND = "Salt/Marsh & Sons: turning, fittings and more", "Far Reach", "Island Post"
KIT, GLUE, PADS, ODD = "Dunlin kit chrome", "thin CA", "polishing pads", "=1+1 odd kit"
PARTS = (
    Part(KIT, Kit("Dunlin", "chrome")),
    Part(GLUE, Supply("adhesive"), "ml"),
    Part(PADS, Supply("abrasive"), "pad"),
    Part(ODD, Kit("Dunlin", "odd")),
    Part("saw", Tool("saw", life=50)),
)
SUPPLIERS = (
    Supplier(MARSH, 5, 490, 6000, 3000, "EUR"),
    Supplier(REACH, 30, 2400, 25_000, None, "USD"),
    Supplier(ISLAND, None, 1250, None, 0, "JPY"),
)
RATES = {"EUR": Fraction(1), "USD": Fraction(92, 100), "JPY": Fraction(6, 10)}
"""The shop's minor units for one minor unit; 1 JPY = 0.006 EUR."""
Bought = tuple[str, int, int, int]
"""Part, thousandths in a pack, packs, minor units a pack."""
BOUGHT: Mapping[str, Sequence[Bought]] = {
    MARSH: ((KIT, 1000, 7, 430), (GLUE, 56_000, 1, 705), (ODD, 5000, 2, 1999)),
    REACH: ((PADS, 3000, 4, 333),),
    ISLAND: ((KIT, 1000, 1, 455),),
}


def known(*suppliers: Supplier) -> Catalogue:
    """The catalogue, with more suppliers where they are given."""
    sold = {fold(one.name): one for one in (*SUPPLIERS, *suppliers)}
    return Catalogue({fold(one.name): one for one in PARTS}, suppliers=sold)


def a_shop(catalogue: Catalogue | None = None, book: Book | None = None) -> Shop:
    """A shop that counts in euros and knows two rates."""
    settings = {"rate USD": "0.92", "rate JPY": "0.006"}
    return Shop(catalogue or known(), book or Book(), EUR, TODAY, settings)


def a_basket(bought: Mapping[str, Sequence[Bought]], **more: Any) -> Basket:
    """The basket of what is bought, at the suppliers' terms."""
    bills = tuple(_bill(name, rows) for name, rows in bought.items())
    goods = sum((b.goods * RATES[b.supplier.currency] for b in bills), Fraction(0))
    total = sum((b.landed for b in bills), Fraction(0))
    usual: dict[str, Any] = {"proven": True, "bound": total, "unfilled": ()}
    usual |= more
    return Basket(bills, goods=goods, postage=total - goods, total=total, seconds=0.1, **usual)


def _bill(name: str, rows: Sequence[Bought]) -> SupplierOrder:
    one = next(s for s in SUPPLIERS if s.name == name)
    seller = SupplierTerms(name, one.lead_days, one.currency, one.postage, one.free_from, one.minimum_order)
    lines = []
    for number, (part, pack, packs, price) in enumerate(rows):
        offer = PackOffer(f"{name}/{number}", name, part, pack, (PriceBreak(1, price),), code=f"={number}-7")
        day = date(2026, 12, 14) if number == 0 else None
        lines.append(BasketLine(offer, packs, price, packs * price, day, ("reed is promised", "0 free")))
    goods = sum(line.cost for line in lines)
    postage = seller.postage_on(goods)
    landed = (goods + postage) * RATES[one.currency]
    return SupplierOrder(seller, tuple(lines), goods, postage, landed, seller.arrives(TODAY))


def a_list(basket: Basket | None = None, **more: Any) -> Shopping:
    """A list with something of everything that is said about it."""
    want = Want(KIT, 3000, date(2026, 12, 1), reasons=("heron is promised",))
    basket = basket or a_basket(
        BOUGHT, unfilled=(Unfilled(want, "nobody has it in time", date(2026, 12, 9)),)
    )
    usual: dict[str, Any] = {
        "demands": (Demand(PARTS[0], 8000, date(2026, 12, 14), 0, "reed is promised"),),
        "per_line": basket.total + 250,
        "one_supplier": (MARSH, basket.total),
        "misses": (
            NearMiss(MARSH, "step", (KIT, ODD), Fraction(300), 1, Fraction(100), Fraction(400)),
            NearMiss(REACH, "postage", (PADS,), Fraction(0), short=1200, fee=Fraction(2208), pays=False),
        ),
        "warnings": ("thin CA may not go by air post.",),
        "inspections": (Wear(PARTS[4], 45, 50),),
        "until": date(2027, 1, 20),
    }
    return Shopping(basket, **(usual | more))


def rows_of(bought: Mapping[str, Sequence[Bought]]) -> list[Placed]:
    """What placing the list as it is would order."""
    return [
        Placed(name, part, pack, packs, price, f"={number}-7")
        for name, rows in bought.items()
        for number, (part, pack, packs, price) in enumerate(rows)
        if packs
    ]


def office(path: Path, form: str = "xlsx") -> Path:
    """The file as an office program saves it; skips the test where there is none."""
    program = shutil.which("soffice")
    if program is None:
        pytest.skip("no office program on this machine")
    out = path.parent / "office"
    own = f"-env:UserInstallation={(path.parent / 'profile').as_uri()}"
    words = [program, own, "--headless", "--convert-to", form, "--outdir", str(out), str(path)]
    subprocess.run(words, check=True, capture_output=True, timeout=240)
    return out / f"{path.stem}.{form.partition(':')[0]}"
