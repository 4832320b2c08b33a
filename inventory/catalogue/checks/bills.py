"""Checks of patterns and their bills of materials."""

from __future__ import annotations

from collections.abc import Iterator

from inventory.catalogue.catalogue import Catalogue
from inventory.catalogue.checks.trouble import Trouble, names_of, unknown
from inventory.catalogue.families import PERS, ROLES, BillLine, Family, Pattern
from inventory.catalogue.names import fold
from inventory.catalogue.stages import STAGES

NEEDED = ("the kit", "the blank")
"""Roles without which nothing is made."""


def bills(catalogue: Catalogue) -> Iterator[Trouble]:
    """Patterns of an unknown family, bill lines that lead nowhere, roles left out, bills that run in circles."""
    taken_in = {fold(line.part) for pattern in catalogue.patterns.values() for line in pattern.bill}
    for key, pattern in catalogue.patterns.items():
        family = catalogue.families.get(fold(pattern.family))
        if family is None:
            problem = unknown("family", pattern.family, names_of(catalogue.families))
            yield Trouble("patterns", (key,), "family", pattern.family, problem)
        elif not family.barrels:
            problem = f"The family {family.name} has no barrels, so nothing can be made from it."
            yield Trouble("patterns", (key,), "family", pattern.family, problem, absence=True)
        for number, line in enumerate(pattern.bill):
            for column, said, problem in _line(catalogue, pattern, family, line):
                yield Trouble("bills", (key, str(number)), column, said, problem)
        if pattern.bill and key not in taken_in:
            yield from _missing(catalogue, key, pattern)
    yield from _loops(catalogue)


def _line(
    catalogue: Catalogue, pattern: Pattern, family: Family | None, line: BillLine
) -> Iterator[tuple[str, str, str]]:
    if line.stage not in STAGES:
        yield "stage", line.stage, f"There is no stage “{line.stage}”. Stages: {', '.join(STAGES)}."
    if line.per not in PERS:
        yield "per", line.per, f"“{line.per}” multiplies nothing. Accepted: {', '.join(PERS)}."
    problem = _part(catalogue, pattern, family, line)
    if problem:
        yield "part", line.part, problem
    if family and family.barrels and line.per == "tube glue volume" and not _has_tubes(family):
        yield "per", line.per, f"No barrel of {family.name} has a tube, so there is no glue around one."


def _part(catalogue: Catalogue, pattern: Pattern, family: Family | None, line: BillLine) -> str:
    name = fold(line.part)
    if name in catalogue.parts:
        return ""
    if name in ROLES:
        return _role(name, family) if family else ""
    included = catalogue.patterns.get(name)
    if included is None:
        return _nothing(catalogue, line.part, name)
    if fold(included.family) != fold(pattern.family):
        return (
            f"“{included.name}” is a pattern of {included.family}, and this one of {pattern.family}: "
            "only a pattern of the same family can be taken in."
        )
    return ""


def _role(role: str, family: Family) -> str:
    if role == "the refill" and family.refill is None:
        return f"The family {family.name} has no refill. Give it one, or name the part."
    if role == "the tubes" and family.barrels and not _has_tubes(family):
        return f"No barrel of {family.name} has a tube. Leave this line out."
    return ""


def _nothing(catalogue: Catalogue, said: str, name: str) -> str:
    if name.startswith("the "):
        return f"There is no role “{said}”. The roles are {', '.join(ROLES)}."
    known = [*names_of(catalogue.parts), *names_of(catalogue.patterns), *ROLES]
    return unknown("part or pattern", said, known)


def _has_tubes(family: Family) -> bool:
    return any(barrel.tube is not None for barrel in family.barrels)


def _missing(catalogue: Catalogue, key: str, pattern: Pattern) -> Iterator[Trouble]:
    roles = _roles(catalogue, key)
    missing = [role for role in NEEDED if role not in roles]
    for role in missing:
        problem = f"The missing role is “{role}”: the bill of {pattern.name} has no line for it. Add one."
        yield Trouble("patterns", (key,), "pattern", pattern.name, problem, absence=True)


def _roles(catalogue: Catalogue, key: str) -> set[str]:
    """Every folded name in the bill and in the bills it takes in."""
    named: set[str] = set()
    ahead = [key]
    while ahead:
        fresh = {fold(line.part) for line in catalogue.patterns[ahead.pop()].bill} - named
        named |= fresh
        ahead += [name for name in fresh if name in catalogue.patterns]
    return named


def _loops(catalogue: Catalogue) -> Iterator[Trouble]:
    """Each loop once, at the line that closes it; walked without recursion, so no bill is too deep."""
    done: set[str] = set()
    for start in catalogue.patterns:
        path: list[str] = []
        ahead = [(start, "", -1)]
        while ahead:
            key, owner, number = ahead.pop()
            while path and path[-1] != owner:
                done.add(path.pop())
            if key in path:
                yield _loop(catalogue, [*path[path.index(key) :], key], owner, number)
            elif key not in done:
                path.append(key)
                ahead += [(name, key, line) for name, line in _inside(catalogue, key)]
        done.update(path)


def _inside(catalogue: Catalogue, key: str) -> list[tuple[str, int]]:
    lines = enumerate(catalogue.patterns[key].bill)
    named = [(fold(line.part), number) for number, line in lines]
    return [
        (name, number) for name, number in named if name in catalogue.patterns and name not in catalogue.parts
    ]


def _loop(catalogue: Catalogue, keys: list[str], owner: str, number: int) -> Trouble:
    names = [catalogue.patterns[key].name for key in keys]
    problem = f"This bill takes itself in: {' → '.join(names)}. Take one of these lines out."
    return Trouble("bills", (owner, str(number)), "part", names[-1], problem)
