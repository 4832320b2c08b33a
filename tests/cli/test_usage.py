"""Mistakes of a command line: what is wrong, what to write instead, and where the help is, in our own words."""

from __future__ import annotations

import pytest

from .conftest import Kitdrawer


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("shelv",), "There is no command “shelv”. Did you mean shelf?"),
        (("restor", "x"), "There is no command “restor”."),
        (("shelf", "--drll", "7 mm"), "There is no option --drll. Did you mean --drill"),
        (("columns", "--overwrit"), "There is no option --overwrit."),
        (("add", "CA thin", "-3"), "“-3” begins like an option. Amounts are written without a sign."),
        (("add", "CA", "thin", "3"), "“3” is too much here. What belongs together stands in quotes"),
        (("add",), "part is missing."),
        (("shelf", "--kind"), "--kind wants something behind it."),
        (("undo", "last"), "entry is to be a whole number."),
        (("made", "Dunlin pen", "--count", "2.5"), "--count is to be a whole number."),
    ],
)
def test_what_to_write_instead(kitdrawer: Kitdrawer, words: tuple[str, ...], said: str) -> None:
    """One sentence, then the command whose help tells it; nothing that replaces or removes is proposed."""
    answer = kitdrawer(*words)
    told = " ".join(answer.err.split())
    assert (answer.code, answer.out) == (2, "")
    assert told.startswith(said)
    assert told.endswith("--help")
    assert "How it is written: kitdrawer" in told
    assert "restore" not in told
    assert "overwrite" not in told
    assert kitdrawer(words[0], "--json", *words[1:]).json["error"]["kind"] == "usage"
