"""`fits`: everything that goes with one family."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated

import typer

from inventory.catalogue import Kit
from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.cli.session import JsonOption, StoreOption, opened, say, shop_of
from inventory.jobs.orders.needs import usable_free
from inventory.jobs.orders.usual_values import UsualValue, said_usual, usual_of_family
from inventory.jobs.stock.fits import FamilyFit
from inventory.ledger.shop import Shop
from inventory.measures import show_amount, show_length, show_mm


def fits(
    family: Annotated[str, typer.Argument(help="The family of kits.")],
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What fits a family: tubes, drills, clearances, bushings, pilots, refill, and which blanks are big enough.

    For example:
    kitdrawer fits Turnstone
    """
    from inventory.jobs.stock import fits as job

    with opened(store) as found, found.reading() as read:
        shop = shop_of(read, lambda bare: bare.catalogue.parts, offers=False)
    answer = job.fits(shop, family)
    say(dumps(_json(shop, answer)) if as_json else _screen(shop, answer))


def _json(shop: Shop, answer: FamilyFit) -> dict[str, Value]:
    exact = Exact(2)
    return {
        "family": answer.family.name,
        "usual": [{"of": one.of, "what": list(one.what)} for one in _usual(shop, answer)],
        "makes": answer.family.makes,
        "refill": answer.refill.name if answer.refill else None,
        "barrels": [
            {
                "barrel": fit.barrel,
                "tube": fit.tube,
                "drill": fit.drill.designation if fit.drill else None,
                "clearance_mm": round(float(fit.clearance), 3) if fit.clearance is not None else None,
                "warnings": list(fit.warnings),
                "tubes_free": exact.amount(usable_free(shop, shop.catalogue.part(fit.tube)))
                if fit.tube
                else None,
            }
            for fit in answer.barrels
        ],
        "tools": [
            {"what": t.what, "part": t.part, "there": t.there, "not_to_be_taken": list(t.instead)}
            for t in answer.tools
        ],
        "kits": [{"part": kit.name, "free": exact.amount(free)} for kit, free in answer.kits],
        "blanks": [
            {
                "part": one.part.name,
                "usable": one.usable,
                "pieces_each": one.each,
                "pieces": one.pieces,
                "left_out": list(one.unfit),
            }
            for one in answer.blanks
        ],
    }


def _screen(shop: Shop, answer: FamilyFit) -> list[str]:
    family = answer.family
    lines = wrapped(f"{family.name}: {family.makes}{f'. {family.note}' if family.note else ''}")
    lines += ["", *_barrels(shop, answer), ""]
    for fit in answer.barrels:
        for warning in fit.warnings:
            lines += wrapped(warning, "· ")
    lines += list(_tools(answer))
    if answer.refill:
        lines += wrapped(
            f"{answer.refill.name}, {show_amount(answer.refill_free, answer.refill.unit)} free", "Refill   "
        )
    for kit, free in answer.kits:
        plating = kit.detail.plating if isinstance(kit.detail, Kit) else ""
        lines += wrapped(f"{kit.name} ({plating}), {show_amount(free, kit.unit)} free", "Kit      ")
    said = said_usual(_usual(shop, answer))
    return [*lines, "", *_blanks(answer), *(["", *wrapped(said)] if said else [])]


def _usual(shop: Shop, answer: FamilyFit) -> tuple[UsualValue, ...]:
    parts = [*(kit for kit, _ in answer.kits), *(one.part for one in answer.blanks)]
    return usual_of_family(shop, answer.family, [*parts, *([answer.refill] if answer.refill else [])])


def _barrels(shop: Shop, answer: FamilyFit) -> list[str]:
    columns = (
        Column("Barrel"),
        Column("Tube", gives=True),
        Column("Free", right=True),
        Column("Outside"),
        Column("Drill"),
        Column("Clearance", right=True),
        Column("Finished"),
    )
    rows = []
    for fit, barrel in zip(answer.barrels, answer.family.barrels, strict=True):
        tube = shop.catalogue.part(fit.tube) if fit.tube else None
        ends = [show_mm(end.mm) for end in (barrel.finished_a, barrel.finished_b) if end]
        outside = getattr(tube.detail, "outside", None) if tube else None
        rows.append(
            [
                fit.barrel,
                tube.name if tube else "none",
                show_amount(usable_free(shop, tube), tube.unit) if tube else "",
                show_length(outside) if outside else "",
                fit.drill.designation if fit.drill else "",
                show_mm(fit.clearance) if fit.clearance is not None else "",
                " to ".join(dict.fromkeys(ends)),
            ]
        )
    return table(columns, rows)


def _tools(answer: FamilyFit) -> Iterable[str]:
    for tool in answer.tools:
        label = "Drill" if tool.stage == "drill" else "Pilot" if tool.stage == "trim" else "Bushings"
        name = f"{tool.what}{f' ({tool.part})' if tool.part and tool.part not in tool.what else ''}"
        text = f"{name if tool.stage == 'drill' else tool.part}, {'there' if tool.there else 'NOT THERE'}"
        if tool.instead:
            text += f"; near twin there: {', '.join(tool.instead)}, not the same hole"
        yield from wrapped(text, f"{label:<8} ")


def _blanks(answer: FamilyFit) -> list[str]:
    good = [one for one in answer.blanks if one.pieces]
    columns = (
        Column("Blank", gives=True),
        Column("Usable", right=True),
        Column("Pieces each", right=True),
        Column("Pieces", right=True),
    )
    rows = [
        [one.part.name, str(one.usable), str(one.each) if one.each else "", str(one.pieces)] for one in good
    ]
    lines = table(columns, rows) if rows else ["No blank on the shelf is big enough."]
    small = [sentence for one in answer.blanks for sentence in one.unfit]
    if small:
        lines += ["", "Too small:"]
        for sentence in small:
            lines += wrapped(sentence, "· ")
    return [*lines, f"Saw kerf {answer.kerf_mm:g} mm."]
