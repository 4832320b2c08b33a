"""The guide: pages of Markdown that come with the program; `kitdrawer guide TOPIC` shows one."""

from __future__ import annotations

from pathlib import Path

TOPICS = ("begin", "jobs", "decides", "safety", "reference", "questions", "care", "sharing", "security")
"""In the order one needs them. Each is a page of that name beside this module."""


def page(topic: str) -> str:
    """The Markdown of a page, its first line the title. Raises KeyError where no page has that name."""
    if topic not in TOPICS:
        raise KeyError(topic)
    return Path(__file__).with_name(f"{topic}.md").read_text(encoding="utf-8")


def title(topic: str) -> str:
    """What a page is about, as its first line says."""
    return page(topic).partition("\n")[0].removeprefix("# ")
