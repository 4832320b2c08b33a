"""The project's own `.venv`: made where missing, filled again only when pyproject.toml or Python changed.

Standard library only, for this runs before anything is installed. A stamp inside `.venv` says what was
installed for which pyproject.toml, so a second run costs one start of the interpreter.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMP = VENV / "installed.json"
OLDEST = (3, 11)

# Settings of somebody's other projects that would send packages, or imports, elsewhere; and the one that has every
# process compile all modules anew, of which the tests start a thousand.
MISLEADING = (
    *("PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX", "PIP_USER"),
    "PYTHONDONTWRITEBYTECODE",
)
ANSWERS = "import sys; print(sys.version); sys.exit(sys.version_info < (3, 11))"


class Stopped(SystemExit):
    """The script cannot go on: a sentence for stderr and an exit code."""

    def __init__(self, sentence: str, code: int = 1) -> None:
        print(sentence, file=sys.stderr)
        super().__init__(code or 1)


def ready(*extras: str) -> Path:
    """The interpreter of `.venv` with the project and these extras installed. Raises Stopped."""
    check_python()
    wanted = digest(version())
    have = installed(wanted)
    if have is None or not have.issuperset(extras):
        if not complete():
            make()
            wanted = digest(version())
        install(sorted({*(have or ()), *extras}), wanted)
    return PYTHON


def elsewhere(script: str, arguments: Sequence[str], *extras: str) -> int | None:
    """Run a script again inside `.venv`, and its exit code; None where it runs there already. Raises Stopped."""
    python = ready(*extras)
    if Path(sys.prefix).resolve() == VENV.resolve():
        return None
    return subprocess.run([str(python), script, *arguments], env=surroundings(), check=False).returncode


def surroundings(**more: str) -> dict[str, str]:
    """The environment for a child process: UTF-8, nothing misleading, and `more`."""
    kept = {name: value for name, value in os.environ.items() if name.upper() not in MISLEADING}
    return {**kept, "PYTHONUTF8": "1", "PIP_DISABLE_PIP_VERSION_CHECK": "1", **more}


def check_python() -> None:
    """Refuse a Python that is too old, or one without the modules that make environments."""
    if sys.version_info < OLDEST:
        raise Stopped(f"This needs Python 3.11 or newer; {sys.executable} is {sys.version.split()[0]}.")
    missing = [name for name in ("venv", "ensurepip") if find_spec(name) is None]
    if missing and not PYTHON.exists():
        raise Stopped(
            f"This Python has no `{missing[0]}` module, so .venv cannot be made.\n"
            "On Debian or Ubuntu: sudo apt install python3-venv. Elsewhere: install Python from python.org."
        )


def version() -> str:
    """What the interpreter in `.venv` says it is; empty where there is none that runs and is new enough."""
    return _answer("-c", ANSWERS)


def complete() -> bool:
    """Whether `.venv` was made to its end: its interpreter runs and has a pip that starts."""
    return bool(version()) and bool(_answer("-m", "pip", "--version"))


def digest(python: str) -> str:
    """What an installation depends on: pyproject.toml, the interpreter, and where the project stands."""
    parts = ((ROOT / "pyproject.toml").read_bytes(), python.encode(), str(ROOT).encode())
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def installed(wanted: str) -> set[str] | None:
    """The extras installed for this digest; None where nothing, or something else, was."""
    try:
        stamp = json.loads(STAMP.read_text(encoding="utf-8"))
        return set(stamp["extras"]) if stamp["digest"] == wanted else None
    except (OSError, ValueError, KeyError, TypeError):
        return None


def make() -> None:
    """Make `.venv` anew; what an interrupted run left there goes first."""
    if Path(sys.prefix).resolve() == VENV.resolve():
        raise Stopped(
            "The .venv this runs in has no working pip. Run the script with another Python 3.11 or newer."
        )
    if VENV.is_symlink() or VENV.is_file() or (VENV.is_dir() and not _is_environment(VENV)):
        raise Stopped(f"{VENV} is there, but is no Python environment. Move it away and run this again.")
    try:
        if VENV.exists():
            shutil.rmtree(VENV)
    except OSError as trouble:
        raise Stopped(
            f"The unfinished .venv cannot be removed: {trouble}. Remove it and run this again."
        ) from None
    code = _run([sys.executable, "-m", "venv", str(VENV)], "Making .venv")
    if code:
        raise Stopped(f"Making .venv failed (exit code {code}); the lines above say why.", code)


def install(extras: Sequence[str], wanted: str) -> None:
    """Install the project in place with these extras, and stamp it."""
    STAMP.unlink(missing_ok=True)
    what = f".[{','.join(extras)}]" if extras else "."
    # Not compiled: of all modules a fifth is ever imported, and those are compiled then; it halves what pip does.
    pip = [str(PYTHON), "-m", "pip", "install", "--quiet", "--no-compile", "--editable", what]
    code = _run(pip, f"Installing {what} into .venv (a minute or two, this once)")
    if code:
        raise Stopped(
            f"pip could not install what the project needs (exit code {code}); the lines above say why.\n"
            "It needs a package index: check the network or proxy, then run this again.",
            code,
        )
    STAMP.write_text(json.dumps({"digest": wanted, "extras": list(extras)}), encoding="utf-8")


def _is_environment(folder: Path) -> bool:
    return (folder / "pyvenv.cfg").is_file() or not any(folder.iterdir())


def _answer(*words: str) -> str:
    try:
        asked = subprocess.run(
            [str(PYTHON), *words], capture_output=True, text=True, env=surroundings(), check=False, cwd=ROOT
        )
    except OSError:
        return ""
    return "" if asked.returncode else asked.stdout.strip()


def _run(words: Sequence[str], saying: str) -> int:
    """Run to the end with one line on stderr that grows, so that nobody thinks it hangs."""
    started = time.monotonic()
    print(f"{saying} ", end="", file=sys.stderr, flush=True)
    # What the child prints belongs to stderr: stdout is the script's own.
    child = subprocess.Popen(words, env=surroundings(), cwd=ROOT, stdout=sys.stderr.fileno())
    try:
        while True:
            try:
                code = child.wait(timeout=5)
                break
            except subprocess.TimeoutExpired:
                print(".", end="", file=sys.stderr, flush=True)
    except KeyboardInterrupt:
        child.wait()
        raise Stopped("\nInterrupted. Run it again; what is unfinished is made anew.", 130) from None
    print(f" {time.monotonic() - started:.0f} s", file=sys.stderr)
    return code
