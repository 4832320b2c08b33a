"""Families, platings, materials and patterns: what a kit needs to become a piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from inventory.measures import Drill, Length

Per = Literal["piece", "barrel", "tube glue volume", "barrel area", "session"]
PERS: tuple[Per, ...] = ("piece", "barrel", "tube glue volume", "barrel area", "session")
Role = Literal["the kit", "the tubes", "the blank", "the refill"]
ROLES: tuple[Role, ...] = ("the kit", "the tubes", "the blank", "the refill")


@dataclass(frozen=True, slots=True)
class Plating:
    """The metal finish of a kit's fittings, and the ones that may stand in with the customer's word."""

    name: str
    substitutes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Material:
    """What a blank is made of. allowance: length to add per tube, in total; losses: fraction by stage.

    usual: here as elsewhere the headings under which nobody said a word, so that what is usual stands there.
    """

    name: str
    allowance: Length
    losses: Mapping[str, Fraction] = field(default_factory=dict)
    caution: str = ""
    listed_species: str = ""
    usual: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Barrel:
    """One tube's worth of blank. Without a tube it states its own length (and drill, where it is bored)."""

    name: str
    tube: str | None = None
    drill: Drill | None = None
    finished_a: Length | None = None
    finished_b: Length | None = None
    length: Length | None = None
    usual: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Family:
    """A kit's geometry. refill, bushings and trimmer pilots name parts."""

    name: str
    makes: str
    refill: str | None = None
    bushings: tuple[str, ...] = ()
    trimmer_pilots: tuple[str, ...] = ()
    note: str = ""
    barrels: tuple[Barrel, ...] = ()


@dataclass(frozen=True, slots=True)
class BillLine:
    """One line of a bill of materials.

    part: a part's name, a role, or another pattern of the same family whose bill is taken in here.
    quantity: thousandths of the part's unit for one `per`: one piece, one barrel, one millilitre of tube glue
    volume, one square centimetre of barrel area, or one making session.
    """

    stage: str
    part: str
    quantity: int
    per: Per
    usual: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Pattern:
    """What is made: a family with its bill of materials; minutes of work a piece, where known.

    finish: the finishing schedule that was asked for, empty where none was said.
    """

    name: str
    family: str
    note: str = ""
    minutes: int | None = None
    bill: tuple[BillLine, ...] = ()
    finish: str = ""
