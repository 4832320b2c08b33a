"""Words a shell may complete: commands and options by typer's own way, names of things from the book.

The book is only looked into, never brought up to date, and where there is none, or it cannot be read, nothing is
offered: pressing the tab key is no moment for a refusal.
"""

from __future__ import annotations

import os
import re
import shlex
from collections.abc import Callable, Iterable, Mapping
from types import SimpleNamespace
from typing import Any

from inventory.catalogue import Catalogue, Order

VARIABLE = "_KITDRAWER_COMPLETE"
"""Where a shell says that it completes, and which one it is."""
Names = Callable[[Catalogue, Mapping[str, Order]], Iterable[str]]


def _parts(*kinds: str) -> Names:
    def names(known: Catalogue, _: Mapping[str, Order]) -> Iterable[str]:
        return (part.name for part in known.parts.values() if not kinds or part.kind in kinds)

    return names


def _orders(_: Catalogue, orders: Mapping[str, Order]) -> Iterable[str]:
    return (order.name for order in orders.values() if order.state not in ("handed over", "released"))


def _tabs(_: Catalogue, __: Mapping[str, Order]) -> Iterable[str]:
    from inventory.sheets.stock.tabs import TABS

    return TABS


def _topics(_: Catalogue, __: Mapping[str, Order]) -> Iterable[str]:
    from inventory.guide import TOPICS

    return TOPICS


WITHOUT_A_BOOK: dict[str, Names] = {"tab": _tabs, "topic": _topics}
FROM_THE_BOOK: dict[str, Names] = {
    "order": _orders,
    "orders": _orders,
    "about": lambda known, orders: (*_parts()(known, orders), *_orders(known, orders)),
    "part": _parts(),
    "old": _parts(),
    "what": _parts(),
    "instead_of": _parts(),
    "piece": _parts("piece"),
    "blank": _parts("blank"),
    "tube": _parts("tube"),
    "refill": _parts("supply"),
    "pattern": lambda known, _: (one.name for one in known.patterns.values()),
    "plating": lambda known, _: (one.name for one in known.platings.values()),
    "or_plating": lambda known, _: (one.name for one in known.platings.values()),
    "family": lambda known, _: (one.name for one in known.families.values()),
    "material": lambda known, _: (one.name for one in known.materials.values()),
    "supplier": lambda known, _: (one.name for one in known.suppliers.values()),
    "only": lambda known, _: (one.name for one in known.suppliers.values()),
    "without": lambda known, _: (one.name for one in known.suppliers.values()),
}
"""What an argument or option of this name takes."""


def wanted() -> list[str] | None:
    """The words typed so far, without the program's name; None where no shell asks."""
    if VARIABLE not in os.environ:
        return None
    said = os.environ.get("COMP_WORDS") or os.environ.get("_TYPER_COMPLETE_ARGS", "")
    try:
        return shlex.split(said)[1:]
    except ValueError:  # a quote is still open
        return said.split()[1:]


def completed(parameter: Any) -> None:
    """Let a parameter that takes a name offer those of the book."""
    names = WITHOUT_A_BOOK.get(parameter.name) or FROM_THE_BOOK.get(parameter.name)
    if names is not None:
        parameter.shell_complete = lambda context, begun: [
            SimpleNamespace(value=name, type="plain", help=None)
            for name in _offered(parameter.name, names, context, begun)
        ]


def _offered(parameter: str, names: Names, context: Any, begun: str) -> list[str]:
    try:
        if parameter in WITHOUT_A_BOOK:
            every = names(Catalogue(), {})
        else:
            every = _looked_up(names, context.params.get("store"))
        found = sorted({name for name in every if name.casefold().startswith(begun.casefold())})
    except Exception:  # noqa: BLE001  # whatever is wrong with the book, a shell that completes is not told
        return []
    return [_quoted(name) for name in found]


def _looked_up(names: Names, store: str | None) -> list[str]:
    from inventory.cli.session import whereabouts
    from inventory.store import open_to_look

    with open_to_look(whereabouts(store)) as found, found.reading() as read:
        return list(names(read.catalogue(), read.orders()))


def _quoted(name: str) -> str:
    """As bash takes it, which other than the rest puts in what it gets; a quote that is open it closes itself."""
    typed = re.sub(r"\\.", "", os.environ.get("COMP_WORDS", ""))  # a quote behind a backslash opens nothing
    open_quote = typed.count('"') % 2 or typed.count("'") % 2
    if not typed or open_quote or re.fullmatch(r"[\w./:+-]+", name):
        return name
    return '"' + re.sub(r'(["$`\\])', r"\\\1", name) + '"'
