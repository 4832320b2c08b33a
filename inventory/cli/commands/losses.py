"""`losses`: what share of pieces is lost, by material and stage."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Annotated

import typer

from inventory.cli.exact_json import Value, dumps
from inventory.cli.session import JsonOption, StoreOption, opened, say
from inventory.cli.tables import Column, table, wrapped
from inventory.jobs.learned_report import LossLine, loss_lines


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
        lines = loss_lines(read.written(), read.learned(), material)
    say(dumps({"losses": [_json(one) for one in lines]}) if as_json else _screen(lines, bool(material)))


def _percent(share: Fraction) -> str:
    return f"{100 * float(share):.2g} %" if share else "0 %"


def _screen(lines: Sequence[LossLine], everything: bool) -> list[str]:
    shown = lines if everything else [one for one in lines if one.reached]
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
            _percent(one.prior),
            _percent(one.estimate),
            f"{_percent(one.low)} to {_percent(one.high)}" if one.reached else "",
            f"{one.lost} of {one.reached}" if one.reached else "",
        ]
        for one in shown
    ]
    done = table(columns, rows)
    if not everything:
        done += wrapped("Materials not worked yet share what the others taught: `losses MATERIAL`.", "· ")
    return done


def _json(one: LossLine) -> dict[str, Value]:
    return {
        "material": one.material,
        "stage": one.stage,
        "prior": round(float(one.prior), 6),
        "estimate": round(float(one.estimate), 6),
        "low": round(float(one.low), 6),
        "high": round(float(one.high), 6),
        "reached": one.reached,
        "lost": one.lost,
    }
