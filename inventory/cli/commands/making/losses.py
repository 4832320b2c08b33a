"""`losses`: what share of pieces is lost, by material and stage."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Annotated

import typer

from inventory.cli.json.exact import dumps
from inventory.cli.screens.learned import loss_json, percent
from inventory.cli.screens.tables import Column, table, wrapped
from inventory.cli.session import JsonOption, StoreOption, opened, say
from inventory.jobs.learning.report import LossLine, loss_intervals, loss_lines

Interval = tuple[Fraction, Fraction]


def losses(
    material: Annotated[str, typer.Argument(help="Only this material.")] = "",
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """Pieces lost by material and stage: the sheet's share, and what your own sessions say.

    For example:
    kitdrawer losses
    kitdrawer losses walnut
    """
    with opened(store) as found, found.reading() as read:
        written, learned = read.written(), read.learned()
    lines, known = loss_lines(written, learned, material), loss_intervals(written, learned)
    told = [(one, known.get((one.material, one.stage), (one.prior, one.prior))) for one in lines]
    say(dumps({"losses": [loss_json(*one) for one in told]}) if as_json else _screen(told, material))


def _screen(told: Sequence[tuple[LossLine, Interval]], material: str) -> list[str]:
    shown = [(one, interval) for one, interval in told if material or one.reached]
    if not shown and material:
        return wrapped("The sheets name no loss of it, and no session made anything of it.")
    if not shown:
        return wrapped("Nothing is learned yet: the sheets' figures stand. `losses MATERIAL` shows them.")
    columns = (
        Column("Material", gives=True),
        Column("Stage"),
        Column("Sheet", right=True),
        Column("Now", right=True),
        Column("9 in 10", right=True),
        Column("Lost", right=True),
    )
    rows = [
        [
            one.material,
            one.stage,
            percent(one.prior),
            percent(one.estimate),
            "" if low == high else f"{percent(low)} to {percent(high)}",
            f"{one.lost} of {one.reached}" if one.reached else "",
        ]
        for one, (low, high) in shown
    ]
    done = table(columns, rows)
    if not material:
        done += wrapped("Materials not worked yet share what the others taught: `losses MATERIAL`.", "· ")
    return done
