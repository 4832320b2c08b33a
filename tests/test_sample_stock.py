"""The invented shop of sample_stock/: complete, and agreeing with itself.

Read here with the standard library, so that these counts do not lean on the reader of the sheets.
"""

from __future__ import annotations

import re
from collections import Counter
from datetime import date
from fractions import Fraction

import pytest
import sample_sheets as sample

from inventory.catalogue import PERS, ROLES, STAGES
from inventory.measures import read_length


@pytest.mark.parametrize(
    ("what", "found", "least"),
    [
        ("families", len(sample.tab("families")), 8),
        ("platings", len(sample.tab("platings")), 5),
        ("platings with substitutes", sum(bool(row["substitutes"]) for row in sample.tab("platings")), 5),
        ("materials", len(sample.tab("materials")), 15),
        ("lots of blanks", len(sample.lots_of_blanks()), 40),
        ("measured lots", len(sample.measured()), 10),
        ("supplies", len(sample.tab("supplies")), 30),
        ("tools", len(sample.tab("tools")), 20),
        ("patterns", len(sample.tab("patterns")), 8),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_the_shop_is_large_enough_to_be_believed(what: str, found: int, least: int) -> None:
    """Each tab holds at least what a small shop has."""
    assert found >= least, what


def test_four_suppliers_and_six_orders() -> None:
    """The shop has exactly the suppliers and open orders its README tells of."""
    assert (len(sample.tab("suppliers")), sample.names("orders", "order")) == (
        4,
        [f"S{n}" for n in range(41, 47)],
    )


@pytest.mark.parametrize("name", sample.REQUIRED)
def test_no_required_cell_is_empty(name: str) -> None:
    """Every row fills what its tab asks for, and no row has cells beyond the headings."""
    rows = sample.tab(name)
    empty = [
        (n, column)
        for n, row in enumerate(rows, 2)
        for column in sample.REQUIRED[name]
        if not row[column].strip()
    ]
    ragged = [n for n, row in enumerate(rows, 2) if None in row or None in row.values()]
    assert (bool(rows), empty, ragged) == (True, [], [])


def test_files_are_the_known_tabs() -> None:
    """Nothing but the fifteen tabs, the README and the past lies in the folder."""
    assert {file.name for file in sample.HERE.iterdir()} == {
        *(f"{name}.csv" for name in sample.REQUIRED),
        "README.md",
        "past",
    }


def test_every_part_has_one_name() -> None:
    """A part lives in exactly one tab, once."""
    twice = [part for part, times in Counter(map(str.casefold, sample.parts())).items() if times > 1]
    assert twice == []


def of_type(tab: str, type_: str) -> list[str]:
    """The parts of a type in a tab."""
    return [row["part"] for row in sample.tab(tab) if row["type"] == type_]


REFERENCES = [
    ("offers", "supplier", lambda: sample.names("suppliers", "supplier")),
    ("offers", "part", sample.parts),
    ("platings", "substitutes", lambda: sample.names("platings", "plating")),
    ("families", "refill", lambda: of_type("supplies", "refill")),
    ("families", "bushings", lambda: of_type("tools", "bushings")),
    ("families", "trimmer pilot", lambda: of_type("tools", "trimmer pilot")),
    ("barrels", "family", lambda: sample.names("families", "family")),
    ("barrels", "tube", lambda: [*sample.names("tubes"), "none"]),
    ("kits", "family", lambda: sample.names("families", "family")),
    ("kits", "plating", lambda: sample.names("platings", "plating")),
    ("blanks", "material", lambda: sample.names("materials", "material")),
    ("patterns", "family", lambda: sample.names("families", "family")),
    ("bills", "pattern", lambda: sample.names("patterns", "pattern")),
    ("bills", "stage", lambda: list(STAGES)),
    ("bills", "per", lambda: list(PERS)),
    ("bills", "part", lambda: [*sample.parts(), *ROLES, *sample.names("patterns", "pattern")]),
    ("counts", "part", sample.parts),
    ("orders", "pattern", lambda: sample.names("patterns", "pattern")),
    ("orders", "blank", lambda: sample.names("blanks")),
    ("orders", "platings", lambda: sample.names("platings", "plating")),
    ("orders", "refill", lambda: of_type("supplies", "refill")),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "column", "known"), REFERENCES, ids=[f"{name} {column}" for name, column, _ in REFERENCES]
)
def test_references_resolve(name, column, known) -> None:  # type: ignore[no-untyped-def] # a table of callables
    """Every name in the sheets is the name of something in them."""
    said = {one for cell in sample.names(name, column) for one in sample.several(cell)}
    assert said - set(known()) == set()


def test_every_family_can_be_made() -> None:
    """Each family has a barrel, a kit, a pattern, and a kit in every plating its orders accept."""
    kits = {(row["family"], row["plating"]) for row in sample.tab("kits")}
    family_of = {row["pattern"]: row["family"] for row in sample.tab("patterns")}
    for family in sample.names("families", "family"):
        assert family in sample.names("barrels", "family"), family
        assert family in {one for one, _ in kits}, family
        assert family in family_of.values(), family
    for order in sample.tab("orders"):
        for plating in sample.several(order["platings"]):
            assert (family_of[order["pattern"]], plating) in kits, order["order"]


def test_bills_have_their_roles() -> None:
    """Each pattern names kit, blank, tubes where there are any, refill where known; but for a schedule taken in."""
    taken_in = {row["part"] for row in sample.tab("bills")} & set(sample.names("patterns", "pattern"))
    with_tube = {row["family"] for row in sample.tab("barrels") if row["tube"] != "none"}
    with_refill = {row["family"] for row in sample.tab("families") if row["refill"]}
    for pattern in sample.tab("patterns"):
        if pattern["pattern"] in taken_in:
            continue
        roles = {row["part"] for row in sample.tab("bills") if row["pattern"] == pattern["pattern"]} & set(
            ROLES
        )
        wanted = {"the kit", "the blank"}
        wanted |= {"the tubes"} if pattern["family"] in with_tube else set()
        wanted |= {"the refill"} if pattern["family"] in with_refill else set()
        assert roles == wanted, pattern["pattern"]


def test_one_schedule_is_shared() -> None:
    """One finishing schedule is taken in by two patterns of its own family."""
    family = {row["pattern"]: row["family"] for row in sample.tab("patterns")}
    using = [(row["pattern"], row["part"]) for row in sample.tab("bills") if row["part"] in family]
    assert len(using) == 2
    assert {family[user] for user, _ in using} == {family[part] for _, part in using} == {"Dunlin"}


def test_bills_use_every_stage_and_every_per() -> None:
    """Together the bills reach from cut to pack and multiply by everything there is to multiply by."""
    bills = sample.tab("bills")
    assert {row["per"] for row in bills} == set(PERS)
    assert {row["stage"] for row in bills} == set(STAGES) - {
        "trim"
    }  # trimming squares the ends and uses nothing up


SUMS = {
    **dict.fromkeys(("walnut", "olivewood", "ash", "cherry", "bog oak", "sycamore", "iroko", "rosewood"), 4),
    **dict.fromkeys(("elm burl", "spalted beech", "thuya burl", "heather root"), 12),
    **dict.fromkeys(("red deer antler", "buffalo horn"), 12),
    **dict.fromkeys(("polyester resin", "clear resin"), 10),
    "stabilised maple": 4,
    "acrylic": 6,
}


def test_losses_add_up_to_the_usual_ones() -> None:
    """Per piece over all stages: wood 4 %, burl 12, stabilised 4, acrylic 6, resin 10, antler and horn 12.

    Common practice, no source; 1.5 % of it at assembling, where the kit is lost too.
    """
    for row in sample.tab("materials"):
        lost = [
            Fraction(cell.removesuffix(" %")) for head, cell in row.items() if head.startswith("spoiled at")
        ]
        assert sum(lost) == SUMS[row["material"]], row["material"]
        assert row["spoiled at assemble"] == "1.5 %"


def test_clearances_leave_room_for_glue_but_for_one() -> None:
    """Drill less tube is 0.05 to 0.5 mm (common practice, no source), except the key ring's."""
    outside = {row["part"]: read_length(row["outside diameter"]).mm for row in sample.tab("tubes")}
    off = {
        barrel["family"]
        for barrel in sample.tab("barrels")
        if barrel["tube"] != "none"
        and not Fraction(5, 100)
        <= read_length(sample.drill_of(barrel)).mm - outside[barrel["tube"]]
        <= Fraction(1, 2)
    }
    assert off == {"Lapwing"}


def test_the_barrel_without_a_tube_has_a_length() -> None:
    """Only the stopper has no tube, and then its length is written."""
    assert [
        (row["family"], bool(row["length"])) for row in sample.tab("barrels") if row["tube"] == "none"
    ] == [("Redshank", True)]


def test_walls_are_left_between_hole_and_finish() -> None:
    """No barrel is turned down to its hole."""
    for barrel in sample.tab("barrels"):
        hole = read_length(sample.drill_of(barrel)).mm
        assert (
            min(
                read_length(barrel[end]).mm
                for end in ("finished diameter, end A", "finished diameter, end B")
            )
            > hole
        ), barrel


def test_natural_blanks_are_measured_one_by_one() -> None:
    """Natural blanks are lots of one with two measures and a name; the others have a width and a length."""
    natural = {row["part"] for row in sample.tab("blanks") if row["shape"] == "natural"}
    lots = [row for row in sample.lots_of_blanks() if row["part"] in natural]
    assert lots == sample.measured()
    assert all(row["quantity"] == "1" and row["lot"] for row in lots)
    assert all(row["width"] and row["length"] for row in sample.tab("blanks") if row["part"] not in natural)


def test_offers_step_down_and_start_at_one_pack() -> None:
    """The price of an offer falls with its steps, the first from one pack; packs of 1, 5 and 10 occur."""
    steps: dict[tuple[str, str, str, str], list[tuple[int, Fraction]]] = {}
    for row in sample.tab("offers"):
        key = (row["supplier"], row["part"], row["pack"], row["supplier code"])
        steps.setdefault(key, []).append((int(row["from packs"]), Fraction(row["price"])))
    for key, offer in steps.items():
        assert offer[0][0] == 1, key
        assert [price for _, price in offer] == sorted({price for _, price in offer}, reverse=True), key
        assert [start for start, _ in offer] == sorted({start for start, _ in offer}), key
    kits = set(sample.names("kits"))
    assert {key[2] for key in steps if key[1] in kits} == {"1", "5", "10"}


def test_supplier_codes_are_one_of_a_kind() -> None:
    """One code at one supplier is one pack of one part."""
    packs = {
        (row["supplier"], row["supplier code"], row["part"], row["pack"]) for row in sample.tab("offers")
    }
    assert len({key[:2] for key in packs}) == len(packs)


def test_nearly_everything_is_sold_by_somebody() -> None:
    """Only the copper kit, an offcut, a tubed barrel and fittings out of other kits have no offer."""
    assert set(sample.parts()) - set(sample.names("offers")) == {
        "Whimbrel kit antique copper",
        "elm burl offcut",
        "Greenshank barrel olivewood tubed",
        "Curlew kit chrome without its clip",
        "Avocet fittings chrome without tube",
    }


def test_suppliers_differ_as_suppliers_do() -> None:
    """One is overseas in another currency and slow, one has a minimum order, three post free from a threshold."""
    suppliers = sample.tab("suppliers")
    overseas = [row for row in suppliers if row["currency"]]
    assert [(row["lead days"], row["currency"]) for row in overseas] == [("25", "USD")]
    assert sum(bool(row["minimum order"]) for row in suppliers) == 1
    assert sum(bool(row["free postage from"]) for row in suppliers) == 3
    assert all(row["email"].endswith(".example.com") for row in suppliers)


def test_dates_stay_loadable() -> None:
    """What was received is past, and every order is due after the day the README tells of."""
    received = [date.fromisoformat(row["received on"]) for row in sample.tab("counts") if row["received on"]]
    due = [date.fromisoformat(row["due"]) for row in sample.tab("orders")]
    assert date(2024, 1, 1) <= min(received) <= max(received) < sample.TODAY
    assert date(2026, 12, 3) <= min(due) <= max(due) <= date(2027, 1, 20)


def test_orders_ask_for_everything_an_order_can() -> None:
    """A measured blank, an extra diameter, a refill swap and accepted substitutes each occur."""
    orders = sample.tab("orders")
    natural = {row["part"] for row in sample.measured()}
    assert [row["order"] for row in orders if row["blank"] in natural] == ["S41"]
    assert [row["order"] for row in orders if row["extra diameter"]] == ["S46"]
    assert [row["order"] for row in orders if row["refill"]] == ["S42", "S43"]
    assert [row["order"] for row in orders if len(sample.several(row["platings"])) > 1] == ["S42"]


def test_readme_names_only_what_is_there() -> None:
    """Everything in the README's code marks is a name in the sheets."""
    known = {
        *sample.parts(),
        *(cell for name in sample.REQUIRED for row in sample.tab(name) for cell in row.values()),
    }
    said = set(re.findall(r"`([^`]+)`", (sample.HERE / "README.md").read_text(encoding="utf-8")))
    assert said - known == set()
    assert len(said) > 30
