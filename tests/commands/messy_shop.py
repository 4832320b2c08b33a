"""A shop as messy as any: names with commas, quotes, signs and umlauts, costs nobody knows, losses, in any currency."""

from __future__ import annotations

import csv
import random
from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import cycle
from pathlib import Path

import pytest

from inventory.cli.app import make_app
from inventory.cli.edge import run
from inventory.measures import currency

SUPPLIES = 300
PREFIXES = cycle(
    ("=1+1 ", 'Öl, "fein" ', "+49 ", "-1, ", "@SUM(A1) ", "'", '"', "=A1; ", "½ Maß, ", "Grün & Söhne, ")
)
FAMILY, MATERIAL = "Ünder, „schlank“", "Nuß, schwarz"
TUBE, BLANK = '=7 x 53, "kurz"', "Nußbaum-Rohling, 5″"
KITS = {"Chrom, glänzend": '=Bausatz, "Chrom"', "Gold, 24k": "@Bausatz; Gold, 24k"}
PATTERN, DARK = "=Füller, „schlank“ & Söhne", '"Füller", dunkel'
"""The second takes a supply that nobody knows the cost of."""
SUPPLIER, ABROAD = '=Müller & Söhne, "Kiel"', "Ōsaka, Ltd."
RATES = {"EUR": ("JPY", "0.0062"), "JPY": ("EUR", "161"), "KWD": ("EUR", "0.358")}
"""By the shop's currency: that of its supplier abroad and its rate; the kinds have none, two and three decimals."""
DAYS = ("2025-11-20", "2025-12-03", "2026-01-15", "2026-03-08", "2026-07-19", "2026-09-30", "2026-11-28")


def messy_shop(folder: Path, code: str) -> Path:
    """Make its book in this folder and live through a year of it; the book."""
    draws = random.Random(code)
    book, sheets = folder / "book.kitdrawer", folder / "sheets"
    sheets.mkdir(parents=True)
    names = [f"{next(PREFIXES)}Döse {number}" for number in range(SUPPLIES)]
    other, rate = RATES[code]
    _catalogue(sheets, names, other)
    _counts(sheets, names, code, draws)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("KITDRAWER_STORE", str(book))
        patch.setenv("KITDRAWER_TODAY", DAYS[0])
        _call("begin", "--currency", code, "--rate", f"{other}={rate}")
        _call("load", str(sheets), "--yes", "--sure")
        _year(patch, folder, names, code, draws)
    return book


def coins(code: str, units: float) -> str:
    """So many units of a currency as it is written, to its smallest coin; a yen is worth little, a dinar much."""
    worth = {0: Decimal(160), 2: Decimal(1), 3: Decimal("0.36")}
    places = currency(code).exponent
    return str(round(Decimal(units) * worth[places], places))


def _call(*words: str) -> None:
    assert run(make_app(words), words) in (0, 3), words


def _sheet(folder: Path, name: str, headings: Sequence[str], rows: Iterable[Sequence[object]]) -> Path:
    path = folder / f"{name}.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([headings, *rows])
    return path


def _catalogue(sheets: Path, names: Sequence[str], other: str) -> None:
    def sheet(name: str, headings: str, *rows: Sequence[object]) -> None:
        _sheet(sheets, name, headings.split("|"), rows)

    sheet("suppliers", "supplier|lead days|postage|currency", [SUPPLIER, 3, 4, ""], [ABROAD, 20, 9, other])
    sheet("materials", "material|spoiled at turn", [MATERIAL, "2 %"])
    sheet("platings", "plating", *([one] for one in KITS))
    sheet("tubes", "part|outside diameter|length|drill", [TUBE, "6.85 mm", "53 mm", "7 mm"])
    sheet("families", "family|makes", [FAMILY, "pen"])
    sheet(
        "barrels",
        "family|barrel|tube|finished diameter, end A|finished diameter, end B",
        [FAMILY, "oben, „A“", TUBE, "8.4 mm", "8.4 mm"],
    )
    sheet("kits", "part|family|plating", *([name, FAMILY, plating] for plating, name in KITS.items()))
    sheet("blanks", "part|material|shape|width|length", [BLANK, MATERIAL, "square", "19 mm", "127 mm"])
    sheet("supplies", "part|type|unit", *([name, "finish", ("ml", "g")[len(name) % 2]] for name in names))
    sheet("patterns", "pattern|family|minutes", [PATTERN, FAMILY, 40], [DARK, FAMILY, 25])
    bills = [
        [
            [pattern, "cut", "the blank", 1, "piece"],
            [pattern, "glue", "the tubes", 1, "barrel"],
            *([pattern, "finish", name, 0.7, "piece"] for name in used),
            [pattern, "assemble", "the kit", 1, "piece"],
        ]
        for pattern, used in ((PATTERN, names[1:11]), (DARK, names[:2]))
    ]
    sheet("bills", "pattern|stage|part|quantity|per", *bills[0], *bills[1])


def _counts(sheets: Path, names: Sequence[str], code: str, draws: random.Random) -> None:
    """Every eleventh supply at a cost nobody knows; offers at home and abroad."""
    heads = ("part", "quantity", "unit cost", "lot", "received on")
    rows: list[Sequence[object]] = [
        [name, 7, coins(code, cost), "", "2025-10-02"]
        for name, cost in ((TUBE, 0.4), (BLANK, 2.35), *((one, 4.15) for one in KITS.values()))
    ]
    for at, name in enumerate(names):
        cost = "" if at % 11 == 0 else coins(code, draws.randint(1, 900) / 100)
        lot = f'Lot "{at}", =B{at}' if at % 3 == 0 else ""
        rows.append([name, draws.randint(1, 90_000) / 1000, cost, lot, "2025-10-03" if at % 2 else ""])
    _sheet(sheets, "counts", heads, rows)
    other = RATES[code][0]
    offers: list[Sequence[object]] = [
        *([SUPPLIER, name, 1, coins(code, 4.4)] for name in KITS.values()),
        *([ABROAD, name, 5, coins(other, 17.5)] for name in KITS.values()),
        [SUPPLIER, TUBE, 10, coins(code, 3.9)],
        [SUPPLIER, BLANK, 1, coins(code, 2.6)],
        *([SUPPLIER, name, 50, coins(code, 6.1)] for name in names[1:40] if names.index(name) % 11),
    ]
    _sheet(sheets, "offers", ("supplier", "part", "pack", "price"), offers)


def _year(
    patch: pytest.MonkeyPatch, folder: Path, names: Sequence[str], code: str, draws: random.Random
) -> None:
    """Made, sold at a gain, at a loss and for nobody knows what, given, lent, broken, found, bought and spent."""
    plating, kit = next(iter(KITS.items()))
    piece = f"{PATTERN}, of {kit}, {BLANK}"
    made = ("made", PATTERN, "--blank", BLANK, "--plating", plating)
    for at, day in enumerate(DAYS[1:]):
        patch.setenv("KITDRAWER_TODAY", day)
        _call(*made, "--count", "3", *(("--spoiled", "turn=1") if at % 2 else ()), "--yes")
        _call("add", kit, "4", "--paid", coins(code, 4.3 + at / 10), "--for", "each", "--sure", "--yes")
        _call("add", BLANK, "5", "--paid", coins(code, 12.17), "--for", "all", "--sure", "--yes")
        _call("add", TUBE, "5", "--paid", coins(code, 1.99), "--for", "all", "--sure", "--yes")
        # the even times at a fair price, the others far below what it cost: then less than nothing is left
        price = coins(code, 31.5 if at % 2 == 0 else 0.07)
        _call(
            "sold", piece, "1", "--price", price, "--at", 'Markt, "am Hafen"', "--commission", "7 %", "--yes"
        )
        _call("spent", "Gebühr, „Stand“", coins(code, 12.35), "--at", 'Markt, "am Hafen"', "--yes")
        _sheet(
            folder,
            f"days {at}",
            ("what", "part", "how many", "why", "to"),
            [
                ["sold", piece, 1, "", ""],
                *(
                    [what, name, draws.randint(1, 900) / 1000, *why]
                    for what, name, *why in (
                        ("took", names[at], "gave away", "=Ä"),
                        ("took", names[40 + at], "broke", ""),
                        ("took", names[60 + at], "lent", "Söhne, „B“"),
                        ("found", names[80 + at], "", ""),
                    )
                ),
            ],
        )
        _call("days", str(folder / f"days {at}.csv"), "--yes", "--sure")
    _order(folder, code)


def _order(folder: Path, code: str) -> None:
    """One that needs parts from both suppliers: promised, bought, half of it arrived with its postage."""
    name = "=Auftrag, „1“"
    row = [
        name,
        PATTERN,
        BLANK,
        9,
        "2026-12-12",
        "; ".join(KITS),
        "Ärzte, „Nord“",
        coins(code, 28),
    ]
    heads = ("order", "pattern", "blank", "count", "due", "platings", "customer", "price")
    _call("load", str(_sheet(folder, "orders", heads, [row])), "--yes")
    _call("promise", name, "--yes")
    _call("placed", "--supplier", SUPPLIER, "--yes")
    _call("arrived", "--supplier", SUPPLIER, "--complete", "--postage", coins(code, 4.55), "--yes")
