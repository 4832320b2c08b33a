"""`fits`: everything that goes with one family."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.json.exact import Exact, Value, dumps
from inventory.cli.screens.looking.fits import fits_screen
from inventory.cli.session import AllOption, JsonOption, StoreOption, opened, say, shop_of
from inventory.jobs.orders.needs import usable_free
from inventory.jobs.orders.usual_values import UsualValue, said_usual, usual_of_family
from inventory.jobs.stock.fits import FamilyFit
from inventory.ledger.shop import Shop


def fits(
    family: Annotated[str, typer.Argument(help="The family of kits.")],
    everything: AllOption = False,
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
    if as_json:
        say(dumps(_json(shop, answer)))
    else:
        say(fits_screen(shop, answer, said_usual(_usual(shop, answer)), everything=everything))


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


def _usual(shop: Shop, answer: FamilyFit) -> tuple[UsualValue, ...]:
    parts = [*(kit for kit, _ in answer.kits), *(one.part for one in answer.blanks)]
    return usual_of_family(shop, answer.family, [*parts, *([answer.refill] if answer.refill else [])])
