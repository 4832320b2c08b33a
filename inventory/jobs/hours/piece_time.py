"""How long a piece takes: as its pattern says, else by stage as the shop says, else as is usual.

minutes of an evening = Σ over its pieces of what each takes + Σ over the stages worked at of setting up once
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from inventory.catalogue import STAGES, Catalogue, Pattern
from inventory.catalogue.usual.times import usual_time
from inventory.errors import BadInput
from inventory.making.bom import stages_of

STAGE_KEY, SET_UP_KEY = "minutes by stage", "setting up by stage"
"""The settings what the shop says is kept under, as `turn 20, finish 25`."""
MOST = 600
"""Minutes of a stage beyond which a figure is taken for a slip."""
_ONE = re.compile(r"([a-z]+)\s+([0-9]{1,4})(?:\s*min)?", re.IGNORECASE)
Minutes = tuple[tuple[str, int], ...]
"""By stage, in working order."""


@dataclass(frozen=True, slots=True)
class PieceTime:
    """Minutes. by_stage: of a piece, empty where its pattern says the whole; setting_up: once an evening, by stage.

    usual: whether any of a piece's minutes is one nobody of the shop said; usual_setting_up: the same of setting up.
    """

    minutes: int
    by_stage: Minutes
    setting_up: Minutes
    usual: bool
    usual_setting_up: bool

    @property
    def once(self) -> int:
        """Setting up for all its stages."""
        return sum(many for _, many in self.setting_up)


def piece_time(catalogue: Catalogue, settings: Mapping[str, str], pattern: Pattern) -> PieceTime:
    """What one piece of a pattern takes."""
    said, set_up = of_setting(settings, STAGE_KEY), of_setting(settings, SET_UP_KEY)
    stages = stages_of(catalogue, pattern)
    usual = {stage: usual_time(stage, pattern.finish) for stage in stages}
    setting_up = tuple((stage, set_up.get(stage, usual[stage].setting_up)) for stage in stages)
    usual_set_up = any(usual[stage].setting_up for stage in stages if stage not in set_up)
    if pattern.minutes is not None:
        return PieceTime(pattern.minutes, (), setting_up, False, usual_set_up)
    by_stage = tuple((stage, said.get(stage, usual[stage].minutes)) for stage in stages)
    whole = sum(many for _, many in by_stage)
    return PieceTime(whole, by_stage, setting_up, any(s not in said for s in stages), usual_set_up)


def of_setting(settings: Mapping[str, str], key: str) -> dict[str, int]:
    """What the shop said, by stage."""
    return read_stages(settings.get(key, ""))


def read_stages(text: str) -> dict[str, int]:
    """`turn 20, finish 25` as minutes by stage. Raises BadInput."""
    done: dict[str, int] = {}
    for bit in (one.strip() for one in text.split(",") if one.strip()):
        found = _ONE.fullmatch(bit)
        stage = found[1].casefold() if found else ""
        if found is None or stage not in STAGES or stage in done or int(found[2]) > MOST:
            raise BadInput(
                f"“{bit}” is no stage with its minutes{', or is there twice' if stage in done else ''}.",
                hint=f'Write "turn 20, finish 25", up to {MOST} minutes. Stages: {", ".join(STAGES)}.',
            )
        done[stage] = int(found[2])
    return done


def written(minutes: Mapping[str, int]) -> str:
    """As it is kept."""
    return ", ".join(f"{stage} {minutes[stage]}" for stage in STAGES if stage in minutes)
