"""The catalogue of the made-up shop for scripts/bench.py, as rows of the store's tables."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

FAMILIES, PLATINGS, MATERIALS, SUPPLIERS = 30, 12, 30, 4
ORDERS, PROMISED = 50, 20
BLANKS_A_MATERIAL = 20
TUBES, KITS, TOOLS, BLANKS = 2 * FAMILIES, FAMILIES * PLATINGS, 2 * FAMILIES, MATERIALS * BLANKS_A_MATERIAL

# Where each kind of part begins in the numbering: tubes, kits, tools, blanks, supplies.
TUBE, KIT, TOOL, BLANK, SUPPLY = 0, TUBES, TUBES + KITS, TUBES + KITS + TOOLS, TUBES + KITS + TOOLS + BLANKS
REFILL, BOX, GLUE, PAPER = SUPPLY, SUPPLY + FAMILIES, SUPPLY + FAMILIES + 1, SUPPLY + FAMILIES + 2
LOSSES = (("drill", "1/50"), ("glue", "1/100"), ("turn", "1/20"))

WISH = ("Pattern 1", "--plating", "Plating 1", "--blank", "Blank 1", "--count", "4", "--by", "2027-01-30")
"""The arguments of a `can-take` that this catalogue can answer."""

Table = list[dict[str, Any]]


def catalogue_rows(parts: int) -> dict[str, Table]:
    """Rows by table, each table after the ones it refers to. parts: how many in all."""
    if parts < PAPER + 1:
        raise ValueError(f"at least {PAPER + 1} parts are needed")
    rows: dict[str, Table] = {}
    for piece in (
        _names(),
        _parts(parts),
        _kinds(parts),
        _families(),
        _patterns(),
        _offers(parts),
        _orders(),
    ):
        rows.update(piece)
    return rows


def _named(what: str, how_many: int, **more: Any) -> Table:
    return [
        {"id": n, "key": f"{what} {n}".casefold(), "name": f"{what} {n}", **more}
        for n in range(1, how_many + 1)
    ]


def _names() -> dict[str, Table]:
    numbers = range(1, MATERIALS + 1)
    losses = [(material, *loss) for material in numbers for loss in enumerate(LOSSES)]
    money = {"lead_days": 5, "postage": 495, "free_from": 7500, "minimum_order": None}
    texts = {"currency": "", "email": "", "note": ""}
    return {
        "plating": _named("Plating", PLATINGS),
        "material": _named("Material", MATERIALS, allowance="3 mm", caution="", listed_species=""),
        "material_loss": [
            {"material_id": material, "position": position, "stage": stage, "share": share}
            for material, position, (stage, share) in losses
        ],
        "supplier": _named("Supplier", SUPPLIERS, **money, **texts),
    }


def _labels(parts: int) -> Iterator[tuple[str, str]]:
    yield from (("tube", f"Tube {n + 1}") for n in range(TUBES))
    yield from (("kit", f"Family {n // PLATINGS + 1} kit in plating {n % PLATINGS + 1}") for n in range(KITS))
    yield from (("tool", f"Tool {n + 1}") for n in range(TOOLS))
    yield from (("blank", f"Blank {n + 1}") for n in range(BLANKS))
    yield from (("supply", f"Supply {n + 1}") for n in range(parts - SUPPLY))


def _parts(parts: int) -> dict[str, Table]:
    units = {GLUE + 1: "ml"}
    shared = {"note": "", "level": None}
    return {
        "part": [
            {
                "id": n,
                "key": name.casefold(),
                "name": name,
                "kind": kind,
                "unit": units.get(n, "piece"),
                **shared,
            }
            for n, (kind, name) in enumerate(_labels(parts), 1)
        ]
    }


def _kinds(parts: int) -> dict[str, Table]:
    types = {GLUE: "adhesive", PAPER: "abrasive", BOX: "packaging"}
    blank = {"shape": "square", "width": "20 mm", "length": "150 mm"}
    unset = dict.fromkeys(("net", "tare", "keeps_sealed", "keeps_opened", "density"))
    return {
        "tube": [
            {"part_id": TUBE + n + 1, "outside": "6.9 mm", "length": f"{48 + n % 5} mm", "drill": "7 mm"}
            for n in range(TUBES)
        ],
        "blank": [
            {"part_id": BLANK + n + 1, "material_id": n // BLANKS_A_MATERIAL + 1, **blank}
            for n in range(BLANKS)
        ],
        "supply": [
            {
                "part_id": n + 1,
                "type": "refill" if n < BOX else types.get(n, "sundry"),
                **unset,
                "hazards": "[]",
            }
            for n in range(SUPPLY, parts)
        ],
        "tool": [
            {"part_id": TOOL + n + 1, "type": ("bushings", "trimmer pilot")[n % 2], "size": "", "life": None}
            for n in range(TOOLS)
        ],
    }


def _families() -> dict[str, Table]:
    numbers = range(1, FAMILIES + 1)
    lengths = {"drill": None, "finished_a": "9 mm", "finished_b": "9.5 mm", "length": None}
    families = _named("Family", FAMILIES, makes="pen", note="")
    return {
        "family": [{**family, "refill_id": REFILL + family["id"]} for family in families],
        "family_tool": [
            {"family_id": n, "duty": duty, "position": 0, "part_id": TOOL + 2 * n + side}
            for n in numbers
            for side, duty in ((-1, "bushings"), (0, "trimmer pilot"))
        ],
        "barrel": [
            {"family_id": n, "position": p, "name": name, "tube_id": TUBE + 2 * n - 1 + p, **lengths}
            for n in numbers
            for p, name in enumerate(("upper", "lower"))
        ],
        "kit": [
            {
                "part_id": KIT + n + 1,
                "family_id": n // PLATINGS + 1,
                "plating_id": n % PLATINGS + 1,
                "tubes_inside": False,
            }
            for n in range(KITS)
        ],
    }


BILL = (
    ("cut", "the blank", None, 1000, "piece"),
    ("glue", "the tubes", None, 1000, "piece"),
    ("glue", None, GLUE + 1, 300, "tube glue volume"),
    ("turn", None, PAPER + 1, 20, "barrel area"),
    ("assemble", "the kit", None, 1000, "piece"),
    ("assemble", "the refill", None, 1000, "piece"),
    ("pack", None, BOX + 1, 1000, "piece"),
)


def _patterns() -> dict[str, Table]:
    columns = ("stage", "role", "part_id", "quantity", "per")
    patterns = _named("Pattern", FAMILIES, note="", minutes=45)
    return {
        "pattern": [{**pattern, "family_id": pattern["id"]} for pattern in patterns],
        "bill_line": [
            {"pattern_id": n, "position": p, "taken_id": None, **dict(zip(columns, line, strict=True))}
            for n in range(1, FAMILIES + 1)
            for p, line in enumerate(BILL)
        ],
    }


def _offers(parts: int) -> dict[str, Table]:
    pairs = [(part, supplier) for part in range(1, parts + 1) for supplier in range(1, SUPPLIERS + 1)]
    numbered = list(enumerate(pairs, 1))
    shared = {"price_group": "", "seen_on": date(2026, 9, 1)}
    return {
        "offer": [
            {"id": n, "part_id": p, "supplier_id": s, "pack": 10_000, "code": f"C{p}", **shared}
            for n, (p, s) in numbered
        ],
        "price_step": [
            {"offer_id": n, "from_packs": packs, "price": 10 * (100 + p % 900) + 9 * s - packs}
            for n, (p, s) in numbered
            for packs in (1, 5)
        ],
    }


def _orders() -> dict[str, Table]:
    orders = _named("Order", ORDERS, count=2, customer="", refill_id=None, extra_diameter=None, price=None)
    due = date(2027, 1, 15)
    return {
        "customer_order": [
            {
                **order,
                "pattern_id": order["id"] % FAMILIES + 1,
                "blank_id": BLANK + order["id"],
                "due": due + timedelta(days=order["id"]),
                "state": "wish",
            }
            for order in orders
        ],
        "order_plating": [
            {"order_id": order["id"], "position": 0, "plating_id": order["id"] % PLATINGS + 1}
            for order in orders
        ],
    }
