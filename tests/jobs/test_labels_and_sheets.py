"""Labels of what stands there, and which sheet takes another's place: small shelves and sheets, by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.catalogue import Catalogue, Known, Part, Piece, PriceStep, Supply, fold
from inventory.jobs.stock.labels import CARE, GOVERNS, labels_of
from inventory.jobs.stock.sheet_changes import FieldChange, changes, left_out, succeeding, vanished
from inventory.jobs.stock.sheet_rows import SheetRow, _said, rows_of
from inventory.jobs.stock.shelf import Filters
from inventory.ledger.documents.intake import SheetTab
from inventory.measures import show_day
from inventory.reports.labels import LabelKind, PartLabel
from jobs import goods
from jobs.shop import EUR, TODAY, Stock, order, plenty, shop


def labelled(
    stock: Stock, filters: Filters, kind: LabelKind, known: Catalogue | None = None
) -> list[PartLabel]:
    """The labels of a shop whose parts are numbered as a book numbers them."""
    known = known or goods.catalogue()
    numbered = Known(known.parts, numbers=dict(enumerate(known.parts, 1)))
    return list(labels_of(shop(stock, replace(known, parts=numbered)), filters, kind))


def bottles(stock: Stock, part: str) -> list[list[str]]:
    """The lines of every label of a part's bottles."""
    return [list(one.lines) for one in labelled(stock, Filters(part=part), "bottles")]


@pytest.mark.parametrize(("ml", "labels"), [(1, 1), (56, 1), (57, 2), (112, 2), (113, 3)])
def test_a_label_for_every_sealed_bottle(ml: int, labels: int) -> None:
    """56 ml in each; the last one may hold less."""
    assert (
        bottles(plenty().with_only(goods.GLUE, 1000 * ml), goods.GLUE)
        == [["opened on ____________"]] * labels
    )


def test_an_open_bottle_is_one_with_its_day() -> None:
    """Good for 90 days from opening, the last day still; sealed for a year; a lot's own name is told."""
    stock = plenty().without(goods.GLUE)
    stock.lot(goods.GLUE, 100_000, name="opened", opened_on=TODAY - timedelta(days=90))
    stock.lot(goods.GLUE, 10_000, name="L7", opened_on=TODAY - timedelta(days=91))
    stock.lot(goods.GLUE, 56_000, name="sealed", received_on=TODAY - timedelta(days=365))
    opened, gone = (show_day(TODAY - timedelta(days=days)) for days in (90, 91))
    assert bottles(stock, goods.GLUE) == [
        [f"opened {opened}", f"best before {show_day(TODAY)}"],
        [f"opened {gone}", f"OUT OF DATE since {show_day(TODAY - timedelta(days=1))}", "lot L7"],
        ["opened on ____________", f"best before {show_day(TODAY)}"],
    ]


def test_what_is_neither_dangerous_nor_goes_off_has_no_bottle_label() -> None:
    """Abrasive has none; what is dangerous says so, and who governs."""
    assert bottles(plenty(), goods.STRIP) == []
    (one,) = labelled(plenty(), Filters(part=goods.FINISH), "bottles")
    assert one.small.endswith(GOVERNS)
    assert len(one.small) > len(GOVERNS)


def test_drawers_say_what_one_looks_for() -> None:
    """Tubes of a kit, the drill of a tube, a blank's size, a tool's where its name has it not, and the level."""
    known = goods.catalogue()
    known = known.with_parts(
        replace(known.part(goods.EPOXY), drawer="4"), replace(known.part(goods.TUBE), drawer="Drawer 5")
    )
    labels = {one.part: list(one.lines) for one in labelled(plenty(), Filters(), "drawers", known)}
    assert labels[goods.CHROME_KIT] == [f"takes {goods.TUBE}"]
    assert labels[goods.GODWIT_KIT] == []
    assert labels[goods.TUBE] == ["Drawer 5", "drill 27/64"]
    assert labels[goods.OLIVE] == ["19 mm × 127 mm"]
    assert labels[goods.ANTLER] == labels[goods.DRILL] == []
    assert labels[goods.SAW] == ["1.2 mm"]
    assert labels[goods.EPOXY] == ["drawer 4", "reorder at 10 ml"]


def test_a_label_for_every_finished_piece() -> None:
    """At what such a piece was sold for last."""
    piece = Part("made", Piece("Turnstone gloss", goods.CHROME_KIT, goods.OLIVE))
    stock = plenty()
    stock.lot("made", 2000)
    known = goods.catalogue().with_parts(piece)
    one, other = labelled(stock, Filters(), "pieces", known)
    assert one == other
    assert (one.part, list(one.lines), one.small, one.price) == (
        "Turnstone gloss",
        ["chrome, olive wood"],
        CARE,
        "",
    )
    stock.orders.append(order(price=3150, state="handed over"))
    assert {one.price for one in labelled(stock, Filters(), "pieces", known)} == {"31.50 EUR"}


def tab(sheet: str, rows: str, name: str = "kits", instead_of: str = "") -> SheetTab:
    """A tab whose rows are single letters."""
    return SheetTab(sheet, name, frozenset(rows), instead_of)


@pytest.mark.parametrize(
    ("now", "before", "earlier"),
    [
        (tab("a", "xy"), [tab("a", "yz")], "a"),
        (tab("b", "xy"), [tab("a", "yz")], "a"),
        (tab("b", "xy"), [tab("a", "yzw")], ""),
        (tab("b", "xyz"), [tab("a", "xv"), tab("c", "yzw")], "c"),
        (tab("b", "xy"), [tab("a", "xy", "tubes")], ""),
        (tab("b", "xy"), [tab("b", "zw"), tab("a", "xy")], "a"),
        (tab("b", "xy"), [tab("a", "")], ""),
    ],
    ids=["itself", "half", "less", "most", "another tab", "renamed", "empty"],
)
def test_whose_place_a_sheet_takes(now: SheetTab, before: list[SheetTab], earlier: str) -> None:
    """Its own where a row is the same, else of those with half of their rows in it the one with most."""
    assert succeeding([now], before) == (replace(now, instead_of=earlier),)


def test_rows_that_stand_nowhere_any_more() -> None:
    """y and z were in the sheet that is succeeded; z still stands in a third."""
    before = [tab("a", "xyz"), tab("c", "zw"), tab("a", "q", "tubes")]
    assert vanished([tab("b", "x", instead_of="a")], before) == {("kits", "y")}


def test_what_a_row_changes() -> None:
    """New, changed field by field, and a line of a bill that was replaced as a whole."""
    old = SheetRow("bills", "one", {"quantity": (1, "1"), "note": ("a", "A"), "day": (2, "2")})
    now = SheetRow("bills", "one", {"quantity": (3, "3"), "note": ("a", "a"), "much": (4, "4")})
    key, other, beside = ("bills", "p\x1fx"), ("bills", "p\x1fy"), ("bills", "q\x1fy")
    changed, new = changes({key: old}, {key: now, other: now})
    assert (changed.what, new.what, new.fields) == ("changed", "new", ())
    assert changed.fields == (
        FieldChange("quantity", "1", "3"),
        FieldChange("day", "2", ""),
        FieldChange("much", "", "4"),
    )
    assert list(changes({key: old}, {key: old})) == []
    (gone,) = left_out({key: old, other: old, beside: old}, {key: now})
    assert (gone.what, gone.replaced) == ("gone", True)


def test_prices_are_shown_from_how_many_packs_on() -> None:
    """The first from one pack; in the supplier's own coin."""
    known = goods.catalogue()
    rows = rows_of(known, known, EUR)
    shown = {
        row.says["price"][1] for (tab, _), row in rows.items() if tab == "offers" and goods.TUBE in row.name
    }
    assert shown == {"4.00 EUR, 3.20 EUR from 10"}
    far = next(row for row in rows.values() if row.name.endswith("FS-7"))
    assert far.says["price"][1] == "15.00 USD"
    offer = known.offers[fold(goods.TUBE)][0]
    two = replace(known, offers={"tube 27/64": (replace(offer, steps=(PriceStep(2, 390),)),)})
    (row,) = (one for one in rows_of(two, known, EUR).values() if one.tab == "offers")
    assert row.says["price"][1] == "3.90 EUR from 2"


def test_what_a_field_of_a_row_says() -> None:
    """Days as days, amounts in their unit, money in its coin, nothing as nothing; what is told elsewhere not at all."""
    supply = Supply("adhesive", 56_000, None, 365, None, ("H315", "EUH202"))
    found = _said(supply, ("type",), amounts={"net": "ml"})
    assert "type" not in found
    told = {name: found[name] for name in ("net", "tare", "keeps_sealed", "keeps_opened", "hazards")}
    assert told == {
        "net": (56_000, "56 ml"),
        "tare": ("", ""),
        "keeps_sealed": (365, "365 days"),
        "keeps_opened": ("", ""),
        "hazards": (("h315", "euh202"), "H315; EUH202"),
    }
    supplier = _said(goods.SUPPLIERS[0], money={"postage": EUR, "minimum_order": EUR})
    assert (supplier["postage"], supplier["minimum_order"]) == ((490, "4.90 EUR"), ("", ""))
    assert supplier["lead_days"] == (5, "5 days")
