"""Every tab and column a workbook may have, in the order a template shows them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from inventory.catalogue import (
    PERS,
    ROLES,
    STAGES,
    Barrel,
    BillLine,
    Blank,
    Family,
    Kit,
    Material,
    Offer,
    Order,
    Part,
    Pattern,
    Plating,
    Supplier,
    Supply,
    Tool,
    Tube,
)
from inventory.catalogue.usual.finishes import finishes
from inventory.ledger import Count
from inventory.ledger.markets import Market
from inventory.sheets.files import fold_heading
from inventory.sheets.stock.columns import PART_OF, Notation, StockColumn, Tab

SHAPES = ("square", "round", "natural")
SUPPLY_TYPES = (
    *("adhesive", "abrasive", "finish", "solvent", "sundry", "packaging"),
    *("refill", "spare fitting"),
)
TOOL_TYPES = ("drill", "bushings", "trimmer pilot", "trimmer", "saw", "cutter", "insert", "sundry")
MAKES = ("pen", "pencil", "seam ripper", "stopper", "key ring")
LOSING_STAGES = STAGES[:-1]


def lost_at(stage: str) -> str:
    """The key of the share that is spoiled at a stage."""
    return f"lost at {stage}"


def _may(
    heading: str,
    notation: Notation,
    means: str,
    example: str,
    *,
    choices: tuple[str, ...] = (),
    names: str = "",
    least: int = 0,
    most: int = 10_000,
    own_words: bool = False,
    field: str = "",
    once: tuple[str, ...] = (),
) -> StockColumn:
    return StockColumn(
        heading, notation, means, example, False, choices, names, least, most, own_words, field, once
    )


def _must(heading: str, notation: Notation, means: str, example: str, **more: Any) -> StockColumn:
    return replace(_may(heading, notation, means, example, **more), required=True)


_NOTE = _may("note", "text", "Anything worth remembering.", "fits the slim bushings too")
_PART = _must(
    "part", "name", "The part's name, one of a kind in the whole shop.", "Dunlin kit, chrome", field="name"
)
_OF_EVERY_PART = (
    _may(
        "reorder level",
        "amount",
        "Buy again when less than this is free; empty: worked out.",
        "10",
        field="level",
    ),
    _may("drawer", "text", "Where it lies; a count sheet goes from drawer to drawer.", "drawer 3"),
    _NOTE,
)
"""Columns at the end of every tab of parts."""


def _parts(name: str, means: str, kind: type, *columns: StockColumn) -> Tab:
    """A tab of one kind of part: its name, what is said of the kind alone, what is said of every part."""
    part = replace(_PART, example=PART_OF[name])
    return Tab(name, means, (part, *columns, *_OF_EVERY_PART), makes=(Part, kind))


_SUPPLIERS = Tab(
    "suppliers",
    "Who sells to the shop, how long it takes and what posting costs.",
    (
        _must("supplier", "name", "The supplier's name.", "Saltmarsh Turning Supplies", field="name"),
        _must("lead days", "whole", "Days from ordering to arrival.", "5", most=730),
        _may("postage", "money", "What one parcel costs to post.", "4.90"),
        _may(
            "free postage from", "money", "Goods value from which posting is free.", "60", field="free_from"
        ),
        _may("minimum order", "money", "Least goods value this supplier accepts.", "25"),
        _may("currency", "currency", "Currency of this supplier's prices; empty: the shop's own.", "EUR"),
        _may("email", "text", "Where orders go.", "orders@saltmarsh.example.com"),
        _NOTE,
    ),
    makes=(Supplier,),
)

_OFFERS = Tab(
    "offers",
    "What a supplier sells: one row per price break.",
    (
        _must("supplier", "name", "Who offers it.", "Saltmarsh Turning Supplies", names="suppliers"),
        _must("part", "name", "The part offered.", "Dunlin kit, chrome", names="parts"),
        _must("pack", "amount", "How much of the part one pack holds.", "5"),
        _must("price", "money", "Price of one pack, in the supplier's currency.", "21.50"),
        _may("supplier code", "text", "What the supplier calls it.", "SM-1042", field="code"),
        _may("from packs", "whole", "Packs from which this price holds; empty: 1.", "10", least=1),
        _may("price group", "text", "Offers of one group count together for the price break.", "slim kits"),
        _may("seen on", "date", "The day the price was seen.", "2026-03-14"),
        _may(
            "at most packs",
            "whole",
            "Packs the supplier has left; 0: sold out; empty: as many as wanted.",
            "12",
            field="at_most",
        ),
    ),
    makes=(Offer,),
)

_MATERIALS = Tab(
    "materials",
    "What blanks are made of, what cutting wastes and what gets spoiled at each stage.",
    (
        _must("material", "name", "The material's name.", "olive wood", field="name"),
        _may("allowance", "length", "Length to add to each tube when cutting.", "3.2 mm", most=100),
        *(
            _may(f"spoiled at {stage}", "share", f"Share of the pieces spoiled at the stage “{stage}”.", "2 %",
                 field=lost_at(stage), once=(lost_at(stage),))
            for stage in LOSING_STAGES
        ),
        _may("caution", "text", "What to mind when working it.", "wear a respirator"),
        _may("protected species", "text", "Species under trade control, as the papers name it.",
             "Dalbergia, annex II", field="listed_species", once=("listed species",)),
    ),
    makes=(Material,),
)  # fmt: skip

_PLATINGS = Tab(
    "platings",
    "Metal finishes of kits, and which may stand in for one another.",
    (
        _must("plating", "name", "The plating's name.", "chrome", field="name"),
        _may(
            "substitutes", "names", "Platings that may stand in, with the customer's word.", "rhodium; platinum",
            names="platings", once=("stand-ins",),
        ),
    ),
    makes=(Plating,),
)  # fmt: skip

_TUBES = _parts(
    "tubes",
    "Brass tubes, measured.",
    Tube,
    _may("outside diameter", "length", "Measured outside diameter.", "6.85 mm", most=100, field="outside"),
    _may("length", "length", "Length of the tube.", "53 mm", most=1000),
    _may("drill", "drill", "The drill its hole wants.", "7 mm"),
)

_FAMILIES = Tab(
    "families",
    "Kits of one geometry: what they make and what they need.",
    (
        _must("family", "name", "The family's name.", "Dunlin", field="name"),
        _must("makes", "choice", "What it makes.", "pen", choices=MAKES, own_words=True),
        _may("refill", "name", "The refill it takes, a part.", "slim refill, blue", names="supplies"),
        _may("bushings", "names", "Its bushings, tools.", "Dunlin bushings", names="tools"),
        _may(
            "trimmer pilot",
            "names",
            "Its trimmer pilots, tools.",
            "7 mm pilot",
            names="tools",
            field="trimmer_pilots",
        ),
        _NOTE,
    ),
    makes=(Family,),
)

_BARRELS = Tab(
    "barrels",
    "The barrels of each family: one row per tube's worth of blank.",
    (
        _must("family", "name", "The family it belongs to.", "Dunlin", names="families"),
        _must("barrel", "name", "The barrel's name in its family.", "lower", field="name"),
        _must(
            "tube",
            "name",
            "Its tube, a part; the word none for a barrel without one.",
            "7 mm tube",
            names="tubes",
        ),
        _may("drill", "drill", "Drill of this barrel; empty: the tube's.", "7 mm"),
        *(
            _may(
                f"finished diameter, end {end.upper()}",
                "length",
                f"Diameter of the finished barrel at {which} end.",
                "8.4 mm",
                most=200,
                field=f"finished_{end}",
                once=(f"finished {end}",),
            )
            for end, which in (("a", "the first"), ("b", "the other"))
        ),
        _may("length", "length", "Length of a barrel without a tube.", "60 mm", most=1000),
    ),
    makes=(Barrel,),
)

_KITS = _parts(
    "kits",
    "The fittings of one piece in one plating.",
    Kit,
    _must("family", "name", "Its family.", "Dunlin", names="families"),
    _must("plating", "name", "Its plating.", "chrome", names="platings"),
    _may("tubes included", "yes or no", "Whether its tubes come, and are counted, with it; empty: no.", "no",
         choices=("yes", "no"), field="tubes_inside", once=("tubes inside",)),
)  # fmt: skip

_BLANKS = _parts(
    "blanks",
    "Raw material to turn.",
    Blank,
    _must("material", "name", "What it is made of.", "olive wood", names="materials"),
    _may("shape", "choice", "Its section; natural ones are measured in counts.", "square", choices=SHAPES),
    _may("width", "length", "Side of the square, or diameter of the round.", "19 mm", most=500),
    _may("length", "length", "Length of one blank.", "127 mm", most=5000),
)

_SUPPLIES = _parts(
    "supplies",
    "What gets used up: glues, abrasives, finishes, packaging, refills, spare fittings.",
    Supply,
    _may("type", "choice", "What kind of supply.", "adhesive", choices=SUPPLY_TYPES, own_words=True),
    _may("unit", "unit", "What it is counted in.", "ml"),
    _may("net", "amount", "What one full container holds.", "59 ml"),
    _may("tare", "amount", "Weight of the empty container, in grams.", "12 g"),
    _may("shelf life sealed", "days", "How long it keeps unopened.", "12 months",
         field="keeps_sealed", once=("keeps sealed",)),
    _may("shelf life opened", "days", "How long it keeps once opened.", "8 weeks",
         field="keeps_opened", once=("keeps opened",)),
    _may("hazards", "codes", "Hazard statements of its safety data sheet; none where it has none.",
         "H315; H319; H335"),
    _may("density", "density", "Grams in a millilitre, for counting bottles by weight.", "1.05"),
    _may("working time", "minutes", "How long a mix of it stays workable; empty: it is not mixed.", "5 min",
         field="works"),
)  # fmt: skip

_TOOLS = _parts(
    "tools",
    "What wears: drills, bushings, trimmer pilots, cutters.",
    Tool,
    _must("type", "choice", "What kind of tool.", "drill", choices=TOOL_TYPES, own_words=True),
    _may("size", "text", "Its size: a drill's designation, a saw's kerf.", "7 mm"),
    _may(
        "inspect after, in uses",
        "whole",
        "Uses after which to look whether it is worn.",
        "300",
        least=1,
        most=10_000_000,
        field="life",
        once=("life",),
    ),
)

_PATTERNS = Tab(
    "patterns",
    "What the shop makes.",
    (
        _must("pattern", "name", "The pattern's name.", "Dunlin slim, CA finish", field="name"),
        _must("family", "name", "The family it is made from.", "Dunlin", names="families"),
        _may("minutes", "whole", "Minutes of work in one piece.", "35", least=1, most=10_000),
        _NOTE,
        _may(
            "makes",
            "choice",
            "What it makes, where no row of families says it.",
            "pen",
            choices=MAKES,
            own_words=True,
        ),
        _may("finish", "choice", "Its finishing schedule, where no bill says it.", "CA", choices=finishes()),
    ),
    makes=(Pattern,),
)

_BILLS = Tab(
    "bills",
    "Bills of materials: one row for each thing a pattern uses.",
    (
        _must("pattern", "name", "The pattern.", "Dunlin slim, CA finish", names="patterns"),
        _must("stage", "choice", "The stage at which it is used.", "glue", choices=STAGES),
        _must(
            "part", "name", f"A part; one of {', '.join(ROLES)}; or another pattern of the family, whole.",
            "the tubes", names="bill parts",
        ),
        _must("quantity", "amount", "How much of it for one of what stands under `per`.", "1.2 ml"),
        _must("per", "choice", "What the quantity is multiplied by: a piece, a barrel, 1 ml of glue around tubes, "
              "1 cm² of barrel, or a session.", "piece", choices=PERS),
    ),
    makes=(BillLine,),
)  # fmt: skip

_COUNTS = Tab(
    "counts",
    "What is on the shelf now.",
    (
        _must("part", "name", "The part counted.", "thin CA", names="parts"),
        _must("quantity", "amount", "How much there is.", "2 bottles"),
        _may("unit cost", "unit price", "What one unit cost, in the shop's currency.", "0.144"),
        _may("lot", "text", "A name for this lot.", "March parcel"),
        _may("received on", "date", "The day it came.", "2026-03-14"),
        _may("opened on", "date", "The day the container was opened.", "2026-04-01"),
        _may("use by", "date", "The day after which it is not to be trusted.", "2027-03-14"),
        _may(
            "smallest diameter", "length", "Of a measured blank: its smallest diameter.", "17.5 mm", most=500
        ),
        _may("length", "length", "Of a measured blank: its straight length.", "110 mm", most=5000),
        _may("paid", "money", "In place of a unit cost: what was paid, in the shop's currency.", "7.20"),
        _may("for", "text", "What that was paid for: pack, bottle, all, or an amount.", "bottle"),
    ),
    makes=(Count,),
)

_ORDERS = Tab(
    "orders",
    "What customers have ordered, or ask for.",
    (
        _must("order", "name", "The order's name.", "harbour gift", field="name"),
        _must("pattern", "name", "What is to be made.", "Dunlin slim, CA finish", names="patterns"),
        _must(
            "blank",
            "name",
            "The blank, or those that would do: ash or walnut; any wood; any.",
            "olive blank",
            names="blanks",
        ),
        _must("count", "whole", "How many.", "4", least=1),
        _must("due", "date", "The day it has to be ready.", "2026-12-01"),
        _may("plating", "name", "The plating wanted.", "chrome", names="platings"),
        _may("platings", "names", "Platings accepted, the one wanted first.", "chrome; rhodium"),
        _may("customer", "text", "Who it is for.", "the harbour office"),
        _may("refill", "name", "A refill other than the family's.", "gel refill, black", names="supplies"),
        _may("extra diameter", "length", "How much thicker the barrel is to be.", "1 mm", most=50),
        _may("price", "money", "The price agreed for one piece.", "48"),
    ),
    makes=(Order,),
)

_MARKETS = Tab(
    "markets",
    "Days of markets to come, which `levels`, `shopping` and `rehearse` look ahead to.",
    (
        _must("market", "text", "Its name, as in `sold --at`.", "harbour market", field="name"),
        _must("day", "date", "The day it is on.", "2026-12-12", field="on"),
        _may("expected", "whole", "Pieces to be sold; empty: as its past days went.", "20"),
    ),
    makes=(Market,),
)

TABS: Mapping[str, Tab] = {
    tab.name: tab
    for tab in (
        *(_SUPPLIERS, _OFFERS, _MATERIALS, _PLATINGS, _TUBES, _FAMILIES, _BARRELS, _KITS),
        *(_BLANKS, _SUPPLIES, _TOOLS, _PATTERNS, _BILLS, _COUNTS, _ORDERS, _MARKETS),
    )
}
"""Every tab by its name, in the order a template shows them."""


def headings_of(name: str) -> frozenset[str]:
    """The folded headings of the tab of this name, of all tabs where it is none of ours."""
    ours = [tab for one, tab in TABS.items() if fold_heading(one) == fold_heading(name)]
    return frozenset(place for tab in ours or TABS.values() for place in tab.places)
