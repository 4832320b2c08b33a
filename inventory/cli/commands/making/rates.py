"""`rates`: how much of a supply really goes, where that comes from, and the maker's own word on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.catalogue import Supply
from inventory.cli.answers import Answer, write
from inventory.cli.json.exact import Value, dumps
from inventory.cli.screens.learned import changes, rate_json
from inventory.cli.screens.making.learned_pages import LearnedChanges, rates_screen, word_screen
from inventory.cli.session import AllOption, JsonOption, StoreOption, YesOption, booked_as, opened, say, today
from inventory.errors import BadInput
from inventory.jobs.learning.billed import pers_of
from inventory.jobs.learning.report import RateLine, pinned_factor, rate_lines
from inventory.ledger import Proposal
from inventory.ledger.sessions import RateWord, Word
from inventory.measures import read_amount, read_number

if TYPE_CHECKING:
    from inventory.catalogue import Catalogue
    from inventory.store import Read

TIMES = ("x", "×")
"""What a factor begins with."""


@dataclass(frozen=True, slots=True)
class Worded:
    """The maker's words as a document. lines: the part's rates as they will be; told: what changes; days: of
    entries left out, by number."""

    proposal: Proposal
    lines: Sequence[RateLine]
    told: LearnedChanges
    days: dict[int, date]


def rates(
    part: Annotated[str, typer.Argument(help="Only this supply.")] = "",
    pin: Annotated[
        list[str] | None,
        typer.Option(
            metavar="PER=RATE", help='Hold a rate: "barrel area=0.09 ml", or a factor "piece=x1.2".'
        ),
    ] = None,
    free: Annotated[
        list[str] | None, typer.Option(metavar="PER", help="Let a held rate learn again.")
    ] = None,
    reset: Annotated[
        bool,
        typer.Option("--reset", help="Forget what sessions taught of PART; begin with the sheet's figures."),
    ] = False,
    every: AllOption = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What one piece, barrel, area or session takes of a supply: the sheet's figure and what your sessions say.

    For example:
    kitdrawer rates
    kitdrawer rates "CA medium"
    kitdrawer rates "CA medium" --pin "barrel area=0.09 ml"
    """
    if not (pin or free or reset):
        _look(store, part, as_json=as_json, every=every)
        return
    if not part:
        raise BadInput("Which supply?", hint='Write its name first: kitdrawer rates "CA medium".')

    def work_out(read: Read) -> Worded:
        return _worded(read, part, pin or [], free or [], reset)

    with opened(store) as found:
        write(
            found,
            Answer(work_out, lambda one: one.proposal, _show, "Book it?", booked_as, _json),
            yes=yes,
            as_json=as_json,
        )


def _show(made: Worded) -> None:
    proposal = made.proposal
    say(word_screen(proposal.title, proposal.on, made.told, made.lines, made.days))


def _json(number: int | None, made: Worded) -> dict[str, Value]:
    return {"document": number, "rates": [rate_json(one, made.days) for one in made.lines]}


def _look(store: str | None, part: str, *, as_json: bool, every: bool) -> None:
    with opened(store) as found, found.reading() as read:
        lines = rate_lines(read.written(), read.learned(), part)
        days = _days(read, lines)
    if as_json:
        say(dumps({"rates": [rate_json(one, days) for one in lines]}))
    else:
        say(rates_screen(lines, days, part, today(), everything=every))


def _days(read: Read, lines: Iterable[RateLine]) -> dict[int, date]:
    """The days of documents that were left out."""
    if not any(one.outliers for one in lines):
        return {}
    return {one.document: one.on for one in read.happened()}


def _worded(read: Read, part: str, pin: Sequence[str], free: Sequence[str], reset: bool) -> Worded:
    from inventory.jobs.learning.learned_figures import relearn

    written = read.written()
    name = written.part(part).name
    words = _words(written, name, pin, free, reset)
    number = read.version + 1
    later = [*read.rate_words(), *(replace(word, document=number) for word in words)]
    before, learned = read.learned(), relearn(written, read.happened(), later)
    proposal = Proposal(
        "rates",
        f"Rates of {name}: {_said(words)}",
        today(),
        expected_version=read.version,
        rate_words=words,
        learned=learned,
    )
    told = changes(written, before, learned)
    lines = rate_lines(written, learned, name)
    return Worded(proposal, lines, told, _days(read, lines))


def _words(
    written: Catalogue, name: str, pin: Sequence[str], free: Sequence[str], reset: bool
) -> tuple[RateWord, ...]:
    """What is said of each `per`: a pin outdoes a reset, and the last one said of the same stands."""
    pers = pers_of(written, name)
    if not pers:
        raise BadInput(f"No pattern takes {name}.", hint="Rates are of the supplies that a bill names.")
    words = {per: RateWord(name, per, "reset") for per in pers} if reset else {}
    for text in free:
        per = _per(text, pers, name)
        words[per] = RateWord(name, per, "free")
    for text in pin:
        per, factor = _pinned(written, name, pers, text)
        words[per] = RateWord(name, per, "pin", factor)
    return tuple(words.values())


def _said(words: Sequence[RateWord]) -> str:
    told: dict[Word, str] = {"pin": "held", "free": "learning again", "reset": "begun again"}
    return ", ".join(f"per {one.per} {told[one.word]}" for one in words)


def _per(text: str, pers: Sequence[str], name: str) -> str:
    wanted = text.strip().casefold().removeprefix("per ")
    found = next((per for per in pers if per.casefold() == wanted), None)
    if found is None:
        raise BadInput(
            f"{name} has no rate per “{text.strip()}”.", hint=f"It is taken per {', per '.join(pers)}."
        )
    return found


def _pinned(written: Catalogue, name: str, pers: Sequence[str], text: str) -> tuple[str, int]:
    per, sign, value = text.partition("=")
    value = value.strip()
    if not sign or not value:
        raise BadInput(f"“{text}” holds no rate.", hint='Write PER=RATE: "barrel area=0.09" or "piece=x1.2".')
    found = _per(per, pers, name)
    if value.startswith(TIMES):
        factor = Fraction(read_number(value.lstrip("".join(TIMES)).strip()))
        return found, pinned_factor(written, name, found, factor, as_factor=True)
    part = written.part(name)
    density = part.detail.density if isinstance(part.detail, Supply) else None
    amount = Fraction(read_amount(value, part.unit, density=density), 1000)
    return found, pinned_factor(written, name, found, amount, as_factor=False)
