"""Random nasty lists: the basket against a whole-number model of its own, solved by HiGHS; any difference is told.

    python3 scripts/soak/nasty_baskets.py [FIRST LAST]

Lists FIRST to LAST, 0 to 19,999 where not said (about half an hour). Prints how many differ, how many are unproven and
the slowest. Exit code 1 for any difference or unproven list.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, elsewhere

EVERY = 1000
"""Lists between two lines of progress."""


def main(arguments: list[str]) -> int:
    """Compare them all."""
    if (code := elsewhere(__file__, arguments, "test")) is not None:
        return code
    sys.path.insert(0, str(ROOT / "tests"))
    from buying.comparing import compared

    first, last = (int(arguments[0]), int(arguments[1])) if len(arguments) > 1 else (0, 19_999)
    none = differ = unproven = 0
    slowest = (0.0, -1)
    begun = time.perf_counter()
    for state in range(first, last + 1):
        one = compared(state)
        slowest = max(slowest, (one.seconds, state))
        none += one.total is None
        unproven += not one.proven
        if one.fault:
            differ += 1
            print(f"list {state}: {one.fault}", flush=True)
        if (state - first) % EVERY == EVERY - 1:
            print(f"{state - first + 1:>7} lists, {time.perf_counter() - begun:.0f} s", flush=True)
    print(f"{last - first + 1} lists, of which {none} cannot be sent by the minimum orders.")
    print(
        f"Differences {differ}, unproven {unproven}, slowest {slowest[0]:.2f} s of the processor (list {slowest[1]})."
    )
    return 1 if differ or unproven else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
