"""Tables of how pieces are made: families with their barrels and tools, patterns with their bills."""

from __future__ import annotations

from sqlalchemy import CheckConstraint

from inventory.store.schema.models.base import Row, named, number, to, whole


class FamilyRow(Row, table=True):
    """A kit's geometry."""

    __tablename__ = "family"

    id: int = number()
    key: str = named()
    name: str
    makes: str
    refill_id: int | None = to("part.id", default=None)
    note: str = ""


class FamilyToolRow(Row, table=True):
    """A tool the family wants; duty is `bushings` or `trimmer pilot`."""

    __tablename__ = "family_tool"

    family_id: int = number("family.id")
    duty: str = number()
    position: int = number()
    part_id: int = to("part.id")


class BarrelRow(Row, table=True):
    """One tube's worth of blank."""

    __tablename__ = "barrel"

    family_id: int = number("family.id")
    position: int = number()
    name: str
    tube_id: int | None = to("part.id", default=None)
    drill: str | None = None
    finished_a: str | None = None
    finished_b: str | None = None
    length: str | None = None
    usual: str = "[]"


class PatternRow(Row, table=True):
    """What is made."""

    __tablename__ = "pattern"

    id: int = number()
    key: str = named()
    name: str
    family_id: int = to("family.id")
    note: str = ""
    minutes: int | None = None
    finish: str = ""


class BillLineRow(Row, table=True):
    """One line of a bill: it names a part, a role such as `the kit`, or another pattern to be taken in."""

    __tablename__ = "bill_line"
    __table_args__ = (
        CheckConstraint(
            "(part_id IS NOT NULL AND role IS NULL AND taken_id IS NULL)"
            " OR (part_id IS NULL AND role IS NOT NULL AND taken_id IS NULL)"
            " OR (part_id IS NULL AND role IS NULL AND taken_id IS NOT NULL)",
            name="names_one_thing",
        ),
    )

    pattern_id: int = number("pattern.id")
    position: int = number()
    stage: str
    part_id: int | None = to("part.id", default=None)
    role: str | None = None
    taken_id: int | None = to("pattern.id", default=None)
    quantity: int = whole()
    per: str
    usual: str = "[]"
