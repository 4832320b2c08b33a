"""`rates`: how much of a supply really goes, where that comes from, and the maker's own word on it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Annotated

import typer

from inventory.cli.exact_json import Value, dumps
from inventory.cli.session import JsonOption, StoreOption, YesOption, book, opened, say, today
from inventory.cli.tables import Column, table, wrapped
from inventory.errors import BadInput
from inventory.jobs.learned_report import RateLine, pinned_factor, rate_lines
from inventory.ledger import Proposal
from inventory.ledger.sessions import MILLION, RateWord, Word
from inventory.measures import read_amount, read_number

if TYPE_CHECKING:
    from inventory.catalogue import Catalogue
    from inventory.store import Read


def rates(
    part: Annotated[str, typer.Argument(help="Only this supply.")] = "",
    pin: Annotated[
        list[str] | None,
        typer.Option(metavar="PER=RATE", help='Hold a rate: "barrel area=0.09", or a factor "piece=x1.2".'),
    ] = None,
    free: Annotated[
        list[str] | None, typer.Option(metavar="PER", help="Let a held rate learn again.")
    ] = None,
    reset: Annotated[
        bool, typer.Option("--reset", help="Forget what was learned of PART; begin with the sheet's figure.")
    ] = False,
    yes: YesOption = False,
    store: StoreOption = None,
    as_json: JsonOption = False,
) -> None:
    """What one piece, barrel, area or session takes of a supply: the sheet's figure and what your sessions say.

    For example:
    kitdrawer rates
    kitdrawer rates "CA medium"
    kitdrawer rates "CA medium" --pin "barrel area=0.09"
    """
    with opened(store) as found:
        if not (pin or free or reset):
            with found.reading() as read:
                lines = rate_lines(read.written(), read.learned(), part)
                days = {one.document: one.on for one in read.happened()} if lines else {}
            if as_json:
                say(dumps({"rates": [_json(one) for one in lines]}))
            else:
                say(_screen(lines, {number: str(day) for number, day in days.items()}, bool(part)))
            return
        if not part:
            raise BadInput("Which supply?", hint='Name it: kitdrawer rates "CA medium" --reset.')

        def work_out(read: Read) -> tuple[Catalogue, Proposal, Sequence[RateLine], Sequence[RateLine]]:
            return _worded(read, part, pin or [], free or [], reset)

        number, made = book(found, work_out, lambda one: one[1], _show, "Book it?", yes=yes)
    say("Nothing was changed." if number is None else f"Noted (document {number}). `undo` takes it back.")
    del made


def _worded(
    read: Read, part: str, pin: Sequence[str], free: Sequence[str], reset: bool
) -> tuple[Catalogue, Proposal, Sequence[RateLine], Sequence[RateLine]]:
    from inventory.jobs.learning import pers_of, relearn

    written = read.written()
    name = written.part(part).name
    words: dict[str, RateWord] = {}
    pers = pers_of(written, name)
    if not pers:
        raise BadInput(f"No pattern takes {name}.", hint="Rates are of the supplies a bill names.")
    if reset:
        words = {per: RateWord(name, per, "reset") for per in pers}
    for per in free:
        words[_per(per, pers, name)] = RateWord(name, _per(per, pers, name), "free")
    for text in pin:
        per, factor = _pinned(written, name, pers, text)
        words[per] = RateWord(name, per, "pin", factor)
    proposal = Proposal(
        "rates",
        f"Rates of {name}: {_said(list(words.values()))}",
        today(),
        basis=read.version,
        rate_words=tuple(words.values()),
    )
    number = read.version + 1
    later = [*read.rate_words(), *(RateWord(w.part, w.per, w.word, w.factor, number) for w in words.values())]
    learned = relearn(written, read.happened(), later)
    from dataclasses import replace

    before, after = rate_lines(written, read.learned(), name), rate_lines(written, learned, name)
    return written, replace(proposal, learned=learned), before, after


def _said(words: Sequence[RateWord]) -> str:
    told: dict[Word, str] = {"pin": "held", "free": "learning again", "reset": "begun anew"}
    return ", ".join(dict.fromkeys(told[one.word] for one in words))


def _per(text: str, pers: Sequence[str], name: str) -> str:
    found = next((per for per in pers if per.casefold() == text.strip().casefold()), None)
    if found is None:
        raise BadInput(f"{name} has no rate per “{text}”.", hint=f"It is taken per {', per '.join(pers)}.")
    return found


def _pinned(written: Catalogue, name: str, pers: Sequence[str], text: str) -> tuple[str, int]:
    per, sign, value = text.partition("=")
    value = value.strip()
    if not sign or not value:
        raise BadInput(f"“{text}” holds no rate.", hint='Write PER=RATE: "barrel area=0.09" or "piece=x1.2".')
    found = _per(per, pers, name)
    if value[0] in "x×":
        return found, pinned_factor(written, name, found, read_number(value[1:]), as_factor=True)
    amount = Fraction(read_amount(value, written.part(name).unit), 1000)
    return found, pinned_factor(written, name, found, amount, as_factor=False)


def _show(
    made: tuple[Catalogue, Proposal, Sequence[RateLine], Sequence[RateLine]],
) -> None:
    _, proposal, before, after = made
    say(wrapped(f"{proposal.title}."))
    for old, new in zip(before, after, strict=True):
        held = ", held" if new.pinned else ""
        say(
            wrapped(
                f"per {new.per}: {_figure(old.estimate)} → {_figure(new.estimate)} {new.part.unit}{held}",
                "· ",
            )
        )


def _figure(value: Fraction) -> str:
    return f"{float(value):.3g}" if value < MILLION else f"{float(value):g}"


def _screen(lines: Sequence[RateLine], days: dict[int, str], everything: bool) -> list[str]:
    learned = [one for one in lines if one.sessions or one.pinned]
    shown = lines if everything else learned
    if not shown:
        return wrapped(
            "Nothing is learned yet: the sheets' figures stand. Book a session with `weekend book`."
        )
    columns = (
        Column("Supply", gives=True),
        Column("Per", gives=True),
        Column("Sheet", right=True),
        Column("Now", right=True),
        Column("9 in 10", right=True),
        Column("Sessions", right=True),
    )
    rows = [
        [
            one.part.name,
            one.per,
            _figure(one.prior),
            f"{_figure(one.estimate)} {one.part.unit}",
            "held" if one.pinned else f"{_figure(one.low)}–{_figure(one.high)}",
            str(one.sessions),
        ]
        for one in shown
    ]
    done = table(columns, rows)
    left_out: dict[str, set[int]] = {}
    for one in shown:
        left_out.setdefault(one.part.name, set()).update(one.outliers)
    for name, numbers in left_out.items():
        if numbers:
            told = ", ".join(f"{days.get(number, '')} (document {number})" for number in sorted(numbers))
            done += wrapped(f"{name}: left out as unlike the others: {told}.", "· ")
    if any(not one.alike for one in shown):
        done += wrapped(
            "Where patterns differ, the sheet's figure is their mean; each keeps its proportion.", "· "
        )
    hidden = len(lines) - len(shown)
    if hidden:
        done += wrapped(f"{hidden} more stand as the sheets have them: `rates PART` shows them.", "· ")
    return done


def _json(one: RateLine) -> dict[str, Value]:
    return {
        "part": one.part.name,
        "unit": one.part.unit,
        "per": one.per,
        "prior": round(float(one.prior), 6),
        "estimate": round(float(one.estimate), 6),
        "low": round(float(one.low), 6),
        "high": round(float(one.high), 6),
        "sessions": one.sessions,
        "outliers": list(one.outliers),
        "pinned": one.pinned,
    }
