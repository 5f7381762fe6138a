"""The set-up of a bare computer, tried on small folders with a package of our own and no network."""

import hashlib
import io
import itertools
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import zipfile
from importlib.metadata import requires
from pathlib import Path

import pytest
from django.core.management import CommandError
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from planner.management.commands import demo
from studio import bootstrap

ROOT = Path(__file__).resolve().parent.parent.parent
# The Python that has no packages, below whatever environment runs these tests.
BARE_PYTHON = str(Path(sys.base_prefix) / "bin" / f"python3.{sys.version_info.minor}")
PROGRAM = """
import sys
from importlib.metadata import distributions
from studio import bootstrap
bootstrap.provide_system_packages = lambda: None
bootstrap.use_right_python(sys.argv[1])
print("ready", sys.prefix, *sorted(d.name + " " + d.version for d in distributions() if d.name.startswith("pretend")))
"""


def wheel(folder, name, version, *more):
    """Make the smallest package that pip installs."""
    info = f"{name}-{version}.dist-info"
    with zipfile.ZipFile(folder / f"{name}-{version}-py3-none-any.whl", "w") as package:
        package.writestr(f"{name}.py", "")
        package.writestr(f"{info}/METADATA", f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n")
        package.writestr(f"{info}/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        package.writestr(f"{info}/RECORD", "")
        for path in more:
            package.writestr(path, "")


def require(house, name, version, listed="requirements.txt"):
    package = house / f"{name}-{version}-py3-none-any.whl"
    fingerprint = hashlib.sha256(package.read_bytes() if package.exists() else b"").hexdigest()
    (house / listed).write_text(f"# one\n{name}=={version} \\\n    --hash=sha256:{fingerprint}\n", encoding="utf-8")


def furnish(house):
    (house / "studio").mkdir()
    (house / "tests").mkdir()
    shutil.copy(ROOT / "studio" / "bootstrap.py", house / "studio")
    (house / "studio" / "__init__.py").touch()
    (house / "manage.py").write_text(PROGRAM, encoding="utf-8")
    for name, version in itertools.product(("pretend_yarn", "pretend_tool"), ("1.0", "1.1")):
        wheel(house, name, version)
    require(house, "pretend_yarn", "1.0")
    require(house, "pretend_tool", "1.0", "tests/requirements.txt")


@pytest.fixture
def house(tmp_path):
    """Give a house with nothing set up yet."""
    furnish(tmp_path)
    return tmp_path


@pytest.fixture(scope="module")
def first_run(tmp_path_factory):
    """Set one house up, and keep what was said."""
    house = tmp_path_factory.mktemp("first")
    furnish(house)
    return house, run(house)


@pytest.fixture
def used_house(first_run, tmp_path):
    """Give a copy of the house that is set up."""
    return Path(shutil.copytree(first_run[0], tmp_path / "house", symlinks=True))


def begin(house, command="demo"):
    quiet = {
        "PATH": os.environ.get("PATH", os.defpath),
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": str(house),
        "PIP_CONFIG_FILE": os.devnull,
    }
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
    return subprocess.Popen([BARE_PYTHON, "manage.py", command], cwd=house, env=quiet, **pipes)


def run(house, command="demo"):
    """Run the small manage.py to its end and give all it said."""
    said, _ = begin(house, command).communicate(timeout=120)
    return said


def refused(house, command="demo"):
    """Run it, see it fail without a fright, and give all it said."""
    running = begin(house, command)
    said, _ = running.communicate(timeout=120)
    assert running.returncode
    assert "Traceback" not in said
    return said


def ready(house, *packages):
    return " ".join(["ready", f"{house}/.venv", *(packages or ["pretend_yarn 1.0"])])


@pytest.mark.slow
def test_a_bare_computer_is_set_up_and_started_again(first_run):
    house, said = first_run[0], first_run[1].splitlines()
    assert said[0].startswith(f"Making {house}/.venv")
    assert said[-2:] == ["Set-up is complete.", ready(house)]


@pytest.mark.slow
def test_the_second_run_installs_nothing_and_needs_no_lock_to_be_written(used_house):
    (used_house / ".venv.lock").unlink()
    (used_house / ".venv.lock").mkdir()  # nobody can write a file here, not even root
    assert run(used_house).splitlines() == [ready(used_house)]


@pytest.mark.slow
def test_changed_requirements_are_installed_into_the_same_folder(used_house):
    require(used_house, "pretend_yarn", "1.1")
    said = run(used_house)
    assert ready(used_house, "pretend_yarn 1.1") in said
    assert "Making" not in said


@pytest.mark.slow
def test_the_tests_add_their_tools_to_what_the_demo_has_and_only_they_ask_for_them(used_house):
    said = run(used_house, "test").splitlines()
    assert said[0].startswith("Installing 1 packages")
    assert said[-1] == ready(used_house, "pretend_tool 1.0", "pretend_yarn 1.0")
    require(used_house, "pretend_tool", "1.1", "tests/requirements.txt")
    assert run(used_house).splitlines() == [ready(used_house, "pretend_tool 1.0", "pretend_yarn 1.0")]
    assert run(used_house, "test").splitlines()[-1] == ready(used_house, "pretend_tool 1.1", "pretend_yarn 1.0")


@pytest.mark.slow
def test_an_interrupted_set_up_starts_over(used_house):
    (used_house / ".venv" / "installed.sha256").unlink()
    shutil.rmtree(used_house / ".venv" / "lib")
    said = run(used_house)
    assert "Making" in said
    assert ready(used_house) in said


@pytest.mark.slow
def test_ctrl_c_ends_the_set_up_in_one_sentence(house):
    shutil.copy(ROOT / "manage.py", house)
    running = begin(house, "check")
    assert running.stdout.readline().startswith("Making")
    running.send_signal(signal.SIGINT)
    assert running.communicate(timeout=120)[0] == "Stopped; the same command starts over.\n"
    assert running.returncode == 1


@pytest.mark.slow
def test_two_at_once_make_one_set_up(house):
    both = [begin(house), begin(house)]
    said = "".join(one.communicate(timeout=120)[0] for one in both)
    assert (said.count("Making"), said.count("Set-up is complete."), said.count(ready(house))) == (1, 1, 2)


@pytest.mark.slow
def test_a_package_that_cannot_be_had_is_told_and_what_was_there_stays(used_house):
    require(used_house, "pretend_tool", "9.9", "tests/requirements.txt")
    said = refused(used_house, "test")
    assert "No matching distribution found for pretend_tool==9.9" in said
    assert said.endswith("Could not install the packages. Nothing is lost: the same command starts over.\n")
    assert run(used_house).splitlines() == [ready(used_house)]


@pytest.mark.slow
def test_a_package_that_was_changed_on_its_way_is_refused(used_house):
    require(used_house, "pretend_yarn", "1.1")
    wheel(used_house, "pretend_yarn", "1.1", "something_more.py")
    assert "DO NOT MATCH THE HASHES" in refused(used_house)
    assert not list((used_house / ".venv").rglob("something_more.py"))


@pytest.mark.slow
def test_a_set_up_that_broke_while_it_wrote_leaves_no_stamp(used_house):
    wheel(used_house, "pretend_yarn", "1.1", "pretend_yarn.py/not_in_a_file.py")
    require(used_house, "pretend_yarn", "1.1")
    refused(used_house)
    assert not (used_house / ".venv" / "installed.sha256").exists()


def test_a_folder_that_cannot_be_written_is_told_in_one_sentence(house):
    (house / ".venv.lock").mkdir()
    assert refused(house) == f"The set-up cannot write {house}/.venv.lock: Is a directory.\n"


def test_a_computer_without_network_is_asked_about_it(capsys):
    gone = "print('WARNING: Retrying (Retry(total=4))'); print('ERROR: No matching distribution'); raise SystemExit(1)"
    with pytest.raises(SystemExit, match="Is this computer on the network"):
        list(bootstrap._lines_of([sys.executable, "-c", gone], "Could not install the packages."))
    assert capsys.readouterr().out == ""


def test_a_demo_that_could_keep_nothing_is_not_begun(tmp_path, monkeypatch):
    monkeypatch.setattr(bootstrap, "DEMO", tmp_path / "a_file" / ".demo")
    (tmp_path / "a_file").touch()
    with pytest.raises(SystemExit, match="where you cannot write"):
        bootstrap.provide_demo_folder()


@pytest.mark.parametrize("path", bootstrap.EVERY_LIST, ids=str)
def test_every_requirement_is_pinned_with_its_hashes(path):
    lines = re.sub(r" \\\n +", " ", path.read_text(encoding="utf-8")).splitlines()
    wanted = [line for line in lines if line and not line.startswith("#")]
    assert len(bootstrap.pins([path])) == len(wanted)
    assert [line for line in wanted if "--hash=sha256:" not in line] == []


@pytest.mark.parametrize("lists", bootstrap.SET_UP_IN_FULL.values(), ids=bootstrap.SET_UP_IN_FULL)
def test_whatever_comes_along_is_pinned_too(lists):
    # pip is told to install nothing but these; brotlicffi stands in for brotli where Python is not CPython.
    listed = {canonicalize_name(name) for name in bootstrap.pins(lists)}
    asked = [Requirement(line) for name in listed for line in requires(name) or ()]
    brought = {
        canonicalize_name(one.name)
        for one in asked
        if one.marker is None or one.marker.evaluate({"extra": "woff"}) or one.marker.evaluate({"extra": ""})
    }
    assert brought - listed == set()


def test_the_tools_of_the_tests_are_no_part_of_what_runs_in_a_studio():
    runtime, tools = bootstrap.pins([bootstrap.RUNTIME]), bootstrap.pins([bootstrap.TEST_TOOLS])
    assert runtime.keys() & tools.keys() == set()
    assert {"pytest", "mypy", "playwright", "scipy", "django-stubs"} <= tools.keys()


def test_extras_do_not_hide_the_name():
    assert bootstrap.pins([bootstrap.RUNTIME])["psycopg"] == "3.3.9"


def test_another_version_counts_as_missing(monkeypatch):
    monkeypatch.setattr(bootstrap, "pins", lambda _: {"Django": "0.1", "warproom-nothing": "1.0"})
    assert bootstrap.missing_pins([]) == ["Django==0.1", "warproom-nothing==1.0"]


def test_idle_zeros_make_no_other_version(monkeypatch):
    # The version rules of Python packages (PEP 440, integer normalization): 1.006 and 1.6 are one version.
    monkeypatch.setattr(bootstrap.metadata, "version", lambda _: "1.006.10")
    assert bootstrap.installed_version("any") == "1.6.10"


def test_asked_by_name_any_version_will_do():
    assert bootstrap.missing_packages(["Django", "warproom-nothing"]) == ["warproom-nothing"]


def test_the_exact_line_is_told_to_whoever_may_not_install(monkeypatch, capsys):
    monkeypatch.setattr(bootstrap, "LIBRARIES", {"libpango-of-nowhere.so.0": "libpango-1.0-0"})
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    bootstrap.provide_system_packages()
    assert "    sudo apt-get install -y --no-install-recommends libpango-1.0-0\n" in capsys.readouterr().out


def test_without_venv_the_set_up_stops_with_the_line_that_brings_it(monkeypatch, capsys):
    monkeypatch.setattr(bootstrap, "missing_system_packages", lambda: ["python3-venv"])
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    with pytest.raises(SystemExit, match="Without python3-venv"):
        bootstrap.provide_system_packages()
    assert "sudo apt-get install -y --no-install-recommends python3-venv\n" in capsys.readouterr().out


def test_other_words_go_to_django_without_asking_for_test_tools(monkeypatch):
    monkeypatch.setattr(bootstrap, "pins", lambda _: {"warproom-nothing": "1.0"})
    assert bootstrap.use_right_python("migrate") is None


def test_a_python_that_lacks_things_after_the_set_up_is_not_started_for_ever(monkeypatch):
    monkeypatch.setattr(bootstrap, "pins", lambda _: {"warproom-nothing": "1.0"})
    monkeypatch.setenv(bootstrap.STARTED_AGAIN, "1")
    with pytest.raises(SystemExit, match="Still missing after the set-up: warproom-nothing"):
        bootstrap.use_right_python("test")


def test_the_demo_cannot_reach_a_real_database():
    environment = {"DATABASE_URL": "postgres://db.example/warproom", "WARPROOM_DATA_DIR": "/srv", "HOME": "/root"}
    bootstrap.set_demo(environment)
    assert environment == {"WARPROOM_DEMO": "1", "HOME": "/root"}


def test_the_ways_to_sign_in_are_told_before_the_demo_is_served(monkeypatch, settings):
    settings.DEMO = True
    file = io.BytesIO()
    told = []
    monkeypatch.setattr(demo, "load_studio", lambda: True)
    monkeypatch.setattr(demo, "make_notices", lambda **_: None)
    monkeypatch.setattr(demo, "refuse_taken", lambda _: None)
    monkeypatch.setattr(demo, "call_command", lambda *_, **__: told.append(file.getvalue().decode()))
    demo.Command(stdout=io.TextIOWrapper(file)).handle(port=8000, fresh=False, no_serve=False)
    assert [demo.PASSWORD in before for before in told] == [False, True]  # at migrate, at runserver


def test_a_port_of_the_system_is_refused_with_one_that_is_free_to_all(monkeypatch):
    class Door(socket.socket):
        def bind(self, _):
            raise PermissionError

    monkeypatch.setattr(socket, "socket", Door)
    with pytest.raises(CommandError, match=r"Port 80 may be used by the system alone. Try: .* --port 8000"):
        demo.refuse_taken(80)
