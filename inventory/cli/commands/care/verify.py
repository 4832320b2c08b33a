"""`verify`: prove that the book agrees with itself."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from inventory.cli.drawing.blocks import Screen, Sentence
from inventory.cli.drawing.colour import good, stop
from inventory.cli.drawing.draw import draw
from inventory.cli.json.exact import dumps
from inventory.cli.session import JsonOption, StoreOption, ended, opened, say, today
from inventory.measures import plural, show_day

if TYPE_CHECKING:
    from inventory.store import Store


def verify(store: StoreOption = None, as_json: JsonOption = False) -> None:
    """Recompute every balance, cost layer, claim and learned figure from what was booked; say what disagrees.

    For example:
    kitdrawer verify
    """
    from inventory.store.check.proof import verify as prove
    from inventory.store.db_errors import KEEP

    with opened(store) as found:
        problems = prove(found)
        learned = () if problems else _learned(found)  # figures of a damaged book prove nothing
    if as_json:
        say(dumps({"ok": not problems + learned, "problems": [*problems, *learned]}))
    else:
        say(_screen(problems, learned, KEEP))
    ended(short=bool(problems or learned))


def _screen(problems: Sequence[str], learned: Sequence[str], keep: str) -> list[str]:
    """The answer first; each disagreement below it, and what to do."""
    day = show_day(today())
    if not problems and not learned:
        return draw(
            Screen(
                f"{good('All checks passed')}, {day}: every balance, lot and what is set aside follows.",
                following=("What was booked", "kitdrawer entries"),
            )
        )
    found = [*problems, *learned]
    head = f"{stop(plural(len(found), 'check') + ' failed')}, {day}."
    told = (
        keep
        if problems
        else "Balances, lots and claims are right. The next session with something weighed works them out anew."
    )
    return draw(Screen(head, (), [[Sentence(one, "· ") for one in found], [Sentence(told)]]))


def _learned(store: Store) -> tuple[str, ...]:
    """Where rates and losses are not what the booked sessions give."""
    with store.reading() as read:
        kept, happened, words = read.learned(), read.happened(), read.rate_words()
        if not (kept.rates or kept.losses or happened or words):
            return ()
        from inventory.jobs.learning.learned_figures import relearn
        from inventory.jobs.learning.proof import disagreements

        return disagreements(kept, relearn(read.written(), happened, words))
