"""What a hand writes into a blank: `2 blew up`, `4 of 5`, `IIII`, ✓. Understood, or asked about."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Generic, TypeVar

from inventory.errors import AskedCell, BadMeasure, KitdrawerError, Place
from inventory.measures.text import said
from inventory.measures.units import CONTAINERS, UNITS
from inventory.sheets.forms.returned_tab import EMPTY_CIRCLES, ReturnedRow

T = TypeVar("T")
_FULL_CIRCLES: Final = "●⚫⬤"
_WORDS: Final = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_NUMBERS: Final = {word: str(number) for number, word in enumerate((*_WORDS, "eleven", "twelve"))}
_NONE: Final = frozenset({"none", "nil", "nothing", "nought"})
_DASHES: Final = frozenset({"-", "–", "—", "no", "./."})
_TICKS: Final = frozenset({"yes", "y", "ok", "okay", "true", "✓", "✔", "☑", "√", "done", "x", "✗", "✘"})
_ALL: Final = frozenset({"all", "all good", "all of them", "all ok", "all fine", "every one"})
_CERTAIN: Final = _TICKS | {"all", "everything", "full"}
_LESS = re.compile(
    r"all (?:but|bar|except|minus) ([0-9]{1,5})|([0-9]{1,5}) (?:\w+ )?(?:short|missing|too few|less|fewer)"
)
"""What is said by what it lacks."""
_STROKES = r"[|Il1ıǀ╎/\\]"
_TALLY = re.compile(rf"(?:[|Ilıǀ╎]{{4}} ?[/\\–—-]|{_STROKES}+)(?: (?:[|Ilıǀ╎]{{4}} ?[/\\–—-]|{_STROKES}+))*")
_DOTS = re.compile(r"[.·•∙*●⚫⬤xX×✗✘✓✔]+(?: [.·•∙*●⚫⬤xX×✗✘✓✔]+)*")
_OF = re.compile(r"([0-9]{1,5}|[a-z]{3,6}) ?(?:of|out of|from) ?([0-9]{1,5}|[a-z]{3,6})(?:[ ,;:]+(\D*))?")
_SHARE = re.compile(r"([0-9]{1,5}) ?/ ?([0-9]{1,5})")
_SUM = re.compile(r"[0-9]{1,5}(?: ?\+ ?[0-9]{1,5})+")
_TIMES = re.compile(r"(?:[x×] ?([0-9]{1,5})|([0-9]{1,5}) ?[x×])")
_HARMLESS = re.compile(r"(?<=[0-9])[ ]?[.!✓✔☑√]+$|^[✓✔☑√]+ ?(?=[0-9])")
_OF_AMOUNTS: Final = frozenset(
    {"used", "spilt", "spilled", "evaporated", "thrown", "counted", "weighed", "dried", "dropped"}
    | {"there", "here", "left", "over", "still"}
)
"""Words that stand behind an amount without a comma, and are no units."""
_WORDS_END = " ,;:.!()–—-"


@dataclass(frozen=True, slots=True)
class ToFill:
    """What a blank is for. ask: the question it answers; most: how many there are of it at most, None: nobody knows.

    tick: what a tick or `all` stands for, empty: nothing that is sure; whole: `all` is `most`, and so is a tick where
    that is one; dash: a dash or `no` is none; confirms: the only words that may stand beside the number, None: any
    but `turns`, which make another number of it; measured: a unit behind the number is part of it, not a word.
    """

    ask: str
    most: int | None = None
    tick: str = ""
    whole: bool = False
    dash: bool = False
    confirms: frozenset[str] | None = None
    turns: frozenset[str] = frozenset()
    measured: bool = False


@dataclass(frozen=True, slots=True)
class Understood(Generic[T]):
    """What a cell says: the value, words beside it, of how many. taken: as what, where that had to be understood."""

    value: T
    words: str = ""
    of: int | None = None
    taken: str = ""


@dataclass(frozen=True, slots=True)
class _AsNumber:
    """A number as the strict reader takes it, words beside it (apart: behind a comma or the like), and of how many."""

    number: str
    words: str = ""
    of: int | None = None
    apart: bool = True


def read_by_hand(text: str, strict: Callable[[str], T], blank: ToFill) -> Understood[T]:
    """The value of a cell, read strictly or else as a hand wrote it.

    Raises BadMeasure: the strict reader's where nobody can tell what is meant, a question where it may be two things.
    """
    tidy = " ".join(text.split())
    if _ones(tidy, blank):
        raise _question(
            f"{tidy} is more than the {blank.most} there are.", blank, f"{len(tidy)} if these are strokes"
        )
    try:
        return Understood(strict(text))
    except KitdrawerError as error:
        plain = _plain(tidy, strict, blank)
        if plain is None:
            raise
        if not _fits(plain.words, blank):
            raise _question(f"{said(tidy)} can mean two things.", blank) from None
        if blank.measured and _may_be_a_unit(plain):
            raise
        try:
            value = strict(plain.number)
        except KitdrawerError:
            raise error from None
    return Understood(value, plain.words, plain.of, plain.number)


def _ones(text: str, blank: ToFill) -> bool:
    """Strokes typed as ones: more than there can be, and as strokes not."""
    if blank.most is None or not re.fullmatch("11+", text) or len(text) > 9:
        return False
    return len(text) <= blank.most < int(text)


def _plain(text: str, strict: Callable[[str], object], blank: ToFill) -> _AsNumber | None:
    """What is written as a plain number; None where it is none. Raises BadMeasure with a question."""
    low = text.casefold()
    if low in _NONE or (blank.dash and low in _DASHES):
        return _AsNumber("0")
    if low in _ALL or _ticked_all(low):
        return _all(text, blank)
    if low in _TICKS:
        return _ticked(text, blank)
    if (less := _lacking(low, blank)) and low.startswith(
        "all"
    ):  # of `2 short` nobody knows whether they are there
        return _AsNumber(less)
    strokes = _strokes(text)
    if strokes:
        return _AsNumber(str(strokes))
    if found := _OF.fullmatch(low):
        number, whole = (_NUMBERS.get(one, one) for one in found.groups()[:2])
        return _of(number, whole, text[found.start(3) :] if found[3] else "", strict)
    if (found := _SHARE.fullmatch(low)) and blank.most is not None:
        if int(found[2]) == blank.most:
            return _of(found[1], found[2], "", strict)
        raise _question(
            f"{said(text)} is a part of one.", blank, f"{found[1]} if it was {found[1]} of {found[2]}"
        )
    if added := _added(low):
        return _AsNumber(added)
    return _worded(_HARMLESS.sub("", text), strict)


def _added(low: str) -> str:
    """`1 + 2` is 3, `x3` is 3; empty where it is neither."""
    if _SUM.fullmatch(low):
        return str(sum(int(one) for one in low.split("+")))
    found = _TIMES.fullmatch(low)
    return found[1] or found[2] if found else ""


def _all(text: str, blank: ToFill) -> _AsNumber:
    many = _whole(blank)
    if not many:
        raise _question(f"{said(text)} does not say how many.", blank)
    return _AsNumber(many)


def _whole(blank: ToFill) -> str:
    """How many all of it are; empty where nobody knows."""
    return blank.tick or (str(blank.most) if blank.whole and blank.most else "")


def _lacking(low: str, blank: ToFill) -> str:
    """What is left of all where a text says how many lack: of 10 `2 short` and `all but two` are 8; else empty."""
    figures = re.sub("[a-z]+", lambda word: _NUMBERS.get(word[0], word[0]), low)
    less, whole = _LESS.search(figures.rstrip(_WORDS_END)), re.match("[0-9]+", _whole(blank))
    if less is None or whole is None:
        return ""
    left = int(whole[0]) - int(less[1] or less[2])
    return str(left) if left >= 0 else ""


def _ticked_all(low: str) -> bool:
    """A tick, and the word beside it that says of what: `✓ all`, `yes, all`."""
    words = set(re.split("[ ,;.!]+", low)) - {""}
    return "all" in words and words <= _TICKS | {"all"}


def _ticked(text: str, blank: ToFill) -> _AsNumber:
    if blank.tick:
        return _AsNumber(blank.tick)
    if blank.whole and blank.most == 1:
        return _AsNumber("1")
    more = f"{blank.most} if it was all of them" if blank.whole and blank.most else ""
    raise _question(f"{said(text)} does not say how many.", blank, more)


def _strokes(text: str) -> int:
    """Strokes, dots or crosses of a tally; 0 where it is none. Four with one across are five."""
    tidy = text.strip(EMPTY_CIRCLES + " ") if any(one in text for one in _FULL_CIRCLES) else text
    if _DOTS.fullmatch(tidy):
        signs = tidy.replace(" ", "")
        return len(signs) if len(set(signs.casefold())) == 1 and (len(signs) > 1 or signs in "•●⚫⬤*") else 0
    if not _TALLY.fullmatch(tidy) or tidy in ("/", "\\") or re.fullmatch("[1 ]+", tidy):
        return 0
    return sum(1 for sign in tidy if sign != " ")


def _of(number: str, whole: str, words: str, strict: Callable[[str], object]) -> _AsNumber | None:
    if not number.isdecimal() or not whole.isdecimal() or int(number) > int(whole):
        return None
    found = _worded(f"{number} {words}".strip(), strict)  # `4 of 5 bottles` are 4 bottles
    return None if found is None else _AsNumber(found.number, found.words, int(whole), found.apart)


def _worded(text: str, strict: Callable[[str], object]) -> _AsNumber | None:
    """The longest beginning that is a number, where what follows are words without digits."""
    first, *more = text.split(" ")
    # words and punctuation may touch the number: `2, blew up`
    tokens = [_NUMBERS.get(first.casefold().strip(_WORDS_END), first), *more]
    for end in range(len(tokens), 0, -1):
        written, words = " ".join(tokens[:end]), " ".join(tokens[end:])
        number = written.rstrip(_WORDS_END)
        if not any(sign.isdigit() for sign in number) or any(sign.isdigit() or sign == "?" for sign in words):
            continue
        try:
            strict(number)
        except KitdrawerError:
            continue
        apart = written != number or not words or words[0] in _WORDS_END
        return _AsNumber(number, words.strip(_WORDS_END), apart=apart)
    return None


def _may_be_a_unit(plain: _AsNumber) -> bool:
    """Whether what follows a number may be a unit the strict reader does not know: `1 furlong` is not 1."""
    first = plain.words.casefold().split(" ")[0]
    return first in UNITS or first in CONTAINERS or not (plain.apart or first in _OF_AMOUNTS)


def _fits(words: str, blank: ToFill) -> bool:
    every = [word.strip(_WORDS_END) for word in words.casefold().split()]
    if blank.confirms is not None:
        return all(word in blank.confirms for word in every)
    return not any(word in blank.turns for word in every)


def take(
    row: ReturnedRow, heading: str, strict: Callable[[str], T], blank: ToFill, told: list[str]
) -> Understood[T] | None:
    """The blank of a row; None where it is empty or (after noting why) cannot be taken. told: what was understood."""

    def reader(text: str) -> Understood[T] | None:
        return read_by_hand(text, strict, blank)

    before = len(row.problems)
    found = row.read(heading, reader, None)
    if len(row.problems) > before and not row.broken(heading):
        row.problems[-1] = _asked(row, row.problems[-1], strict, blank)
    if found is not None and found.taken:
        told.append(f"{row.place(heading)}: {said(row.said(heading))} was taken as {found.taken}.")
    return found


def _asked(row: ReturnedRow, place: Place, strict: Callable[[str], object], blank: ToFill) -> Place:
    """The same cell as a question that somebody at a keyboard can answer."""
    guess = best_guess(place.said, strict, blank)
    why = "can mean two things." if "two things" in place.problem else "is not understood."
    what, problem = f"{said(place.said)} is not a number.", place.problem
    if problem.startswith(what):  # what a number looks like is no answer to what this blank asks
        problem = f"{what} {blank.ask} Write the number."
    elif problem.startswith(f"{said(place.said)} is not an amount"):
        problem = f"{said(place.said)} is not an amount. {blank.ask} Write the number."
    if guess and problem.endswith("Write the number."):
        problem = f"{problem[:-1]}: {guess} if that is meant."
    return AskedCell(
        *(place.file, place.tab, place.row, place.column, place.said, problem),
        of=row.said("part") or row.said("order") or row.said("pattern"),
        ask=blank.ask,
        guess=guess,
        why=why,
    )


def best_guess(text: str, strict: Callable[[str], object], blank: ToFill) -> str:
    """The likeliest number of a text nobody is sure of, as the strict reader takes it; empty where there is none.

    >>> from inventory.sheets.forms.cells import pieces
    >>> [best_guess(text, pieces, ToFill("?", most=14, whole=True)) for text in ("about 12?", "yes", "one or two", "?")]
    ['12', '14', '1', '']
    >>> [best_guess(text, pieces, ToFill("?", tick="10")) for text in ("2 short", "all but two?", "all?", "10?")]
    ['8', '8', '10', '10']
    """
    low = " ".join(text.casefold().split())
    tries = [str(len(low))] if _ones(low, blank) else []
    whole = _whole(blank)
    if less := _lacking(low, blank):
        tries.append(less)
    if whole and not re.search("[0-9]", low) and not _CERTAIN.isdisjoint(re.split("[ ,;.!?]+", low)):
        tries.append(whole)
    tries += re.findall(r"[0-9]+(?:[.,][0-9]+)?", low)
    tries += [_NUMBERS[word] for word in re.findall("[a-z]+", low) if word in _NUMBERS]
    return next((one for one in tries if _may_be(one, strict, blank)), "")


def _may_be(number: str, strict: Callable[[str], object], blank: ToFill) -> bool:
    try:
        strict(number)
    except KitdrawerError:
        return False
    return blank.most is None or not number.isdecimal() or int(number) <= blank.most


def _question(what: str, blank: ToFill, more: str = "") -> BadMeasure:
    return BadMeasure(what, hint=f"{blank.ask} Write the number{f': {more}' if more else ''}.")
