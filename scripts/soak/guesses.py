"""How well a stranger's own sheet is understood: messy sheets held against truths written by hand.

    python3 scripts/soak/guesses.py            each set: cells, understood, asked, wrong, for each sheet and in all
    python3 scripts/soak/guesses.py --wrong    each wrong reading too

understood: share of the filled cells; asked: questions; wrong: read without a mark and not so; marked: shaded, asked.
`sheets` were at hand while the rules were made; `held_out` and `strangers` are the last rounds, written before the
rules were looked at again. All are mended now: DEVELOPERS says what the first run of each round was.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, elsewhere


def main(words: Sequence[str]) -> int:
    """Print the table of each set; 1 where anything is wrong without a mark."""
    if (code := elsewhere(__file__, words)) is not None:
        return code
    sys.path.insert(0, str(ROOT / "tests"))
    from guess.messy import scored, sheets, table

    wrong = 0
    for folder in ("sheets", "held_out", "strangers"):
        scores = [scored(path) for path in sheets(folder)]
        print(f"\n{folder}\n" + "\n".join(table(scores)))
        for one in scores:
            wrong += len(one.wrong)
            if "--wrong" in words:
                for told in [*one.wrong, *one.missed]:
                    print(f"  {one.name}: {told}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
