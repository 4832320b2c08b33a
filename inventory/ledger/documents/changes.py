"""What a document changes of what things are called, of which are used, and of what was agreed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from inventory.catalogue import Named

MergedKind = Literal["part", "supplier", "plating", "pattern"]
"""What two names may turn out to be one of."""
Thing = Named | Literal["order"]
"""What has a name that can be changed."""


@dataclass(frozen=True, slots=True)
class Renamed:
    """A thing gets another name; the old one goes on finding it."""

    what: Thing
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class Merged:
    """Two things are one: whatever speaks of the old one speaks of the new one."""

    old: str
    new: str
    what: MergedKind = "part"


@dataclass(frozen=True, slots=True)
class Retired:
    """A thing is no longer bought, offered or listed; back: it is again."""

    what: Named
    name: str
    back: bool = False


@dataclass(frozen=True, slots=True)
class Recoded:
    """A supplier's code of an offer, which was wrong."""

    supplier: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class SettingChanged:
    """What the shop settled for itself, as text by its key; None: nothing any more."""

    key: str
    value: str | None


Change = Renamed | Merged | Retired | Recoded | SettingChanged
