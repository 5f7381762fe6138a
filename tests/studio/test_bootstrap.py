"""The set-up of a bare computer, tried on small folders with a package of our own and no network."""

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from studio import bootstrap

ROOT = Path(__file__).resolve().parent.parent.parent
# The Python that has no packages, below whatever environment runs these tests.
BARE_PYTHON = str(Path(sys.base_prefix) / "bin" / f"python3.{sys.version_info.minor}")
PROGRAM = """
import sys
from importlib.metadata import version
from studio import bootstrap
bootstrap.provide_system_packages = lambda: None
bootstrap.use_right_python("test")
print("ready", sys.prefix, version("warproom-pretend-yarn"))
"""


def wheel(folder, version):
    """Make the smallest package that pip installs."""
    info = f"warproom_pretend_yarn-{version}.dist-info"
    with zipfile.ZipFile(folder / f"warproom_pretend_yarn-{version}-py3-none-any.whl", "w") as package:
        package.writestr("warproom_pretend_yarn.py", "")
        package.writestr(
            f"{info}/METADATA", f"Metadata-Version: 2.1\nName: warproom-pretend-yarn\nVersion: {version}\n"
        )
        package.writestr(f"{info}/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        package.writestr(f"{info}/RECORD", "")


def require(house, version):
    (house / "requirements.txt").write_text(f"# one\nwarproom-pretend-yarn=={version}\n", encoding="utf-8")


def furnish(house):
    (house / "studio").mkdir()
    shutil.copy(ROOT / "studio" / "bootstrap.py", house / "studio")
    (house / "studio" / "__init__.py").touch()
    (house / "manage.py").write_text(PROGRAM, encoding="utf-8")
    for version in ("1.0", "1.1"):
        wheel(house, version)
    require(house, "1.0")


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


def begin(house):
    quiet = {
        "PATH": os.environ.get("PATH", os.defpath),
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": str(house),
        "PIP_CONFIG_FILE": os.devnull,
    }
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
    return subprocess.Popen([BARE_PYTHON, "manage.py"], cwd=house, env=quiet, **pipes)


def run(house):
    """Run the small manage.py to its end and give all it said."""
    said, _ = begin(house).communicate(timeout=120)
    return said


def ready(house, version="1.0"):
    return f"ready {house}/.venv {version}"


@pytest.mark.slow
def test_a_bare_computer_is_set_up_and_started_again(first_run):
    house, said = first_run[0], first_run[1].splitlines()
    assert said[0].startswith(f"Making {house}/.venv")
    assert said[-2:] == ["Set-up is complete.", ready(house)]


@pytest.mark.slow
def test_the_second_run_installs_nothing(used_house):
    assert run(used_house).splitlines() == [ready(used_house)]


@pytest.mark.slow
def test_changed_requirements_are_installed_into_the_same_folder(used_house):
    require(used_house, "1.1")
    said = run(used_house)
    assert ready(used_house, "1.1") in said
    assert "Making" not in said


@pytest.mark.slow
def test_an_interrupted_set_up_starts_over(used_house):
    (used_house / ".venv" / "installed.sha256").unlink()
    shutil.rmtree(used_house / ".venv" / "lib")
    said = run(used_house)
    assert "Making" in said
    assert ready(used_house) in said


@pytest.mark.slow
def test_two_at_once_make_one_set_up(house):
    both = [begin(house), begin(house)]
    said = "".join(one.communicate(timeout=120)[0] for one in both)
    assert (said.count("Making"), said.count("Set-up is complete."), said.count(ready(house))) == (1, 1, 2)


@pytest.mark.slow
def test_a_package_that_cannot_be_had_is_told_and_leaves_no_stamp(used_house):
    require(used_house, "9.9")
    said = run(used_house)
    assert "Could not install the packages. Is this computer on the network?" in said
    assert not (used_house / ".venv" / "installed.sha256").exists()


def test_every_requirement_is_pinned():
    lines = (ROOT / "requirements.txt").read_text(encoding="utf-8").splitlines()
    wanted = [line for line in lines if line and not line.startswith("#")]
    assert len(bootstrap.pins()) == len(wanted)


def test_extras_do_not_hide_the_name():
    assert bootstrap.pins()["psycopg"] == "3.3.9"


def test_another_version_counts_as_missing(monkeypatch):
    monkeypatch.setattr(bootstrap, "pins", lambda: {"Django": "0.1", "warproom-nothing": "1.0"})
    assert bootstrap.missing_pins() == ["Django==0.1", "warproom-nothing==1.0"]


def test_idle_zeros_make_no_other_version(monkeypatch):
    # The version rules of Python packages (PEP 440, integer normalization): 1.006 and 1.6 are one version.
    monkeypatch.setattr(bootstrap.metadata, "version", lambda _: "1.006.10")
    assert bootstrap.installed_version("any") == "1.6.10"


def test_asked_by_name_any_version_will_do():
    assert bootstrap.missing_pins(["Django", "warproom-nothing"]) == ["warproom-nothing"]


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
    monkeypatch.setattr(bootstrap, "pins", lambda: {"warproom-nothing": "1.0"})
    assert bootstrap.use_right_python("migrate") is None


def test_a_python_that_lacks_things_after_the_set_up_is_not_started_for_ever(monkeypatch):
    monkeypatch.setattr(bootstrap, "pins", lambda: {"warproom-nothing": "1.0"})
    monkeypatch.setenv(bootstrap.STARTED_AGAIN, "1")
    with pytest.raises(SystemExit, match="Still missing after the set-up: warproom-nothing"):
        bootstrap.use_right_python("test")


def test_the_demo_cannot_reach_a_real_database():
    environment = {"DATABASE_URL": "postgres://db.example/warproom", "WARPROOM_DATA_DIR": "/srv", "HOME": "/root"}
    bootstrap.set_demo(environment)
    assert environment == {"WARPROOM_DEMO": "1", "HOME": "/root"}
