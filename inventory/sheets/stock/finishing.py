"""When every row is read: parts of one thing put together, and the whole checked against itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from inventory.catalogue import Catalogue, Family, Offer, Pattern, Plating, fold
from inventory.catalogue.checks.trouble import Trouble
from inventory.catalogue.checks.whole import troubles
from inventory.catalogue.merging import merged
from inventory.errors import Place
from inventory.measures import plural
from inventory.sheets.stock.entries.goods import PLATING_SEPARATORS
from inventory.sheets.stock.load_context import LoadContext
from inventory.sheets.stock.rows import split_names


def finish(context: LoadContext) -> Catalogue:
    """The catalogue this load brings; what disagrees is added to the context's problems, each at its place."""
    new = Catalogue(
        parts=context.parts,
        platings={key: _with_substitutes(context, plating) for key, plating in context.platings.items()},
        materials=context.materials,
        families=_families(context),
        patterns=_patterns(context),
        suppliers=context.suppliers,
        offers=_offers(context),
    )
    if context.repeats:
        rows = f"{plural(len(context.repeats), 'row')} of counts"
        context.notes.append(
            f"{rows} (the first is {context.repeats[0]}) of what another tab counts too; taken as more."
        )
    if context.torn:
        return new
    whole = merged(context.known, new)
    before = set(troubles(context.known))
    unread = _unread(context, whole)
    taken_in = {fold(line.part) for key in unread for line in context.bills.get(key, ())}
    context.broken |= (
        taken_in  # by patterns whose own row could not be read, so they need no kit of their own
    )
    for trouble in troubles(whole):
        if trouble not in before and not _knock_on(trouble, context.broken, unread):
            context.problems.append(_place(context, trouble))
    return new


def _with_substitutes(context: LoadContext, plating: Plating) -> Plating:
    names = context.names["plating"]
    listed = [name for text in plating.substitutes for name in split_names(text, names, PLATING_SEPARATORS)]
    return replace(plating, substitutes=tuple(dict.fromkeys(names.get(fold(name), name) for name in listed)))


def _families(context: LoadContext) -> dict[str, Family]:
    """Barrels listed replace a family's barrels; a family listed without any keeps those it had."""
    found = dict(context.families)
    known = context.known.families
    for key in [*found, *(key for key in context.barrels if key not in found)]:
        family = found.get(key) or known.get(key)
        if family is None:
            continue  # its own row could not be read
        had = known[key].barrels if key in known else ()
        barrels = tuple(context.barrels[key]) if key in context.barrels else had
        found[key] = replace(family, barrels=barrels)
    return found


def _patterns(context: LoadContext) -> dict[str, Pattern]:
    """Bill lines listed replace a pattern's bill; a pattern listed without any keeps the one it had."""
    found = dict(context.patterns)
    known = context.known.patterns
    for key in [*found, *(key for key in context.bills if key not in found)]:
        pattern = found.get(key) or known.get(key)
        if pattern is None:
            continue  # its own row could not be read
        had = known[key].bill if key in known else ()
        found[key] = replace(pattern, bill=tuple(context.bills[key]) if key in context.bills else had)
    return found


def _offers(context: LoadContext) -> dict[str, tuple[Offer, ...]]:
    found: dict[str, list[Offer]] = {}
    for draft in context.offers.values():
        found.setdefault(fold(draft.said.part), []).append(draft.offer())
        context.notes += draft.notes()
    return {part: tuple(offers) for part, offers in found.items()}


def _unread(context: LoadContext, whole: Catalogue) -> set[str]:
    """Names that rows gave although the rest of the row could not be read."""
    there = [whole.parts, whole.platings, whole.materials, whole.families, whole.patterns, whole.suppliers]
    known = {key for kind in there for key in kind}
    given = {key for what, names in context.names.items() if what != "order" for key in names}
    return given - known


def _knock_on(trouble: Trouble, broken: set[str], unread: set[str]) -> bool:
    """Whether the trouble only follows from a row that is reported already."""
    if fold(trouble.said) in unread:
        return True
    return trouble.absence and bool({trouble.key[0], fold(trouble.said)} & (broken | unread))


def _place(context: LoadContext, trouble: Trouble) -> Place:
    row = next((context.given[key] for key in _keys(trouble) if key in context.given), None)
    column = context.shown(row or Place(tab=trouble.tab), trouble.column)
    if row is None:  # what was known already stops agreeing: there is no row, only a name
        problem = f"“{trouble.key[0]}”, known already, would no longer agree: {trouble.problem}"
        return Place(tab=trouble.tab, column=column, said=trouble.said, problem=problem)
    return replace(row, column=column, said=trouble.said, problem=trouble.problem)


def _keys(trouble: Trouble) -> Iterator[tuple[str, ...]]:
    yield (trouble.tab, *trouble.key)
    kinds = {"platings": "plating", "materials": "material", "families": "family", "patterns": "pattern"}
    yield (kinds.get(trouble.tab, "part"), *trouble.key)
