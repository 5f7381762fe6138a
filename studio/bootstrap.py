"""Bring a bare computer to the point where Warproom can start. Standard library only.

`python3 manage.py demo` must work on a Debian that has nothing but Python, so this runs before
Django is there, and must not import it. Packages go into `.venv` beside manage.py, never into the
system's Python. A stamp in that folder says which lists were installed to the end; a folder without
one was interrupted and is made anew.
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
import sysconfig
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

if TYPE_CHECKING:
    from collections.abc import Iterator, MutableMapping, Sequence

ROOT = Path(__file__).resolve().parent.parent
RUNTIME = ROOT / "requirements.txt"
TEST_TOOLS = ROOT / "tests" / "requirements.txt"
VENV = ROOT / ".venv"
VENV_PYTHON = VENV / "bin" / "python"
STAMP = VENV / "installed.sha256"
LOCK = ROOT / ".venv.lock"
DEMO = ROOT / ".demo"

OLDEST_PYTHON = (3, 11)
EVERY_LIST = (RUNTIME, TEST_TOOLS)
SET_UP_IN_FULL = {"demo": (RUNTIME,), "test": EVERY_LIST}
STARTED_AGAIN = "_WARPROOM_STARTED_AGAIN"  # not WARPROOM_..., which are the steward's settings
# Everything is pinned with its hash, also what comes along, so pip has nothing to work out; a Python file is compiled
# when it is first read, which most never are.
PIP_OPTIONS = [
    *("--require-hashes", "--no-deps", "--only-binary", ":all:", "--no-compile"),
    *("--disable-pip-version-check", "--no-input", "--progress-bar", "off"),
]
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
    in_full = SET_UP_IN_FULL.get(command)
    if in_full and not started_again:
        provide_system_packages()
    missing = missing_pins(in_full) if in_full else missing_packages(["Django"])
    if not missing:
        return
    if started_again:
        sys.exit(f"Still missing after the set-up: {', '.join(missing)}. Delete {VENV} and try again.")
    try:
        set_up(in_full or (RUNTIME,), anew=not in_venv())
    except OSError as trouble:
        sys.exit(f"The set-up cannot write {trouble.filename}: {trouble.strerror}.")
    os.environ[STARTED_AGAIN] = "1"
    _become(VENV_PYTHON, sys.argv)


def missing_packages(names: Sequence[str]) -> list[str]:
    """Give those that this Python lacks; any version will do, since a host may keep packages of its own."""
    return [name for name in names if installed_version(name) is None]


def missing_pins(lists: Sequence[Path]) -> list[str]:
    """Give the pinned packages that this Python lacks, or has in another version."""
    return [f"{name}=={version}" for name, version in pins(lists).items() if installed_version(name) != version]


def pins(lists: Sequence[Path]) -> dict[str, str]:
    """Give package and version for each pin in the lists."""
    lines = "\n".join(path.read_text(encoding="utf-8") for path in lists).splitlines()
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


def set_up(lists: Sequence[Path], *, anew: bool) -> None:
    """Make `.venv` complete; a second one started meanwhile waits, and then finds it done.

    Run by the Python inside it, the folder is mended, not made anew: it cannot saw off its own branch.
    """
    if anew and not unfinished(lists):
        return  # without the lock, for which a folder that can only be read has no place
    with _only_one():
        wanted = unfinished(lists) if anew else lists
        if not wanted:
            return
        if anew and not (STAMP.exists() and _runs(VENV_PYTHON)):
            STAMP.unlink(missing_ok=True)
            _make_venv()
        done = [path for path in EVERY_LIST if path in wanted or stamp_of(path) in stamped()]
        _install(wanted)
        STAMP.write_text("".join(f"{stamp_of(path)}\n" for path in done), encoding="utf-8")
        say("Set-up is complete.")


def unfinished(lists: Sequence[Path]) -> Sequence[Path]:
    """Give the lists that `.venv` does not hold to the end, as they are now."""
    if not _runs(VENV_PYTHON):
        return lists
    return [path for path in lists if stamp_of(path) not in stamped()]


def stamp_of(path: Path) -> str:
    """Give a line that changes whenever the list does, as sha256sum would write it."""
    return f"{hashlib.sha256(path.read_bytes()).hexdigest()}  {path.relative_to(ROOT)}"


def stamped() -> list[str]:
    """Give the lines of the lists that were installed to the end."""
    try:
        return STAMP.read_text(encoding="utf-8").splitlines()
    except OSError:
        return []


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


def provide_demo_folder() -> None:
    """Make the folder of the demo's data, before a set-up that would be for nothing."""
    with contextlib.suppress(OSError):
        DEMO.mkdir(exist_ok=True)
    if not os.access(DEMO, os.W_OK | os.X_OK):
        sys.exit(f"The demo keeps its data in {DEMO}, where you cannot write. Copy Warproom into a folder of your own.")


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
    for _ in _lines_of(
        [this_python(), "-m", "venv", "--without-pip", "--clear", str(VENV)], "Could not make the virtual environment."
    ):
        pass


def _install(lists: Sequence[Path]) -> None:
    """Let pip fetch and then write; from its first write until the caller's stamp, the folder counts as interrupted."""
    say(f"Installing {len(pins(lists))} packages into it; this takes a minute or less.")
    command = [str(VENV_PYTHON), str(pip_wheel() / "pip"), "install", *PIP_OPTIONS]
    command += [word for path in lists for word in ("-r", str(path))]
    for line in _lines_of(command, "Could not install the packages."):
        if line.startswith("Collecting "):
            say("  " + line.split()[1])
        elif line.startswith("Installing collected packages"):
            STAMP.unlink(missing_ok=True)


def pip_wheel() -> Path:
    """Find the pip that Python brings for its environments: run from where it lies, it need not be installed first."""
    ensurepip = importlib.util.find_spec("ensurepip")
    bundled = [Path(folder) / "_bundled" for folder in (ensurepip and ensurepip.submodule_search_locations) or ()]
    system = sysconfig.get_config_var("WHEEL_PKG_DIR")  # where Debian keeps it
    wheels = [path for folder in ([Path(system)] if system else []) + bundled for path in folder.glob("pip-*.whl")]
    if not wheels:
        sys.exit(f"{this_python()} brings no pip. Does it come with venv and ensurepip?")
    return wheels[0]


def _lines_of(command: list[str], trouble: str) -> Iterator[str]:
    """Run it and give what it says, line by line; stop with the reason when it fails."""
    said: list[str] = []
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as running:
        try:
            for line in running.stdout or ():
                said.append(line)
                yield line
        except BaseException:
            running.kill()
            raise
    if not running.returncode:
        return
    if any(line.startswith("WARNING: Retrying") for line in said):
        trouble += " Is this computer on the network?"
    else:
        errors = [number for number, line in enumerate(said) if line.startswith("ERROR")]
        say("".join(said[min(errors, default=0) :]).rstrip())
    sys.exit(f"{trouble} Nothing is lost: the same command starts over.")


def _apt_install(packages: list[str]) -> bool:
    say("Installing them with apt-get.")
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    steps = [["apt-get", "update", "-q"], [*APT_INSTALL, "-q", *packages]]
    # A stale mirror may fail to update and still have the packages, so only the second step decides.
    codes = [subprocess.run(step, env=quiet, check=False, capture_output=True).returncode for step in steps]
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
        return subprocess.run([str(python), "-c", ""], check=False, capture_output=True).returncode == 0
    except OSError:
        return False


def _become(python: Path, arguments: Sequence[str]) -> NoReturn:
    sys.stdout.flush()
    os.execv(python, [str(python), *arguments])  # noqa: S606 - a program of our own, and no shell
