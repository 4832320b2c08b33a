"""`took`: something left the shelf by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.drawing.texts import pasted
from inventory.cli.entering.by_hand import booked_by_hand, looked_at
from inventory.cli.session import JsonOption, StoreOption, YesOption
from inventory.errors import BadInput
from inventory.jobs.days.by_hand import ByHand, part_called
from inventory.jobs.days.cannibalising import cannibalised
from inventory.jobs.days.taking import Going, taken
from inventory.measures.text import plain
from inventory.reports.day_words import amount_of, reason_of

if TYPE_CHECKING:
    from inventory.store import Read


def took(
    part: Annotated[str, typer.Argument(help="The part, or a finished piece.")],
    amount: Annotated[
        str, typer.Argument(help="How much: 2, 50 ml, 1 bottle. Thrown out: all that is out of date.")
    ] = "",
    reason: Annotated[
        str, typer.Option("--reason", "--why", help="gave away, broke, threw out, lent or used up.")
    ] = "",
    to: Annotated[str, typer.Option(help="To whom it was lent or given.")] = "",
    lot: Annotated[str, typer.Option(help="The very lot, as `trace` calls it.")] = "",
    out_of: Annotated[
        str, typer.Option("--from", metavar="KIT", help="The kit it was taken out of, which now lacks it.")
    ] = "",
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Something left the shelf: given away, broken, thrown out, used up, or lent and owed until `found --back`.

    For example:
    kitdrawer took "Dunlin kit chrome" 1 --reason broke
    kitdrawer took "tube 7 x 53" 2 --reason lent --to "the neighbour"
    kitdrawer took "CA thin" --reason "threw out"
    kitdrawer took clip 1 --from "Dunlin kit chrome"
    """
    word = reason_of(reason or ("used up" if out_of else ""))
    whom = plain(to, "name") if to else ""
    if whom and word not in ("lent", "gave away"):
        raise BadInput(
            "--to is for what was lent or given away.", hint="Leave --to out, or say --reason lent."
        )

    if out_of and (word == "lent" or lot):
        raise BadInput(
            "What is taken out of a kit is not lent, nor of a lot.",
            hint="With --from leave --lot out, and say --reason broke, gave away or used up.",
        )

    def work_out(read: Read) -> ByHand:
        if out_of:
            shop = looked_at(read, out_of)
            kit = shop.catalogue.part(out_of)
            return cannibalised(shop, kit, plain(part, "name"), amount_of(kit, amount or "1"), word)
        shop = looked_at(read, part)
        meant = part_called(shop, part)
        quantity = amount_of(meant, amount) if amount else None
        return taken(shop, meant, Going(quantity, word, whom, lot))

    def then(made: ByHand) -> list[tuple[str, str]]:
        back = ("Owed until", f"kitdrawer found {pasted(made.part.name)} --back")
        return [back] if word == "lent" else []

    booked_by_hand(store, work_out, yes=yes, as_json=as_json, then=then)
