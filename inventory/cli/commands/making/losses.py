"""`losses`: what share of pieces is lost, by material and stage."""

from __future__ import annotations

from typing import Annotated

import typer

from inventory.cli.json.exact import dumps
from inventory.cli.screens.learned import loss_json
from inventory.cli.screens.making.learned_pages import losses_screen
from inventory.cli.session import AllOption, JsonOption, StoreOption, opened, say, today
from inventory.jobs.learning.report import loss_intervals, loss_lines


def losses(
    material: Annotated[str, typer.Argument(help="Only this material.")] = "",
    every: AllOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Pieces spoiled, by material and stage: the sheet's share, and what your own sessions say.

    For example:
    kitdrawer losses
    kitdrawer losses walnut
    """
    with opened(store) as found, found.reading() as read:
        written, learned = read.written(), read.learned()
    lines, known = loss_lines(written, learned, material), loss_intervals(written, learned)
    told = [(one, known.get((one.material, one.stage), (one.prior, one.prior))) for one in lines]
    if as_json:
        say(dumps({"losses": [loss_json(*one) for one in told]}))
    else:
        say(losses_screen(told, material, today(), everything=every))
