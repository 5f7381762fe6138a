"""Bring a bare computer to the point where Warproom can start. Standard library only.

`python3 manage.py demo` must work on a Debian that has nothing but Python, so this runs before
Django is there, and must not import it. Packages go into `.venv` beside manage.py, never into the
system's Python. A stamp in that folder says what was installed to the end; a folder without one
was interrupted and is made anew.
"""

from __future__ import annotations

import contextlib
import ctypes
import fcntl
import hashlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

if TYPE_CHECKING:
    from collections.abc import Iterator, MutableMapping, Sequence

ROOT = Path(__file__).resolve().parent.parent
REQUIREMENTS = ROOT / "requirements.txt"
VENV = ROOT / ".venv"
VENV_PYTHON = VENV / "bin" / "python"
STAMP = VENV / "installed.sha256"
LOCK = ROOT / ".venv.lock"

OLDEST_PYTHON = (3, 11)
SET_UP_IN_FULL = frozenset({"demo", "test"})
STARTED_AGAIN = "_WARPROOM_STARTED_AGAIN"  # not WARPROOM_..., which are the steward's settings
PIN = re.compile(r"^([A-Za-z0-9._-]+)(?:\[[^\]]*\])?==(\S+)")

# Debian 12's names; the sheets for the loom are drawn with these, and no Python package brings them.
LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}
APT_INSTALL = ["apt-get", "install", "-y", "--no-install-recommends"]


def use_right_python(command: str) -> None:
    """Return when this Python has what the command needs; else set up, and start again with one that has."""
    if sys.version_info < OLDEST_PYTHON:
        sys.exit(
            f"Warproom needs Python {'.'.join(map(str, OLDEST_PYTHON))} or newer; this is {sys.version.split()[0]}."
        )
    started_again = os.environ.pop(STARTED_AGAIN, "")
    in_full = command in SET_UP_IN_FULL
    if in_full and not started_again:
        provide_system_packages()
    missing = missing_pins() if in_full else missing_pins(["Django"])
    if not missing:
        return
    if started_again:
        sys.exit(f"Still missing after the set-up: {', '.join(missing)}. Delete {VENV} and try again.")
    set_up(anew=not in_venv())
    os.environ[STARTED_AGAIN] = "1"
    _become(VENV_PYTHON, sys.argv)


def missing_pins(names: Sequence[str] | None = None) -> list[str]:
    """Give the pinned packages that this Python lacks, or has in another version.

    Asked for by name, any version will do: whoever hosts the site keeps their own packages.
    """
    if names is not None:
        return [name for name in names if installed_version(name) is None]
    return [f"{name}=={version}" for name, version in pins().items() if installed_version(name) != version]


def pins() -> dict[str, str]:
    """Give package and version for each line of requirements.txt."""
    lines = REQUIREMENTS.read_text(encoding="utf-8").splitlines()
    return {match[1]: match[2] for match in map(PIN.match, lines) if match}


def installed_version(name: str) -> str | None:
    """Give the version that this Python would import, if any, without idle zeros: 1.006 is 1.6."""
    try:
        return re.sub(r"\b0+(?=\d)", "", metadata.version(name))
    except metadata.PackageNotFoundError:
        return None


def in_venv() -> bool:
    """Tell whether this very Python is the one in `.venv`."""
    return Path(sys.prefix).resolve() == VENV.resolve()


def this_python() -> str:
    """Give the path of the running Python, which does not know it when there is no PATH at all."""
    return sys.executable or str(Path("/proc/self/exe").resolve())


def set_up(*, anew: bool) -> None:
    """Make `.venv` complete; a second one started meanwhile waits, and then finds it done.

    Run by the Python inside it, the folder is mended, not made anew: it cannot saw off its own branch.
    """
    with _only_one():
        if anew and is_complete():
            return
        mend = not anew or (STAMP.exists() and _runs(VENV_PYTHON))
        STAMP.unlink(missing_ok=True)
        if not mend:
            _make_venv()
        _install()
        STAMP.write_text(wanted_stamp(), encoding="utf-8")
        say("Set-up is complete.")


def is_complete() -> bool:
    """Tell whether `.venv` was filled to the end, from the requirements as they are now."""
    try:
        return STAMP.read_text(encoding="utf-8") == wanted_stamp() and _runs(VENV_PYTHON)
    except OSError:
        return False


def wanted_stamp() -> str:
    """Change whenever the requirements do."""
    return hashlib.sha256(REQUIREMENTS.read_bytes()).hexdigest()


def provide_system_packages() -> None:
    """Install what Debian must bring, where we may; else say the exact line, and go on without."""
    wanted = missing_system_packages()
    if not wanted:
        return
    say(f"Debian packages missing: {' '.join(wanted)}.")
    if os.geteuid() == 0 and shutil.which("apt-get") and _apt_install(wanted):
        return
    say(f"To install them, type:\n    sudo {' '.join([*APT_INSTALL, *wanted])}")
    if "python3-venv" in wanted:
        sys.exit("Without python3-venv the set-up cannot go on.")
    say("Going on without them: cards can still be printed from the browser, but not as PDF.")


def missing_system_packages() -> list[str]:
    """Give the Debian packages that are wanted and not there."""
    if not sys.platform.startswith("linux"):
        return []
    wanted = [package for library, package in LIBRARIES.items() if not _loads(library)]
    if importlib.util.find_spec("ensurepip") is None and sys.prefix == sys.base_prefix:
        wanted.append("python3-venv")
    return wanted


def run_tests(arguments: Sequence[str]) -> NoReturn:
    """Hand over to pytest, from the top folder so that it finds its settings."""
    os.chdir(ROOT)
    os.environ.pop("DJANGO_SETTINGS_MODULE", None)
    _become(Path(this_python()), ["-m", "pytest", *arguments])


def set_demo(environment: MutableMapping[str, str]) -> None:
    """Choose the demo, and take the way to any real studio's data out of reach."""
    environment["WARPROOM_DEMO"] = "1"
    for name in ("DATABASE_URL", "WARPROOM_DATA_DIR", "DJANGO_SETTINGS_MODULE"):
        environment.pop(name, None)


def say(words: str) -> None:
    print(words, flush=True)


@contextlib.contextmanager
def _only_one() -> Iterator[None]:
    with LOCK.open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            say("Another set-up is running in this folder; waiting for it.")
            fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _make_venv() -> None:
    say(f"Making {VENV} with Python {sys.version.split()[0]}; the system's own packages stay as they are.")
    _must([this_python(), "-m", "venv", "--clear", str(VENV)], "Could not make the virtual environment.")


def _install() -> None:
    say(f"Installing the {len(pins())} packages of requirements.txt into it; this takes a minute or two.")
    pip = [
        str(VENV_PYTHON),
        "-m",
        "pip",
        "install",
        "--disable-pip-version-check",
        "--no-input",
        "--progress-bar",
        "off",
    ]
    _must([*pip, "-r", str(REQUIREMENTS)], "Could not install the packages. Is this computer on the network?")


def _must(command: list[str], trouble: str) -> None:
    """Run it, show one line for each package, and everything when it fails."""
    said: list[str] = []
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as running:
        for line in running.stdout or ():
            said.append(line)
            if line.startswith("Collecting "):
                say("  " + line.split()[1])
    if running.returncode:
        say("".join(said))
        sys.exit(f"{trouble} Nothing is lost: the same command starts over.")


def _apt_install(packages: list[str]) -> bool:
    say("Installing them with apt-get.")
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    steps = [["apt-get", "update", "-q"], [*APT_INSTALL, "-q", *packages]]
    # A stale mirror may fail to update and still have the packages, so only the second step decides.
    codes = [subprocess.run(step, env=quiet, check=False, stdout=subprocess.DEVNULL).returncode for step in steps]
    return codes[-1] == 0


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def _runs(python: Path) -> bool:
    """Tell whether it starts: a system upgrade may have taken its Python away."""
    try:
        return subprocess.run([str(python), "-c", "import pip"], check=False, capture_output=True).returncode == 0
    except OSError:
        return False


def _become(python: Path, arguments: Sequence[str]) -> NoReturn:
    sys.stdout.flush()
    os.execv(python, [str(python), *arguments])  # noqa: S606 - a program of our own, and no shell
