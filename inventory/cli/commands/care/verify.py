"""`verify`: prove that the book agrees with itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inventory.cli.json.exact import dumps
from inventory.cli.screens.tables import wrapped
from inventory.cli.session import JsonOption, StoreOption, ended, opened, say

if TYPE_CHECKING:
    from inventory.store import Store


def verify(store: StoreOption = None, as_json: JsonOption = False) -> None:
    """Work every balance, cost and learned figure out again from what was booked; say what disagrees.

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
    elif problems:
        for problem in problems:
            say(wrapped(problem, "· "))
        say(wrapped(KEEP))
    elif learned:
        for problem in learned:
            say(wrapped(problem, "· "))
        say(
            wrapped(
                "Balances, lots and what is set aside are right. The next session with something weighed works "
                "these figures out again."
            )
        )
    else:
        say("All checks passed: balances, lots and what is set aside follow.")
    ended(short=bool(problems or learned))


def _learned(store: Store) -> tuple[str, ...]:
    """Where rates and losses are not what the booked sessions give."""
    with store.reading() as read:
        kept, happened, words = read.learned(), read.happened(), read.rate_words()
        if not (kept.rates or kept.losses or happened or words):
            return ()
        from inventory.jobs.learning.learned_figures import relearn
        from inventory.jobs.learning.proof import disagreements

        return disagreements(kept, relearn(read.written(), happened, words))
