"""Parts and amounts in a row of words: what they have in common is said once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from inventory.catalogue import Part
from inventory.measures import read_unit, show_amount, show_measurable

_DOING = {
    "cut": "cutting",
    "drill": "drilling",
    "glue": "gluing",
    "trim": "trimming",
    "turn": "turning",
    "finish": "finishing",
    "assemble": "assembly",
    "pack": "packing",
}


def doing(stage: str) -> str:
    """A stage of the work as a noun: `turning`, `assembly`."""
    return _DOING.get(stage, stage)


def counted(part: Part, quantity: int) -> str:
    """`2 × Godwit kit chrome`, `55 ml denatured alcohol`, `6 × dry strip P120`: as a hand takes it."""
    return counted_of(part.name, part.unit, quantity)


def counted_of(name: str, unit: str, quantity: int) -> str:
    """The same of a part that is known by its name and unit."""
    if read_unit(unit).kind == "count":
        return f"{show_amount(-(-quantity // 1000) * 1000, 'piece')} × {name}"
    return f"{show_measurable(quantity, unit)} {name}"


def together(names: Sequence[str]) -> str:
    """Names that begin alike, the beginning once: `trimmer pilot O, 7 mm, 27/64; bushings Dunlin`."""
    groups: list[list[str]] = []
    for name in names:
        if groups and _common(groups[-1][0], name):
            groups[-1].append(name)
        else:
            groups.append([name])
    return "; ".join(_group(group) for group in groups)


def _group(names: Sequence[str]) -> str:
    start = min((_common(names[0], name) for name in names[1:]), key=len, default="")
    return ", ".join([names[0], *(name.removeprefix(start) for name in names[1:])])


def _common(one: str, other: str) -> str:
    """The whole words both begin with, but for the last of either; empty where there are none or a figure begins."""
    words: list[str] = []
    for mine, yours in zip(one.split(" ")[:-1], other.split(" ")[:-1], strict=False):
        if mine != yours:
            break
        words.append(mine)
    return "" if not words or words[0][:1].isdigit() else " ".join(words) + " "


def amounts(rows: Iterable[tuple[Part, int]]) -> str:
    """Supplies with how much of each behind their name: `dry strip P120 6, P180 8; CA thin 14 ml`."""
    said = []
    for part, quantity in rows:
        counts = read_unit(part.unit).kind == "count"
        amount = str(-(-quantity // 1000)) if counts else show_measurable(quantity, part.unit)
        said.append((part.name, amount))
    return _with_amounts(said)


def _with_amounts(said: Sequence[tuple[str, str]]) -> str:
    done: list[str] = []
    before = ""
    for name, amount in said:
        start = _common(before, name) if before else ""
        text = f"{name.removeprefix(start)} {amount}"
        if start:
            done[-1] += f", {text}"
        else:
            done.append(text)
        before = name
    return "; ".join(done)
