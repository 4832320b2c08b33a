"""A filled sheet of a making session, back again."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from inventory.catalogue import Catalogue, Part, fold
from inventory.catalogue.stages import STAGES
from inventory.errors import AskedCell, Place, nearest
from inventory.ledger import fingerprint
from inventory.measures import plural
from inventory.reports.filled import (
    FilledBlank,
    FilledBottle,
    FilledCount,
    FilledPiece,
    FilledSession,
    FilledUse,
)
from inventory.sheets.counts.rows import counts_of, part_of
from inventory.sheets.files import fold_heading
from inventory.sheets.forms import blanks
from inventory.sheets.forms.blanks import FULL_ONES, SALVAGED, USED_UP, WEIGHED
from inventory.sheets.forms.by_hand import ToFill, take
from inventory.sheets.forms.cells import (
    amount_of,
    check_columns,
    filled_in,
    free_text,
    note_of,
    number_of,
    pieces,
    weight,
)
from inventory.sheets.forms.kinds import foreign, kind_of, needed_of, whose
from inventory.sheets.forms.returned_form import ReturnedForm
from inventory.sheets.forms.returned_tab import ReturnedRow, ReturnedTab
from inventory.sheets.forms.twice import once
from inventory.sheets.forms.unseen import check_unseen
from inventory.sheets.sessions.pages import PRINTED
from inventory.sheets.sessions.tabs import (
    AFTER,
    BEFORE,
    BOTTLE_COLUMNS,
    BOTTLES,
    COUNT_COLUMNS,
    COUNTS,
    CUT_COLUMNS,
    CUTTING,
    FULL,
    GROSS,
    IN_PART,
    KITS,
    LOST_STAGES,
    NOTES,
    OF,
    ONCE,
    PIECE_COLUMNS,
    PIECES,
    REASON,
    SESSION,
    TUBES,
    USE_COLUMNS,
    USED,
    lost_at,
    session_of,
)

_COLUMNS = {
    PIECES: PIECE_COLUMNS,
    CUTTING: CUT_COLUMNS,
    BOTTLES: BOTTLE_COLUMNS,
    USED: USE_COLUMNS,
    COUNTS: COUNT_COLUMNS,
}
_OURS = (PIECES, CUTTING, BOTTLES, USED, COUNTS)
_SPOILED = ("spoiledat", "lostat")
"""How a heading of a stage begins, folded; the other one in sheets of earlier versions."""
_COUNTED = ("good", *(lost_at(stage) for stage in STAGES), TUBES, KITS, IN_PART)
Identity = tuple[str, int, int]


def read_session(
    path: Path, known: Catalogue, answers: Mapping[AskedCell, str] | None = None
) -> FilledSession:
    """What a filled session sheet says: a workbook, a folder of its CSV files, or one of them alone.

    Tabs are known by their columns, in any order and under any name. Rows of the plan come back even where nothing
    is filled in (good is None then); rows to weigh or count only where something is. Whether it fits the plan is for
    the job to say: every row has its place. answers: to cells that were asked about. Raises BadSheet with every cell
    that cannot be taken, or where the file is a sheet of another kind.
    """
    form = ReturnedForm(path, PRINTED, answers, ONCE)
    kinds = [(kind_of(tab), tab) for tab in form.tabs]
    mine = [tab for kind, tab in kinds if kind in _OURS]
    if not form.problems and (not mine or _is_count(mine)):
        raise foreign(form.tabs, form.name, "session sheet", of_count=False)
    headings = [column.heading for kind in _OURS for column in _COLUMNS[kind]]
    check_unseen(form, mine, [*headings, *(lost_at(stage) for stage in STAGES), AFTER])
    reading = _SessionReading(form, known)
    for kind, tab in kinds:
        reading.take(kind, tab)
    reading.check()
    form.finish()
    return reading.done()


def _is_count(tabs: Sequence[ReturnedTab]) -> bool:
    return any(whose(row.said(OF)) == "count" for tab in tabs for row in tab.rows)


class _SessionReading:
    """A session sheet on its way in."""

    def __init__(self, form: ReturnedForm, known: Catalogue) -> None:
        self.form, self.known = form, known
        self.pieces: list[FilledPiece] = []
        self.blanks: list[FilledBlank] = []
        self.bottles: list[FilledBottle] = []
        self.uses: list[FilledUse] = []
        self.counts: list[FilledCount] = []
        self.notes: list[str] = []
        self.facts: dict[str, str] = {}
        self.belongs: dict[Identity, ReturnedRow] = {}
        self.after = GROSS

    def take(self, kind: str, tab: ReturnedTab) -> None:
        """Read one tab."""
        if kind == SESSION:
            self._facts(tab)
        elif kind == NOTES:
            self._notes(tab)
        elif kind in _OURS:
            known = [field.heading for field in _COLUMNS[kind]]
            more = {PIECES: [lost_at(stage) for stage in STAGES], BOTTLES: [AFTER]}.get(kind, [])
            needed = needed_of(kind, tab)
            if check_columns(self.form, tab, known + more, needed, _SPOILED):
                self._rows(kind, tab)
        elif kind == "":
            self.form.announced.append(
                f"{tab.file}, {tab.name}: no tab of a session sheet; it was left alone."
            )

    def _rows(self, kind: str, tab: ReturnedTab) -> None:
        self.after = AFTER if tab.has(AFTER) else GROSS
        if kind == BOTTLES and tab.has(AFTER, GROSS):
            problem = (
                f"“{GROSS}” and “{AFTER}” both are the weight after the session. Take one of the columns out."
            )
            self.form.problems.append(Place(tab.file, tab.name, None, GROSS, "", problem))
        readers = {
            PIECES: self._piece,
            CUTTING: self._blank,
            BOTTLES: self._bottle,
            USED: self._use,
        }
        read: Callable[[ReturnedRow], None] = readers.get(kind, lambda _: None)
        for row in tab.rows:
            self._whose(row)
            read(row)
        if kind == COUNTS:
            self.counts += counts_of(tab.rows, self.known, self.form.announced)
        if kind == PIECES:
            _strange_stages(tab)

    def _whose(self, row: ReturnedRow) -> None:
        found = session_of(row.said(OF))
        if found is not None:
            self.belongs.setdefault(found, row)

    def _facts(self, tab: ReturnedTab) -> None:
        for row in tab.rows:
            what, value = fold_heading(row.said("what")), row.said("said")
            if what in ("session", "plan", "mark"):
                self.facts.setdefault(what, value)

    def _notes(self, tab: ReturnedTab) -> None:
        self.notes += [title for title in tab.titles if title and fold_heading(title) != NOTES]
        for row in tab.rows:
            said = [*row.cells.values(), *row.loose]
            self.notes += [free_text(row, NOTES, text) for text in said if text]

    def _piece(self, row: ReturnedRow) -> None:
        number = row.read("row", number_of("row of the plan"), 0)
        if not number and not filled_in(row, (*_COUNTED, "pattern", "note")):
            return
        before = len(self.form.problems)
        good, lost, words = self._came_out(row)
        done = FilledPiece(
            row.place(),
            number,
            good,
            lost,
            self._pieces(row, TUBES, SALVAGED) or 0,
            self._pieces(row, KITS, SALVAGED) or 0,
            self._pieces(row, IN_PART, SALVAGED) or 0,
            _order(row, number),
            self._name(row, "pattern", lambda name: self.known.pattern(name).name),
            self._name(row, "plating", lambda name: self.known.plating(name).name),
            self._name(row, "kit", lambda name: self.known.part(name).name),
            self._name(row, "blank", lambda name: self.known.part(name).name),
            "; ".join(filter(None, (note_of(row, "note"), *words))),
        )
        if not number and not row.said("row"):
            _check_added(row)
        if len(self.form.problems) == before:
            self.pieces.append(done)

    def _came_out(self, row: ReturnedRow) -> tuple[int | None, dict[str, int], list[str]]:
        """Good ones, spoiled ones by stage, and the words that stood beside a number."""
        told = self.form.announced
        good = take(row, "good", pieces, blanks.good(row), told)
        lost: dict[str, int] = {}
        words = []
        for stage in STAGES:
            found = take(row, lost_at(stage), pieces, blanks.spoiled(row, stage), told)
            if found is not None and found.value:
                lost[stage] = found.value
                words += [f"{stage}: {found.value} {found.words}"] if found.words else []
        if good is not None and good.of is not None and good.value + sum(lost.values()) != good.of:
            missing = good.of - good.value
            row.refuse(
                "good",
                f"{good.value} of {good.of} are good, and {sum(lost.values())} are written as spoiled. "
                f"Write where {plural(missing, 'piece was', 'pieces were')} spoiled, or the good ones alone.",
            )
        return good.value if good else None, lost, words

    def _pieces(self, row: ReturnedRow, heading: str, blank: ToFill) -> int | None:
        found = take(row, heading, pieces, blank, self.form.announced)
        return None if found is None else found.value

    def _name(self, row: ReturnedRow, heading: str, find: Callable[[str], str]) -> str:
        return row.read(heading, find, "")

    def _blank(self, row: ReturnedRow) -> None:
        part = part_of(row, self.known, ("cut",))
        lot = row.read("lot", number_of("lot of the book"), 0)
        cut = self._pieces(row, "cut", blanks.cut(row))
        if part is not None and cut is not None:
            self.blanks.append(FilledBlank(row.place("cut"), part.name, cut, lot, row.text("blank")))

    def _bottle(self, row: ReturnedRow) -> None:
        after = self.after
        part = part_of(row, self.known, (after, BEFORE, FULL))
        lot = row.read("lot", number_of("lot of the book"), 0)
        told = self.form.announced
        scales = [take(row, heading, weight, WEIGHED, told) for heading in (after, BEFORE)]
        gross, before = (None if one is None else one.value for one in scales)
        full = self._pieces(row, FULL, FULL_ONES)
        if part is None or (gross, before, full) == (None, None, None):
            return
        words = "; ".join(one.words for one in scales if one is not None and one.words)
        steps = [one[1] for one in (gross, before) if one]
        self.bottles.append(
            FilledBottle(
                row.place(after),
                part.name,
                lot,
                gross[0] if gross else None,
                max(steps, default=1000),
                full,
                before[0] if before else None,
                row.text(REASON) or words,
                row.said("bottle"),
            )
        )

    def _use(self, row: ReturnedRow) -> None:
        part: Part | None = part_of(row, self.known, ("used",))
        used = take(row, "used", amount_of(part), USED_UP, self.form.announced) if part else None
        if part is not None and used is not None:
            reason = row.text(REASON) or used.words
            self.uses.append(FilledUse(row.place("used"), part.name, used.value, reason))

    def check(self) -> None:
        """What only shows when every row is read: rows given twice, rows of two sheets."""
        once(
            self.form.problems,
            [((p.row,), p.where, f"Row {p.row} of the plan") for p in self.pieces if p.row],
        )
        once(
            self.form.problems,
            [((b.part, b.lot), b.where, f"This bottle of {b.part}") for b in self.bottles if b.lot],
        )
        once(self.form.problems, [((u.part,), u.where, u.part) for u in self.uses])
        once(self.form.problems, [((c.part, c.lot), c.where, c.part) for c in self.counts])
        own = self._own()
        first = own or next(iter(self.belongs), None)
        for other, row in self.belongs.items():
            if other != first and first is not None:
                row.refuse(
                    OF,
                    f"This row is of session {other[1]}, the sheet of session {first[1]}. Keep them apart.",
                )

    def _own(self) -> Identity | None:
        """What the tab `session` says, where it says all of it."""
        said = [self.facts.get(what) for what in ("session", "plan")]
        if "mark" not in self.facts or any(
            text is None or not text.isdecimal() or len(text) > 9 for text in said
        ):
            return None
        return self.facts["mark"], int(said[0] or 0), int(said[1] or 0)

    def done(self) -> FilledSession:
        """The sheet as it was read."""
        mark, session, document = self._own() or next(iter(self.belongs), ("", 0, 0))
        return FilledSession(
            *(mark, session, document),
            tuple(self.pieces),
            tuple(self.bottles),
            tuple(self.uses),
            tuple(self.counts),
            tuple(self.notes),
            self._print(mark, session, document),
            self.form.told(),
            tuple(self.blanks),
        )

    def _print(self, mark: str, session: int, document: int) -> str:
        """Remarks are left out of it, and rows nobody filled: they draw nothing."""
        said = sorted(_digest(one) for one in self.pieces if one.good is not None or one.lost)
        cut = sorted((fold(one.part), one.lot, fold(one.name), one.cut) for one in self.blanks)
        return fingerprint(
            *("session", mark, session, document, said),
            sorted(_bottle_digest(one) for one in self.bottles),
            sorted((fold(one.part), one.used, *_reason(one)) for one in self.uses),
            sorted(
                (
                    fold(one.part),
                    one.lot,
                    one.counted,
                    -1 if one.second is None else one.second,
                    *_reason(one),
                )
                for one in self.counts
            ),
            *([cut] if cut else []),  # sheets booked before blanks were asked about keep their print
        )


def _bottle_digest(one: FilledBottle) -> tuple[object, ...]:
    said = (fold(one.part), one.lot, -1 if one.gross is None else one.gross)
    more = (one.full, one.before)
    told = tuple(map(str, more)) if more != (None, None) else ()
    return (
        *said,
        *told,
        *_reason(one),
    )  # a sheet from before there were these columns says what it said then


def _reason(one: FilledBottle | FilledUse | FilledCount) -> tuple[str, ...]:
    return (fold(one.reason),) if one.reason else ()


def _digest(one: FilledPiece) -> list[object]:
    names = [fold(name) for name in (one.order, one.pattern, one.plating, one.kit, one.blank)]
    good = -1 if one.good is None else one.good
    lost = [one.lost.get(stage, 0) for stage in STAGES]
    return [one.row, *names, good, *lost, one.tubes_saved, one.kits_saved, one.in_part]


def _order(row: ReturnedRow, number: int) -> str:
    """The order a row is for; what nobody planned may be for the stall, in that word."""
    order = row.text("order")
    return "" if not number and fold(order) == "stall" else order


def _check_added(row: ReturnedRow) -> None:
    """A row nobody planned says what was made, and how many."""
    if not row.said("pattern"):
        row.refuse("pattern", "What was made? Name the pattern, or the row of the plan.")
    if not filled_in(row, _COUNTED[: 1 + len(STAGES)]):
        row.refuse("good", "How many came out good? The row says what was made, but not that.")


def _strange_stages(tab: ReturnedTab) -> None:
    """Pieces spoiled at a stage that is none."""
    for title, folded in zip(tab.titles, tab.headings, strict=True):
        stage = next((folded.removeprefix(one) for one in _SPOILED if folded.startswith(one)), "")
        if not stage or stage in STAGES:
            continue
        near = nearest(stage, STAGES, 1)
        meant = f"Did you mean “{lost_at(near[0])}”? " if near else ""
        for row in tab.rows:
            if row.cells.get(folded, "0") not in ("", "0"):
                row.refuse(
                    title,
                    f"There is no stage “{stage}”. {meant}Pieces are spoiled at {', '.join(LOST_STAGES)}.",
                )
