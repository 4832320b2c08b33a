"""`retire`: a plating, a supplier, a part that is no longer had."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Exact, Value
from inventory.cli.screens.entry import entry_screen, labelled, short
from inventory.cli.session import JsonOption, StoreOption, YesOption, booked_as, opened, say, shop_of
from inventory.jobs.days.by_hand import so_much
from inventory.jobs.naming.retiring import Retiring
from inventory.jobs.naming.retiring import retire as work

if TYPE_CHECKING:
    from inventory.store import Read


def retire(
    names: Annotated[list[str], typer.Argument(metavar="NAME…", help="What is no longer had.")],
    what: Annotated[str, typer.Option(help="part, pattern, family, plating, material or supplier.")] = "",
    back: Annotated[bool, typer.Option("--back", help="It is had again.")] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """No longer bought, offered or listed. What is there may be used up, what is promised goes on, the past stays.

    For example:
    kitdrawer retire "black titanium"
    kitdrawer retire "Far Reach Fittings"
    kitdrawer retire "Far Reach Fittings" --back
    """

    def work_out(read: Read) -> Retiring:
        return work(shop_of(read, lambda _: [], offers=False), names, what, back=back)

    with opened(store) as found:
        write(
            found,
            Answer(
                work_out,
                lambda made: made.proposal,
                _show,
                "Book it?",
                booked_as,
                _json,
                short=lambda made: bool(made.short),
            ),
            yes=yes,
            as_json=as_json,
        )


def _show(made: Retiring) -> None:
    on = made.proposal.on
    lacks = [f"“{one.order}” still has to buy {so_much(one.part, one.quantity)}" for one in made.short]
    said = [*short(lacks, on.year), *labelled("Note", made.notes, on.year)]
    say(entry_screen(made.proposal.title, on, said))


def _json(_: int | None, made: Retiring) -> Mapping[str, Value]:
    exact = Exact(0)
    return {
        "title": made.proposal.title,
        "things": [{"what": what, "name": name} for what, name in made.things],
        "notes": list(made.notes),
        "short": [
            {"order": one.order, "part": one.part.name, "quantity": exact.amount(one.quantity)}
            for one in made.short
        ],
    }
