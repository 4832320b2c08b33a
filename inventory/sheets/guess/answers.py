"""Answers to questions: read as the question takes them, or a sentence why not."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from inventory.errors import BadMeasure
from inventory.measures import show_date
from inventory.measures.numbers import show_number
from inventory.sheets.guess.guesses import Question
from inventory.sheets.guess.texts.amounts import amount_in
from inventory.sheets.guess.texts.days import day_of
from inventory.sheets.guess.texts.prices import price_in
from inventory.sheets.guess.texts.words import plainly

OPEN_LISTS = frozenset({"plating", "no plating", "blank", "wished"})
"""Questions whose lists hold what is usual; a word of one's own is taken too."""


def read_answer(question: Question, text: str, today: date) -> str:
    """The answer as it is kept. Raises BadMeasure with what is accepted."""
    tidy = " ".join(text.split())
    kind = question.key.partition("|")[0]
    if question.choices:
        return _choice(question, tidy, own=kind in OPEN_LISTS)
    if kind in ("count", "wanted", "pack"):
        return _count(tidy, whole=kind != "count")
    if kind == "paid":
        return _sum(tidy)
    if kind == "due":
        return _day(tidy, today)
    return tidy


def usable(
    questions: Mapping[str, Question], answers: Mapping[str, str], today: date
) -> tuple[dict[str, str], list[str]]:
    """The answers that can be read, as they are kept, and a sentence for each that cannot."""
    good, told = {}, []
    for key, text in answers.items():
        question = questions.get(key)
        try:
            good[key] = read_answer(question, text, today) if question else text
        except BadMeasure as error:
            told.append(f"{question.about if question else key} “{text}”: {error.message} {error.hint}")
    return good, told


def _choice(question: Question, tidy: str, *, own: bool) -> str:
    said = plainly(tidy)
    exact = [one for one in question.choices if plainly(one) == said]
    if exact:
        return exact[0]
    if said.isdecimal() and 1 <= int(said) <= len(question.choices):
        return question.choices[int(said) - 1]
    near = [one for one in question.choices if said and plainly(one).startswith(said)]
    if len(near) == 1:
        return near[0]
    if own and said and not near and any(map(str.isalpha, said)):
        return tidy[:80]
    listed = ", ".join(question.choices[:8]) + (" …" if len(question.choices) > 8 else "")
    raise BadMeasure(f"“{tidy}” is none of these.", hint=f"Write one of: {listed}.")


def _count(tidy: str, *, whole: bool) -> str:
    amount = amount_in(tidy)
    if (
        amount is None
        or amount.value is None
        or amount.grade == "asked"
        or (whole and amount.value.denominator != 1)
    ):
        raise BadMeasure(
            f"“{tidy}” is no count.", hint="Write a number, such as 4" + ("." if whole else ", 1 1/2 or 0.")
        )
    if whole and amount.value < 1:
        raise BadMeasure(f"“{tidy}” is too few.", hint="Write a whole number from 1 on.")
    return f"{show_number(amount.value)} {amount.unit}".strip()


def _sum(tidy: str) -> str:
    price = price_in(tidy)
    if price is None or price.value is None or price.grade == "asked":
        raise BadMeasure(f"“{tidy}” is no sum of money.", hint="Write a sum, such as 4.10.")
    return price.text


def _day(tidy: str, today: date) -> str:
    day = day_of(tidy, tidy, today)
    if day is None or day.day is None or day.grade == "asked":
        raise BadMeasure(f"“{tidy}” is no day.", hint="Write a day, such as 2026-12-19 or 19 Dec.")
    return show_date(day.day)
