"""Random commands for the tool and the plain model alike; after each of them both must hold the same."""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Callable
from contextlib import AbstractContextManager, ExitStack
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, precondition, rule

from .draws import BY_COUNT, MOST, PIECES, losses, parts, prices, quantities, small
from .everyday import Counted
from .goods import BLANKS, COUNTED, KITS, LEAD, NET, PACK, PARTS, RETIRING, TWINS, WEEKS
from .money import Money
from .parcels import Came
from .plain import Made, Model
from .things import Refusal, Wish
from .tool import FINE, REFUSED, SHORT, Tool, amount, coins, state_of

Places = Callable[[], AbstractContextManager[str]]
TODAY = date(2026, 3, 2)
NAMES = tuple(f"S{n}" for n in range(1, 7))
FIRED: Counter[str] = Counter()
"""How often each rule was booked and refused, over a whole run."""


class Bench(Money):
    """One book, fresh with the shop's names in it. `places` gives where it is kept, and takes it away again."""

    places: Places

    def __init__(self) -> None:
        super().__init__()
        self.stack = ExitStack()
        place = self.stack.enter_context(type(self).places())
        self.folder = Path(self.stack.enter_context(tempfile.TemporaryDirectory(prefix="kitdrawer-model-")))
        patch = self.stack.enter_context(pytest.MonkeyPatch.context())
        self.tool = Tool(place, self.folder, patch, TODAY)
        self.model = Model(TODAY, self._by_rate())
        self.notes = 0
        self.placed: list[tuple[str, str, int, int]] = []

    def _by_rate(self) -> dict[int, int]:
        """Asked once of a fresh book: nothing is weighed here, so it stays as it is, for every pen of the shop."""
        if not BY_COUNT:
            (pattern, _), kit = next(iter(KITS.items()))
            for count in range(1, MOST + 1):
                wish = Wish(pattern, kit, BLANKS[0], count, TODAY + timedelta(days=90))
                BY_COUNT[count] = self.tool.set_aside_by_rate(wish)
        return BY_COUNT

    def teardown(self) -> None:
        """Nothing stays behind."""
        self.stack.close()

    def both(self, what: str, mine: Callable[[], None], tools: Callable[[], int]) -> None:
        """Do it on both sides: booked by both, or refused by both."""
        try:
            mine()
            refusal = ""
        except Refusal as error:
            refusal = str(error) or "refused"
        code = tools()
        FIRED[f"{what}{' refused' if refusal else ''}"] += 1
        fine = (REFUSED,) if refusal else (FINE, SHORT)
        assert code in fine, f"the model says {refusal or 'fine'}, the tool {code}: {self.tool.said}"

    @initialize(data=st.data())
    def open_shop(self, data: st.DataObject) -> None:
        """Something lies on the shelf."""
        rows = [
            Counted(part, data.draw(quantities(part)), data.draw(prices), TODAY - timedelta(days=n))
            for n, part in enumerate(PARTS)
        ]
        self._load(rows)

    def _load(self, rows: list[Counted]) -> None:
        content = ("load", frozenset(rows))
        self.both("load", lambda: self.model.count(rows, content), lambda: self.tool.load(rows))

    @rule(chosen=parts, data=st.data())
    def load(self, chosen: list[str], data: st.DataObject) -> None:
        """A counts sheet with costs."""
        chosen = self._now(chosen)
        days = st.none() | st.integers(0, 9).map(lambda n: self.model.today - timedelta(days=n))
        rows = [
            Counted(part, data.draw(quantities(part)), data.draw(prices | st.none()), data.draw(days))
            for part in chosen
        ]
        self._load(rows)

    @rule(chosen=parts, data=st.data())
    def count(self, chosen: list[str], data: st.DataObject) -> None:
        """A count sheet, all of it counted twice; near what is there more often than not."""
        rows = []
        for part in self._now(chosen):
            there = self.model.on_hand(part)
            near = st.sampled_from([max(there + 1000 * n, 0) for n in range(-2, 3)])
            rows.append(Counted(part, data.draw(near | quantities(part))))
        content = ("count", frozenset(rows))
        self.both("count", lambda: self.model.count(rows, content), lambda: self.tool.count(rows))

    def _now(self, names: list[str]) -> list[str]:
        """Things under the names they have now, each once: a sheet does not speak twice of one."""
        return list(dict.fromkeys(map(self.model.now, names)))

    @rule(
        order=st.sampled_from(NAMES),
        kit=st.sampled_from(sorted(KITS)),
        blank=st.sampled_from(BLANKS[:1]),
        count=st.integers(1, MOST),
        days=st.integers(5, 90),
        noted=st.booleans(),
    )
    def promise(
        self, order: str, kit: tuple[str, str], blank: str, count: int, days: int, noted: bool
    ) -> None:
        """Promise a new order, or one by its name alone."""
        due = self.model.today + timedelta(days=days)
        wish = Wish(kit[0], KITS[kit], blank, count, due)
        known = self.model.wishes.get(order)
        if known is not None:  # asked for anew it is for the same thing
            wish = replace(known, count=count, due=due)
        asked = None if noted and known is not None else wish
        self.both(
            "promise", lambda: self.model.promise(order, asked), lambda: self.tool.promise(order, asked)
        )

    @rule(part=st.sampled_from(PARTS), data=st.data())
    def found(self, part: str, data: st.DataObject) -> None:
        """Something turns up in a drawer."""
        many = data.draw(quantities(part, 3).filter(bool))
        said = self.tool.by_hand("found", part, many)
        self.both("found", lambda: self.model.found(self.model.now(part), many), said)

    @rule(part=st.sampled_from(PARTS), each=st.none() | prices, data=st.data())
    def add(self, part: str, each: int | None, data: st.DataObject) -> None:
        """Something comes without a parcel."""
        many = data.draw(quantities(part, 3).filter(bool))
        paid = ["--paid", str(coins(each)), "--for", "1 ml" if part in NET else "each", "--sure"]
        said = self.tool.by_hand("add", part, many, *(paid if each is not None else []))
        self.both("add", lambda: self.model.added(self.model.now(part), many, each), said)

    @rule(part=st.sampled_from(PARTS), lent=st.booleans(), data=st.data())
    def took(self, part: str, lent: bool, data: st.DataObject) -> None:
        """Something is broken, or lent (only what is counted: a bottle that is lent is a full one)."""
        many, lent = data.draw(quantities(part, 5).filter(bool)), lent and part in set(COUNTED) - TWINS.keys()
        said = self.tool.by_hand("took", part, many, "--reason", "lent" if lent else "broke")
        self.both("took", lambda: self.model.took(self.model.now(part), many, lent=lent), said)

    @precondition(lambda self: any(self.model.with_others(part) for part in COUNTED))
    @rule(data=st.data(), many=st.integers(1, 3))
    def come_back(self, data: st.DataObject, many: int) -> None:
        """Something that was lent is back."""
        part = data.draw(st.sampled_from([part for part in COUNTED if self.model.with_others(part)]))
        said = self.tool.by_hand("found", part, 1000 * many, "--back")
        self.both("come back", lambda: self.model.come_back(part, 1000 * many), said)

    @rule(data=st.data())
    def days(self, data: st.DataObject) -> None:
        """A sheet of what was found and broken, the same part perhaps twice."""
        part, what = st.sampled_from(PARTS), st.sampled_from(("found", "took"))
        few = data.draw(st.lists(st.tuples(what, part), min_size=1, max_size=3))
        lines = [(one, of, data.draw(quantities(of, 3).filter(bool))) for one, of in few]
        mine = [(one, self.model.now(of), many) for one, of, many in lines]
        self.both("days", lambda: self.model.days(mine), lambda: self.tool.days(lines))

    @precondition(lambda self: self._there())
    @rule(data=st.data(), pieces=st.integers(1, 2))
    def sold(self, data: st.DataObject, pieces: int) -> None:
        """Finished pieces are sold, by a name they have or had."""
        wish = replace(data.draw(st.sampled_from(self._there())), count=pieces)
        part = self.model.piece(wish)
        words = ("sold", data.draw(st.sampled_from((part, self.model.called(part)))), str(pieces), "--yes")
        self.both("sold", lambda: self.model.sold(wish, pieces), lambda: self.tool(*words))

    def _there(self) -> list[Wish]:
        """What there are finished pieces of."""
        every = [Wish(*kit, blank, 1, self.model.today) for kit, blank in PIECES]
        return [wish for wish in every if self.model.on_hand(self.model.piece(wish))]

    @precondition(lambda self: self.model.wishes)
    @rule(data=st.data(), part=st.sampled_from(PARTS))
    def come_back_for_repair(self, data: st.DataObject, part: str) -> None:
        """A piece comes back and takes something."""
        order, many = self._an_order(data), data.draw(quantities(part, 2).filter(bool))
        words = ("came-back", order, "--part", f"{part}={amount(many)}", "--yes")
        self.both(
            "repair",
            lambda: self.model.came_back(order, self.model.now(part), many),
            lambda: self.tool(*words),
        )

    @rule(kit=st.sampled_from(sorted(KITS)), many=st.integers(1, 2))
    def rob(self, kit: tuple[str, str], many: int) -> None:
        """Clips are taken out of kits."""
        words = ("took", "clip", str(many), "--from", KITS[kit], "--yes")
        self.both("rob", lambda: self.model.robbed(KITS[kit], 1000 * many), lambda: self.tool(*words))

    @precondition(lambda self: self.model.wishes)
    @rule(data=st.data(), count=st.integers(1, MOST), days=st.integers(0, 60))
    def change(self, data: st.DataObject, count: int, days: int) -> None:
        """An order is wanted otherwise."""
        order, due = self._an_order(data), self.model.today + timedelta(days=days)
        words = ("change", order, "--count", str(count), "--by", due.isoformat(), "--yes")
        self.both("change", lambda: self.model.change(order, count, due), lambda: self.tool(*words))

    @rule(part=st.sampled_from(("tube", "refill")))
    def rename(self, part: str) -> None:
        """A part is renamed; the random hand goes on saying its first name."""
        number = max(self.model.documents, default=0) + 1
        words = ("rename", part, f"{part} no. {number}", "--yes")
        self.both("rename", lambda: self.model.rename(part), lambda: self.tool(*words))

    @rule(old=st.sampled_from(sorted(TWINS)))
    def merge(self, old: str) -> None:
        """Two names are one thing's."""
        words = ("merge", old, "into", TWINS[old], "--yes")
        self.both("merge", lambda: self.model.merge(old, TWINS[old]), lambda: self.tool(*words))

    @rule(week=st.sampled_from((*WEEKS, "mon 25")))
    def hours(self, week: str) -> None:
        """How many hours the week has, or more than a day has."""
        self.both("hours", lambda: self.model.hours(week), lambda: self.tool("hours", week, "--yes"))

    @rule(thing=st.sampled_from(RETIRING), back=st.booleans())
    def retire(self, thing: tuple[str, str], back: bool) -> None:
        """Something is no longer had, or is again."""
        words = ("retire", thing[1], *(["--back"] if back else []), "--yes")
        self.both("retire", lambda: self.model.retire(*thing, back=back), lambda: self.tool(*words))

    @precondition(lambda self: self.model.wishes)
    @rule(data=st.data())
    def release(self, data: st.DataObject) -> None:
        """Give an order up."""
        order = self._an_order(data)
        self.both("release", lambda: self.model.release(order), lambda: self.tool("release", order, "--yes"))

    @precondition(lambda self: self.model.wishes)
    @rule(lost=losses, made_now=st.booleans(), count=st.none() | st.integers(1, MOST), data=st.data())
    def hand_over(self, lost: dict[str, int], made_now: bool, count: int | None, data: st.DataObject) -> None:
        """An order or a part of it goes out, with pieces lost on the way."""
        order = self._an_order(data)
        self.both(
            "hand over",
            lambda: self.model.hand_over(order, lost, count, made_now=made_now),
            lambda: self.tool.hand_over(order, lost, count, made_now=made_now),
        )

    def _an_order(self, data: st.DataObject) -> str:
        """A promised one, more often than not."""
        names = sorted(self.model.wishes)
        promised = [name for name in names if self.model.state(name) == "promised"]
        return data.draw(st.sampled_from(promised + promised + promised + names))

    @rule(
        chosen=parts,
        data=st.data(),
        again=st.sampled_from((False, False, False, True)),
        more=st.sampled_from((False, False, True)),
    )
    def place(self, chosen: list[str], data: st.DataObject, again: bool, more: bool) -> None:
        """Something is ordered, the same part perhaps from both; now and then the last sheet is sent once more."""
        now = self.model.now
        wanted = [(now(data.draw(st.sampled_from(sorted(LEAD)))), part) for part in self._now(chosen)]
        rows = [
            (supplier, part, data.draw(st.integers(1, 3)), data.draw(prices))
            for supplier, part in dict.fromkeys(wanted)
        ]
        again = again and all(now(of) == of and now(part) == part for of, part, *_ in self.placed)
        self.placed = rows = self.placed if self.placed and again else rows
        self.both(
            "place", lambda: self.model.place(rows, again=more), lambda: self.tool.place_(rows, again=more)
        )

    @precondition(lambda self: self._due())
    @rule(data=st.data(), postage=st.integers(0, 700), again=st.booleans())
    def arrive(self, data: st.DataObject, postage: int, again: bool) -> None:
        """A parcel: less or more than ordered, at other prices, damaged, the rest cancelled, its note seen before."""
        supplier = data.draw(st.sampled_from(sorted({one[0] for one in self._due()})))
        there = sorted({part for of, part in self._due() if of == supplier})
        chosen = data.draw(st.lists(st.sampled_from(there), min_size=1, max_size=3, unique=True))
        if data.draw(st.integers(0, 9)) == 0:
            chosen = self._now([*chosen, data.draw(st.sampled_from(PARTS))])
        rows = [self._came(part, data) for part in chosen]
        wrong = [part for part in self._now(list(COUNTED)) if part not in chosen]
        ordered = [part for part in there if part in COUNTED]
        if wrong and ordered and data.draw(st.integers(0, 3)) == 0:
            other = replace(self._came(data.draw(st.sampled_from(wrong)), data), no_more=False)
            other = replace(
                other, wrong_for=data.draw(st.sampled_from(ordered)), settles=data.draw(st.booleans())
            )
            rows.insert(0, other)
        self.notes += not (again and self.notes)
        note = f"N{self.notes}"
        content = ("arrived", supplier, note)
        self.both(
            "arrive",
            lambda: self.model.arrive(supplier, rows, postage, content),
            lambda: self.tool.arrive(supplier, rows, postage, note),
        )

    def _came(self, part: str, data: st.DataObject) -> Came:
        step = PACK[part] if part in COUNTED else 10_000
        good, damaged = data.draw(small) * step, data.draw(st.sampled_from((0, 0, 0, 1, 2))) * step
        price = data.draw(st.none() | prices)
        return Came(part, good if good or damaged else step, damaged, price, data.draw(st.booleans()))

    def _due(self) -> list[tuple[str, str]]:
        model = self.model
        return [(one.supplier, one.part) for n, one in model.purchases.items() if model.cells["due", n]]

    @precondition(lambda self: self.model.wishes)
    @rule(anew=st.booleans())
    def plan(self, anew: bool) -> None:
        """Plan a session of what is promised."""
        words = ("plan", "--on", self.model.today.isoformat(), *(["--anew"] if anew else []), "--yes")
        self.both("plan", lambda: self.model.plan(anew=anew), lambda: self.tool(*words))

    @precondition(lambda self: self.model.sessions)
    @rule(data=st.data())
    def weekend(self, data: st.DataObject) -> None:
        """Book a session: the planned pieces as far as they went, and some for the stall with losses."""
        model = self.model
        open_ones = [n for n in model.sessions if model.session_state(n) == "planned"]
        number = data.draw(
            st.sampled_from(sorted(model.sessions)) if not open_ones else st.sampled_from(open_ones)
        )
        rows = [Made(at, data.draw(st.none() | small)) for at in range(1, len(model.sessions[number]) + 1)]
        if data.draw(st.booleans()):
            kit = data.draw(st.sampled_from(sorted(KITS)))
            # of holly, which no order asks for: what is lost of it teaches nothing of ash
            rows.append(Made(0, data.draw(small), data.draw(losses), kit[0], KITS[kit], "holly blank"))
        really_cut = data.draw(st.just({}) | st.dictionaries(st.sampled_from(BLANKS), small, max_size=2))
        self.both(
            "weekend",
            lambda: model.weekend(number, rows, really_cut),
            lambda: self.tool.weekend(number, rows, really_cut),
        )

    @rule(data=st.data(), good=st.integers(0, MOST), lost=losses, ordered=st.booleans())
    def made(self, data: st.DataObject, good: int, lost: dict[str, int], ordered: bool) -> None:
        """Pieces made of an evening, for an order or for the shelf; of holly where any are spoiled."""
        pattern, plating = kit = data.draw(st.sampled_from(sorted(KITS)))
        row, order = Made(0, good, lost, pattern, KITS[kit], "holly blank"), ""
        words = [pattern, "--plating", plating, "--blank", "holly"]
        if ordered and self.model.wishes:
            order = self._an_order(data)
            row, words, lost = Made(1, good), ["--order", order], {}
        self.both("made", lambda: self.model.made(row, order), lambda: self.tool.made(good, lost, words))

    @rule(data=st.data())
    def undo(self, data: st.DataObject) -> None:
        """Take the last document back, or any other."""
        last = max(self.model.documents, default=0)
        number = data.draw(st.none() | st.integers(1, last + 1))
        words = () if number is None else (str(number + 1),)  # the tool's first document is the catalogue
        if number is None and self._only_the_catalogue():
            return
        self.both("undo", lambda: self.model.undo(number), lambda: self.tool("undo", *words, "--yes"))

    def _only_the_catalogue(self) -> bool:
        return not self.model.standing()

    @rule(days=st.sampled_from((1, 1, 1, 2, 2, 2, 4, 9)))
    def sleep(self, days: int) -> None:
        """Time passes."""
        self.model.today += timedelta(days=days)
        self.tool.day(self.model.today)

    @invariant()
    def agree(self) -> None:
        """Shelf, claims, what is due, orders and sessions are the same to the last coin, and the book proves sound."""
        if self.tool.sheets:  # the shop is open
            assert self.tool.state() == state_of(self.model), self.tool.said


def bench(new_places: Places) -> type[Bench]:
    """The machine on books of one kind."""

    class There(Bench):
        places = staticmethod(new_places)

    return There
