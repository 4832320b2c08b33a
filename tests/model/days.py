"""Ordinary days, done to the plain model and by the tool alike."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from .machine import TODAY
from .plain import Made, Model
from .things import Wish
from .tool import Tool

Step = tuple[Callable[[], object], Callable[[], int]]
"""The same done to the model and by the tool."""


@dataclass(frozen=True)
class Days:
    """Ordinary days of both sides."""

    model: Model
    tool: Tool

    def change(self, count: int, day: date) -> Step:
        """The order is wanted otherwise."""
        words = ("change", "S1", "--count", str(count), "--by", day.isoformat(), "--yes")
        return lambda: self.model.change("S1", count, day), lambda: self.tool(*words)

    def repair(self, part: str, many: int) -> Step:
        """A piece of the order comes back."""
        words = ("came-back", "S1", "--part", f"{part}={many // 1000}", "--yes")
        return lambda: self.model.came_back("S1", part, many), lambda: self.tool(*words)

    def undo(self, number: int | None) -> Step:
        """Take one back."""
        words = () if number is None else (str(number + 1),)
        return lambda: self.model.undo(number), lambda: self.tool("undo", *words, "--yes")

    def rob(self, kit: str, many: int) -> Step:
        """Clips are taken out of kits."""
        words = ("took", "clip", str(many), "--from", kit, "--yes")
        return lambda: self.model.robbed(kit, 1000 * many), lambda: self.tool(*words)

    def promise(self, order: str, wish: Wish) -> Step:
        """An order is taken."""
        return lambda: self.model.promise(order, wish), lambda: self.tool.promise(order, wish)

    def hours(self, week: str) -> Step:
        """The week has these hours."""
        return lambda: self.model.hours(week), lambda: self.tool("hours", week, "--yes")

    def retire(self, *, back: bool) -> Step:
        """A pattern is no longer made, or is again."""
        words = ("retire", "Avocet pen", *(["--back"] if back else []), "--yes")
        return lambda: self.model.retire("pattern", "Avocet pen", back=back), lambda: self.tool(*words)

    def rename(self, part: str) -> Step:
        """A part is renamed."""
        number = max(self.model.documents, default=0) + 1
        return lambda: self.model.rename(part), lambda: self.tool(
            "rename", part, f"{part} no. {number}", "--yes"
        )

    def merge(self, old: str, new: str) -> Step:
        """Two names are one thing's."""
        return lambda: self.model.merge(old, new), lambda: self.tool("merge", old, "into", new, "--yes")

    def found(self, part: str, many: int) -> Step:
        """Some turn up, called so."""
        return lambda: self.model.found(self.model.now(part), many), self.tool.by_hand("found", part, many)

    def hand_over(self, count: int) -> Step:
        """Some of the order are fetched."""
        return (
            lambda: self.model.hand_over("S1", {}, count, made_now=True),
            lambda: self.tool.hand_over("S1", {}, count, made_now=True),
        )

    def sheet(self, lines: list[tuple[str, str, int]]) -> Step:
        """A sheet of days."""
        return lambda: self.model.days(lines), lambda: self.tool.days(lines)

    def make(self, pattern: str = "Avocet pen", kit: str = "Avocet kit chrome", good: int = 2) -> Step:
        """Two, or as many, for the shelf, of holly."""
        made = Made(0, good, {}, pattern, kit, "holly blank")
        words = (pattern, "--plating", kit.split()[-1], "--blank", "holly")
        return lambda: self.model.made(made, ""), lambda: self.tool.made(good, {}, words)

    def sell(self, count: int, pattern: str = "Avocet pen", kit: str = "Avocet kit chrome") -> Step:
        """Some of them are sold."""
        stall = Wish(pattern, kit, "holly blank", count, TODAY)
        words = ("sold", self.model.called(self.model.piece(stall)), str(count), "--yes")
        return lambda: self.model.sold(stall, count), lambda: self.tool(*words)
