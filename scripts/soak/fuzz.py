"""Readers given bytes no person would write, guided by what of their code is reached.

    python3 scripts/soak/fuzz.py                          every target for a minute each
    python3 scripts/soak/fuzz.py --seconds 300 date grid  only these
    python3 scripts/soak/fuzz.py --list

Needs `atheris`, which is put into a throw-away environment, so a package index has to be reached and has to have it
for this machine; `--with PYTHON` names an interpreter that has it already. Nothing is kept: what is found is printed
with its input, to become a test. Exit code 1 where anything was found.
"""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import ROOT, Stopped, ready, surroundings

MOST_BYTES = {"workbook": 8192, "csv": 2048, "grid": 2048, "texts": 1024, "styles": 1024, "book": 1024}
"""Length of an input; 96 for what reads one text."""
SLOWEST, MOST_MB = 5, 1024
"""Seconds for one input, and memory of the whole process; beyond either is a finding."""
INSIDE = Path(__file__).resolve().with_name("fuzz_targets.py")
_COVERED = re.compile(r"^#\d+\s.*\bcov: (\d+)", re.MULTILINE)
_DONE = re.compile(r"^(?:Done (\d+) runs|stat::number_of_executed_units: +(\d+))", re.MULTILINE)
_RAISED = "=== Uncaught Python exception"


@dataclass(frozen=True)
class Run:
    """How one target's run ended. edges: of our code reached; finding: empty, or what went wrong."""

    executions: int
    edges: int
    finding: str = ""


def main(arguments: Sequence[str]) -> int:
    """Run the targets one after the other and print a line each."""
    asked = _asked(arguments)
    with tempfile.TemporaryDirectory(prefix="kitdrawer-fuzz-") as name:
        python = asked.python or str(_environment(Path(name) / "environment"))
        known = _started([python, str(INSIDE)], Path(name)).stdout.split("\n")[:-1]
        if strange := [one for one in asked.targets if one not in known]:
            raise Stopped(f"There is no target {strange[0]}. Known: {', '.join(known)}.", 2)
        if asked.list:
            print("\n".join(known))
            return 0
        print(f"{'target':20}{'executions':>12}{'edges':>8}  found", flush=True)
        runs = [_shown(one, _run(python, Path(name), one, asked.seconds)) for one in asked.targets or known]
    print(f"{'together':20}{sum(run.executions for run in runs):>12,}")
    return 1 if any(run.finding for run in runs) else 0


def outcome(code: int, said: str, found: Sequence[bytes]) -> Run:
    """What a run comes to. said: the fuzzer's own words; found: the inputs it kept because something went wrong."""
    done, covered = _DONE.findall(said), _COVERED.findall(said)
    executions = int("".join(done[-1])) if done else 0
    finding = ""
    if code or found:
        told = said[said.rfind(_RAISED) :] if _RAISED in said else said
        finding = "\n".join([told[-3000:], f"exit code {code}", *(f"input: {one!r}" for one in found)])
    return Run(executions, int(covered[-1]) if covered else 0, finding)


def _asked(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("targets", nargs="*")
    parser.add_argument("--seconds", type=int, default=60, help="for each target")
    parser.add_argument("--list", action="store_true", help="the targets")
    parser.add_argument("--with", dest="python", default="", help="an interpreter that has atheris")
    return parser.parse_args(arguments)


def _environment(folder: Path) -> Path:
    """An environment with atheris alone; everything else it takes from `.venv`."""
    venv = ready("test")
    python = folder / venv.relative_to(venv.parent.parent)
    pip = [str(python), "-m", "pip", "install", "--quiet", "--only-binary", ":all:", "atheris"]
    for words in ([str(venv), "-m", "venv", str(folder)], pip):
        done = subprocess.run(words, capture_output=True, text=True, env=surroundings(), check=False)
        if done.returncode:
            raise Stopped(f"atheris cannot be installed here:\n{done.stderr.strip()}")
    return python


def _run(python: str, folder: Path, target: str, seconds: int) -> Run:
    with tempfile.TemporaryDirectory(dir=folder) as name:
        kept = Path(name) / "kept"
        kept.mkdir()
        words = [python, str(INSIDE), target, f"-max_total_time={seconds}", f"-timeout={SLOWEST}"]
        words += [
            f"-max_len={MOST_BYTES.get(target, 96)}",
            f"-rss_limit_mb={MOST_MB}",
            "-print_final_stats=1",
        ]
        done = _started([*words, f"-artifact_prefix={kept}/"], Path(name))
        return outcome(
            done.returncode, done.stdout + done.stderr, [path.read_bytes() for path in sorted(kept.iterdir())]
        )


def _started(words: Sequence[str], folder: Path) -> subprocess.CompletedProcess[str]:
    """Run something with `.venv`'s packages at hand and `folder` for what it writes."""
    packages = subprocess.run(
        [str(ready("test")), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"],
        capture_output=True,
        text=True,
        env=surroundings(),
        check=True,
    )
    own = surroundings(PYTHONPATH=packages.stdout.strip(), TMPDIR=str(folder))
    return subprocess.run(
        words, capture_output=True, text=True, errors="replace", cwd=ROOT, env=own, check=False
    )


def _shown(target: str, run: Run) -> Run:
    print(
        f"{target:20}{run.executions:>12,}{run.edges:>8}  {'see below' if run.finding else 'nothing'}",
        flush=True,
    )
    if run.finding:
        print(run.finding, flush=True)
    return run


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
