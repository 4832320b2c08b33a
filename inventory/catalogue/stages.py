"""The stages a piece goes through, in working order."""

from typing import Final

STAGES: Final = ("cut", "drill", "glue", "trim", "turn", "finish", "assemble", "pack")
