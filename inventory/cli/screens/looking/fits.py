"""What goes with a family, for a person: whether all of it is here; then sizes, tools, kits, and blanks big enough."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inventory.catalogue import Kit
from inventory.cli.drawing.blocks import Block, Cells, Fact, Group, Listing, Screen, Sentence
from inventory.cli.drawing.colour import stop
from inventory.cli.drawing.draw import draw
from inventory.jobs.orders.needs import usable_free
from inventory.jobs.stock.fits import FamilyFit
from inventory.ledger.shop import Shop
from inventory.making.fit import ToolNeed
from inventory.measures import listed, plural, show_amount, show_length, show_measurable, show_mm


def fits_screen(shop: Shop, answer: FamilyFit, usual: str, *, everything: bool = False) -> list[str]:
    """One page; everything: each blank, and why each other is too small. usual: a sentence on figures not one's own."""
    unfit = [Sentence(one, "· ") for blank in answer.blanks for one in blank.unfit]
    rest = [f"Saw kerf {answer.kerf_mm:g} mm"]
    if unfit and not everything:
        rest.append(plural(len(unfit), "blank or lot is too small", "blanks or lots are too small"))
    values = usual.partition(": ")[2]
    groups: list[Group] = [
        [_barrels(shop, answer)],
        [*_tools(answer.tools), *_beside(answer), Fact("Usual", values and f"not your own: {values}")],
        _blanks(answer),
        [Sentence("Too small:"), *unfit] if unfit and everything else [],
    ]
    note = answer.family.note
    under = [f"{note[:1].upper()}{note[1:]}"] if note else []
    doors = [] if everything else [("Every blank", "--all")]
    return draw(Screen(_headline(answer), under, groups, ". ".join(rest), doors), everything=everything)


def _headline(answer: FamilyFit) -> str:
    """Which tools are missing, how many kits are free, how many blanks are big enough."""
    gone = [_named(tool) for tool in answer.tools if not tool.there]
    tools = f"{stop('MISSING')} {listed(gone)}; " if gone else "all tools here, " if answer.tools else ""
    free = sum(many for _, many in answer.kits)
    kits = f"{show_amount(free, 'piece')} {'kit' if free == 1000 else 'kits'} free"
    blanks = plural(sum(one.pieces > 0 for one in answer.blanks), "blank")
    return f"{answer.family.name}, {answer.family.makes}: {tools}{kits}, {blanks} big enough."


def _barrels(shop: Shop, answer: FamilyFit) -> Listing:
    """The sizes; barrels that are alike share a row."""
    columns = (
        Cells("Barrel"),
        Cells("Tube"),
        Cells("Free", right=True, folds=1),
        Cells("Outside", right=True, folds=4),
        Cells("Drill", folds=2),
        Cells("Clearance", right=True, folds=5),
        Cells("Finished, end A / B", folds=3),
    )
    alike: dict[tuple[str, ...], list[str]] = {}
    for fit, barrel in zip(answer.barrels, answer.family.barrels, strict=True):
        tube = shop.catalogue.part(fit.tube) if fit.tube else None
        ends = [show_mm(end.mm) for end in (barrel.finished_a, barrel.finished_b) if end]
        outside = getattr(tube.detail, "outside", None) if tube else None
        cells = (
            tube.name if tube else "none",
            show_measurable(usable_free(shop, tube), tube.unit, down=True) if tube else "",
            show_length(outside) if outside else "",
            fit.drill.designation if fit.drill else "",
            show_mm(fit.clearance) if fit.clearance is not None else "",
            " / ".join(dict.fromkeys(ends)),
        )
        alike.setdefault(cells, []).append(fit.barrel)
    return Listing(columns, [[", ".join(names), *cells] for cells, names in alike.items()])


def _tools(tools: Sequence[ToolNeed]) -> Iterator[Fact]:
    """What is here, each that is missing, and which near twin is not to be taken for one."""
    here = [_named(tool) for tool in tools if tool.there]
    yield Fact("Tools", listed(here, most=len(here)))
    gone = [f"{_named(tool)}{_twins(tool)}" for tool in tools if not tool.there]
    yield from (Fact("Missing" if at == 0 else "", text) for at, text in enumerate(gone))
    near = [f"{_named(tool)}{_twins(tool)}" for tool in tools if tool.there and tool.instead]
    yield from (Fact("Mix-up" if at == 0 else "", text) for at, text in enumerate(near))


def _named(tool: ToolNeed) -> str:
    """Its name in the book, and what size it stands for where the name does not say it."""
    if tool.stage != "drill":
        return tool.part or tool.what
    return f"{tool.what} ({tool.part})" if tool.part and tool.part not in tool.what else tool.what


def _twins(tool: ToolNeed) -> str:
    return f"; near twin here: {listed(tool.instead)}, not the same hole" if tool.instead else ""


def _beside(answer: FamilyFit) -> list[Block]:
    """Refill, kits by plating with what is free, and what is to be checked."""
    refill = answer.refill
    kits = [
        f"{kit.detail.plating if isinstance(kit.detail, Kit) else kit.name} {show_amount(free, kit.unit)}"
        for kit, free in answer.kits
    ]
    warnings = dict.fromkeys(one for fit in answer.barrels for one in fit.warnings)
    return [
        Fact(
            "Refill", f"{refill.name}, {show_amount(answer.refill_free, refill.unit)} free" if refill else ""
        ),
        Fact("Kits", f"{', '.join(kits)} free" if kits else ""),
        *(Fact("Check" if at == 0 else "", one) for at, one in enumerate(warnings)),
    ]


def _blanks(answer: FamilyFit) -> list[Block]:
    columns = (
        Cells("Blank"),
        Cells("Usable", right=True, folds=1),
        Cells("Pieces each", right=True, folds=2),
        Cells("Pieces", right=True),
    )
    rows = [
        [one.part.name, str(one.usable), str(one.each) if one.each else "", str(one.pieces)]
        for one in answer.blanks
        if one.pieces
    ]
    return [Listing(columns, rows, least=1) if rows else Sentence("No blank on the shelf is big enough.")]
