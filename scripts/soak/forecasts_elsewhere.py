"""What two forecasting libraries make of one published series, kept for the tests: too heavy to install with them.

    python3 scripts/soak/forecasts_elsewhere.py           compare with what is kept
    python3 scripts/soak/forecasts_elsewhere.py --keep    write it anew

The series is J06 of the Australian prescription data (204 months, `tests/planning/j06.csv`), as the sktime wheel ships
it (PBS_dataset, BSD-3). Both libraries go into an environment of their own in a temporary folder (a minute).
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import venv
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SERIES, KEPT = (ROOT / "tests" / "planning" / f"{name}.csv" for name in ("j06", "j06_elsewhere"))
LIBRARIES = ("sktime==1.2.0", "statsforecast==2.1.1")

ASKED = """
import sys
from importlib.metadata import version
import numpy as np, pandas as pd
from sktime.forecasting.croston import Croston
from statsforecast.models import TSB, CrostonClassic, CrostonSBA, SimpleExponentialSmoothing
series = np.loadtxt(sys.argv[1], skiprows=1)
def said(library, method, first, second, until, number):
    print(f"{library} {version(library)},{method},{first},{second},{until},{float(number)!r}")
print("library,method,alpha,beta,months,forecast")
for until in (24, 60, 120, 204):
    seen = series[:until]
    for alpha in (0.05, 0.1, 0.3):
        made = Croston(smoothing=alpha).fit(pd.Series(seen))
        said("sktime", "croston", alpha, "", until, made.predict(fh=[1]).iloc[0])
        one = SimpleExponentialSmoothing(alpha=alpha).forecast(y=seen, h=1)["mean"][0]
        said("statsforecast", "smoothing", alpha, "", until, one)
        for beta in (0.05, 0.2):
            one = TSB(alpha_d=alpha, alpha_p=beta).forecast(y=seen, h=1)["mean"][0]
            said("statsforecast", "teunter syntetos babai", alpha, beta, until, one)
    for name, model in (("croston", CrostonClassic()), ("syntetos boylan", CrostonSBA())):
        said("statsforecast", name, 0.1, "", until, model.forecast(y=seen, h=1)["mean"][0])
"""


def main(arguments: Sequence[str]) -> int:
    """Ask them; exit code 1 where what is kept differs."""
    with tempfile.TemporaryDirectory() as place:
        venv.create(place, with_pip=True)
        python = str(Path(place) / ("Scripts" if sys.platform == "win32" else "bin") / "python")
        subprocess.run([python, "-m", "pip", "install", "--quiet", *LIBRARIES], check=True)
        asked = subprocess.run(
            [python, "-c", ASKED, str(SERIES)], check=True, capture_output=True, text=True
        ).stdout
    if "--keep" in arguments:
        KEPT.write_text(asked, encoding="utf-8")
        return 0
    same = asked == KEPT.read_text(encoding="utf-8")
    print("As kept." if same else asked)
    return 0 if same else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
