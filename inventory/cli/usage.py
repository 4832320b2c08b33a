"""Mistakes of a command line in our own words: what, and what to write instead."""

from __future__ import annotations

import re

from inventory.cli.drawing.texts import wrapped

REPLACE = frozenset({"--overwrite", "--reset", "--anew", "--cancel-rest"})
"""Options that put something in the place of another, or take something away: never proposed."""
_WORDED = (
    (r"No such command '(.*?)'\.(?: All of them: .*)?", "There is no command “{0}”."),
    (
        r"No such option:? '?(-[0-9][^ ']*)'?\.?",
        "“{0}” begins like an option. Amounts are written without a sign.",
    ),
    (r"No such option:? '?([^ ']+)'?\.?", "There is no option {0}."),
    (
        r"Got unexpected extra argument(?:s|\(s\))? \((.*)\)",
        '“{0}” is too much here. What belongs together stands in quotes, as in "tube 7 x 53".',
    ),
    (r"Missing (?:argument|option|parameter) '(.*)'\.", "{0} is missing."),
    (r"Option '(.*)' requires an argument\.", "{0} wants something behind it."),
    (r"Invalid value for '(.*?)': .*valid integer.*", "{0} is to be a whole number."),
    (r"Invalid value for '(.*?)': .*valid number.*", "{0} is to be a number."),
)
"""How a mistake is found and told, and its sentence."""
_SUGGESTED = re.compile(r" *(?:\(Possible options: (.*)\)|Did you mean (?:one of )?:? ?(.*)\?)$")


def _called(name: str) -> str:
    """What a help calls it: `[ENTRY]` is entry."""
    bare = name.strip("[]'")
    return bare.lower() if bare.isupper() and not bare.startswith("-") else bare


def sentences(error: Exception, message: str) -> list[str]:
    """What is wrong and what may have been meant, then where its help is. message: as it was found."""
    bare, found = _SUGGESTED.sub("", message), _SUGGESTED.search(message)
    words = re.findall(r"[\w-]+", (found[1] or found[2] or "").replace(" or ", " ")) if found else ()
    near = [one for one in getattr(error, "possibilities", None) or words if one not in REPLACE]
    told = next(
        (
            text.format(*map(_called, was.groups()))
            for pattern, text in _WORDED
            if (was := re.fullmatch(pattern, bare))
        ),
        bare,
    )
    meant = f"Did you mean {' or '.join(near)}?" if near else ""
    context = getattr(error, "ctx", None)
    command = context.command_path if context is not None else "kitdrawer"
    return [
        *wrapped(" ".join(one for one in (told, meant) if one)),
        *wrapped(f"How it is written: {command} --help"),
    ]
