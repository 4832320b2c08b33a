"""The blanks a wish allows: one by its name, several joined by “or”, all of a material or of a kind, or any.

A word of a wish is, in this order: `any`, the name of a blank, a material (every blank of it), a kind of material as
its dust tells (`wood`, `antler`, `horn`, `resin` …), a name less “blank”, or words that stand in names (`burl`).
What is retired is not meant by any but its own name.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from inventory.catalogue.families import Material
from inventory.catalogue.names import fold
from inventory.catalogue.parts import Blank, Part
from inventory.catalogue.safety.kinds import dust_of
from inventory.errors import BadInput, UnknownName

_ALL = frozenset({"any", "any blank", "any of them", "anything", "whatever"})
_ANY = re.compile(r"any (?:kind of |sort of )?(?=\S)")
_JOINED = (r"\s*;\s*", r"\s+or\s+", r"\s*,\s*(?:or\s+)?")
"""What stands between words of a wish, the strongest first; a name that holds one of them is tried whole before."""
ACCEPTED = "Accepted: a blank, a material (“walnut”), several joined by “or”, “any wood”, “any”."


@dataclass(frozen=True, slots=True)
class BlankWish:
    """blanks: those that would do, in the order they were named. words: how it reads, empty where it is one blank."""

    words: str
    blanks: tuple[Part, ...]


@dataclass(frozen=True)
class KnownBlanks:
    """What a wish for blanks may name, looked through once however many wishes there are."""

    parts: Mapping[str, Part]
    materials: Mapping[str, Material]
    retired: Callable[[Part], bool]

    def wished(self, text: str) -> BlankWish:
        """The blanks a text allows. Raises UnknownName for a word nothing answers to, BadInput where no blank does."""
        if (strange := self.not_understood(text)) is not None:
            raise self._unknown(strange, text)
        said = [self._meant(term) for term in self._terms(text)]
        blanks = {fold(part.name): part for _, several in said for part in several}
        words = tuple(dict.fromkeys(word for word, _ in said))
        if len(words) == 1 and len(blanks) == 1 and not words[0].startswith("any"):
            return BlankWish("", tuple(blanks.values()))
        return BlankWish(" or ".join(words), tuple(blanks.values()))

    def not_understood(self, text: str) -> str | None:
        """The first word of a wish that nothing answers to; None where all are known."""
        return next((term for term in self._terms(text) if self._one(fold(term)) is None), None)

    def _terms(self, text: str) -> Iterator[str]:
        """The text in the words it is made of, none split further than it has to be."""
        if self._one(fold(text)) is None:
            for joined in _JOINED:
                bits = [bit for bit in re.split(joined, text, flags=re.IGNORECASE) if bit.strip()]
                if len(bits) > 1:
                    for bit in bits:
                        yield from self._terms(bit)
                    return
        yield text

    def _meant(self, term: str) -> tuple[str, tuple[Part, ...]]:
        found = self._one(fold(term)) or ("that", ())
        if not found[1]:
            raise BadInput(f"There is no blank of {found[0]}.", hint="`kitdrawer shelf` lists the blanks.")
        return found

    def _one(self, key: str) -> tuple[str, tuple[Part, ...]] | None:
        """What one word means, and how it is written; None where it means nothing."""
        if key in _ALL:
            return "any blank", self._listed
        named = self._named(key)
        if named is not None:
            return named.name, (named,)
        rest, spelled = _ANY.sub("", key), "any " if key.startswith("any ") else ""
        if rest in self.materials:
            material = self.materials[rest]
            return f"{spelled}{material.name}", tuple(self._of(lambda one: fold(one) == fold(material.name)))
        if of_kind := tuple(self._of(lambda one: _is_of(rest, one))):
            return f"any {rest}", of_kind
        if (named := self._named(f"{rest} blank")) is not None:
            return named.name, (named,)
        words = set(rest.split()) - {"blank"}
        there = tuple(part for part, has in self._words if words and words <= has)
        return (there[0].name if len(there) == 1 else f"{spelled or 'any '}{rest}", there) if there else None

    def _named(self, key: str) -> Part | None:
        part = self.parts.get(key)
        return part if part is not None and isinstance(part.detail, Blank) else None

    def _of(self, wanted: Callable[[str], bool]) -> Iterator[Part]:
        return (part for part in self._listed if wanted(_material(part)))

    @cached_property
    def _listed(self) -> tuple[Part, ...]:
        """The blanks that are still bought, by name."""
        there = [part for part in self.parts.values() if isinstance(part.detail, Blank)]
        return tuple(
            sorted((part for part in there if not self.retired(part)), key=lambda one: fold(one.name))
        )

    @cached_property
    def _words(self) -> tuple[tuple[Part, frozenset[str]], ...]:
        """The words in the name of each and in that of its material."""
        said = [(part, f"{fold(part.name)} {fold(_material(part))}") for part in self._listed]
        return tuple((part, frozenset(re.split(r"[\s,;]+", text))) for part, text in said)

    def _unknown(self, term: str, text: str) -> UnknownName:
        names = [part.name for part in self._listed]
        problem = UnknownName("blank", term, [*names, *(one.name for one in self.materials.values())])
        if fold(term) != fold(text) or not problem.nearest:
            problem.hint = f"{problem.hint} {ACCEPTED}".strip()
        return problem


def _is_of(kind: str, material: str) -> bool:
    """Whether a material is of a kind; wood that was soaked with resin is wood."""
    kinds = dust_of(material).kinds
    return kind in kinds and (kind == "wood" or "wood" not in kinds)


def _material(part: Part) -> str:
    return part.detail.material if isinstance(part.detail, Blank) else ""
