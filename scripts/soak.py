"""The slow tests, which scripts/test.py leaves out, and properties searched further: `python3 scripts/soak.py`.

Whatever follows is pytest's.

    python3 scripts/soak.py tests/model     long random histories against the plain model, in a file and on a server

Those that start a spreadsheet program (`soffice`), a browser or Java are skipped where there is none.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence

from environment import ROOT, ready, surroundings

CHOSEN = ("-m", "soak or hypothesis", "--hypothesis-profile", "thorough")
NOTHING_FOUND = 5
"""pytest's exit code where no test was selected."""


def main(arguments: Sequence[str]) -> int:
    """Run the tests marked `soak`, and those of properties with all their examples; pytest's exit code."""
    words = [str(ready("test", "browser")), "-m", "pytest", "-q", "-n", "2", *CHOSEN, *arguments]
    code = subprocess.run(words, cwd=ROOT, env=surroundings(OPENBLAS_NUM_THREADS="1"), check=False).returncode
    if code == NOTHING_FOUND:
        print("No test is marked soak.", file=sys.stderr)
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
