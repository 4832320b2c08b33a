"""Names as people write them: case and doubled spaces do not make two things of one."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any, TypeVar, overload

from inventory.errors import BadInput, UnknownName
from inventory.measures.codes import misread, number_in, part_code

T = TypeVar("T")
D = TypeVar("D")


@lru_cache(maxsize=65536)
def fold(name: str) -> str:
    """The form under which two spellings of one name meet."""
    return " ".join(name.split()).casefold()


def natural(text: str) -> list[tuple[int, Fraction | int, str]]:
    """A key that sorts as people do, sizes by what they are.

    >>> sorted(["tube 10.3 x 55", "drill 3/8", "drawer 10", "tube 10.15 x 53", "drill 5/16", "drawer 9"], key=natural)
    ['drawer 9', 'drawer 10', 'drill 5/16', 'drill 3/8', 'tube 10.15 x 53', 'tube 10.3 x 55']
    """
    parts = re.split(r"([0-9]{1,9}/[1-9][0-9]{0,8}|[0-9]{1,9}(?:\.[0-9]{1,9})?)", fold(text))
    return [(0, Fraction(part), "") if part[0] in "0123456789" else (1, 0, part) for part in parts if part]


def find(known: Mapping[str, T], what: str, name: str) -> T:
    """The thing of this name in a mapping keyed by folded names, or UnknownName with the nearest."""
    try:
        return known[fold(name)]
    except KeyError:
        if misread(name) and isinstance(known, Known) and known.numbers:
            raise BadInput(
                f"“{name}” is no part's code: its last digit does not fit.",
                hint="Read it again from the label, or say the part's name.",
            ) from None
        raise UnknownName(
            what, name, (str(getattr(one, "name", key)) for key, one in known.items())
        ) from None


class Known(dict[str, T]):
    """Things by folded name. A name a thing had before finds it too; only its present one is listed and counted.

    old: present folded names by old ones. merged: those old names that were another thing's, which is this one now.
    numbers: present folded names of parts by their numbers in the book, by which their codes find them.
    """

    def __init__(
        self,
        there: Mapping[str, T],
        old: Mapping[str, str] | None = None,
        merged: Collection[str] = (),
        numbers: Mapping[int, str] | None = None,
    ) -> None:
        super().__init__(there)
        self.old, self.merged, self.numbers = dict(old or {}), frozenset(merged), numbers or {}

    def __missing__(self, key: str) -> T:
        other = self._other(key)
        if other is None:
            raise KeyError(key)
        return dict.__getitem__(self, other)

    def __contains__(self, key: object) -> bool:
        return dict.__contains__(self, key) or dict.__contains__(self, self._other(key))

    def _other(self, key: object) -> str | None:
        """The present name of what this is an old name or the code of."""
        if not isinstance(key, str):
            return None
        number = number_in(key) if self.numbers else None
        return self.old.get(key) or (None if number is None else self.numbers.get(number))

    @overload
    def get(self, key: str, default: None = None, /) -> T | None: ...
    @overload
    def get(self, key: str, default: T, /) -> T: ...
    @overload
    def get(self, key: str, default: D, /) -> T | D: ...
    def get(self, key: str, default: Any = None, /) -> Any:
        """The thing of that name, present or old."""
        found = dict.get(self, key, self)
        return dict.get(self, self._other(key) or key, default) if found is self else found


def over(known: Mapping[str, T], new: Mapping[str, T]) -> Mapping[str, T]:
    """Things with others put over them; the old names go on finding theirs."""
    both = {**known, **new}
    return Known(both, known.old, known.merged, known.numbers) if isinstance(known, Known) else both


def only(known: Mapping[str, T], wanted: Callable[[T], bool]) -> Mapping[str, T]:
    """The things that are wanted, under all their names."""
    some = {key: one for key, one in known.items() if wanted(one)}
    return Known(some, known.old, known.merged, known.numbers) if isinstance(known, Known) else some


def codes_of(parts: Mapping[str, T]) -> Mapping[str, str]:
    """The codes of parts of a book by folded name; of what is in no book yet there is none."""
    if not isinstance(parts, Known):
        return {}
    now: dict[str, int] = {}
    for number, key in parts.numbers.items():  # a part's own number stands before those merged into it
        now.setdefault(key, number)
    return {key: part_code(number) for key, number in now.items()}
