"""The command: a brief in a file, its plan on standard output; trouble as lines, never as a traceback."""

import io
import json
import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest
from django.core.management import CommandError, call_command

import planner

HOME = Path(planner.__file__).parent
TOWELS = HOME / "examples" / "towels_sectional_beam_inches.json"
LINEN = HOME / "examples" / "linen_cloths_metric.json"
RUNNER = HOME / "examples" / "runner_chains_plain_beam.json"


def plan_of(path, *options):
    out = io.StringIO()
    call_command("work_out", str(path), *options, stdout=out)
    return json.loads(out.getvalue())


def refusal_of(path) -> str:
    with pytest.raises(CommandError) as refused:
        call_command("work_out", str(path))
    return str(refused.value)


def test_the_towels_come_out_as_worked_by_hand():
    # Project 9.2 of the trade brief, worked on paper: 480 ends, 12 sections, 11 turns, 40 spools of 145 yd.
    plan = plan_of(TOWELS)
    assert (plan["ends"], plan["turns"], len(plan["sections"])) == (480, 11, 12)
    assert [(group["spools"], group["shown"]["to_wind"]) for group in plan["spools"]] == [(40, "145 yd")]


def test_the_linen_cloths_come_out_as_worked_by_hand():
    # Project 9.7: 400 ends, 16 sections of 25, 8 turns of a beam of one metre.
    plan = plan_of(LINEN)
    assert (plan["ends"], plan["turns"], {section["ends"] for section in plan["sections"]}) == (400, 8, {25})


def test_the_runner_comes_out_as_worked_by_hand():
    # Project 9.1: 282 ends, 2.10 yd wanted, wound 2.25 yd, three chains.
    plan = plan_of(RUNNER)
    assert (plan["ends"], plan["shown"]["warp_length"], len(plan["chains"])) == (282, "2.25 yd", 3)


def test_measures_can_be_chosen():
    assert plan_of(TOWELS, "--units", "metric")["shown"]["width_in_reed"] == "61 cm"


def test_a_dash_reads_standard_input(monkeypatch):
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(TOWELS.read_bytes())))
    assert plan_of("-")["ends"] == 480


def test_a_missing_file_is_named(tmp_path):
    assert "nowhere.json cannot be read" in refusal_of(tmp_path / "nowhere.json")


def test_a_folder_is_no_brief(tmp_path):
    assert "cannot be read" in refusal_of(tmp_path)


def test_broken_json_is_placed(tmp_path):
    (tmp_path / "brief.json").write_text('{"title":\n 3,}', encoding="utf-8")
    assert refusal_of(tmp_path / "brief.json").startswith("This is not JSON: line 2")


def test_each_problem_has_its_line(tmp_path):
    (tmp_path / "brief.json").write_text('{"title": "Towels", "sett": "20"}', encoding="utf-8")
    lines = refusal_of(tmp_path / "brief.json").splitlines()
    assert [line.partition(":")[0] for line in lines[1:]] == ["loom", "yarns", "sett"]


def test_a_file_too_large_is_refused(tmp_path):
    (tmp_path / "brief.json").write_bytes(b" " * 3_000_000)
    assert refusal_of(tmp_path / "brief.json") == "A brief of more than 2.5 MB is not read."


def run(*arguments, **more):
    command = [sys.executable, str(HOME.parent / "manage.py"), "work_out", *arguments]
    return subprocess.run(command, capture_output=True, check=False, env={**os.environ, **more}, timeout=60)


def test_trouble_ends_with_code_1_and_no_traceback(tmp_path):
    (tmp_path / "brief.json").write_text("[]", encoding="utf-8")
    done = run(str(tmp_path / "brief.json"))
    assert (done.returncode, done.stdout) == (1, b"")
    assert b"A brief is an object" in done.stderr
    assert b"Traceback" not in done.stderr


def test_it_runs_where_no_database_answers():
    done = run(str(TOWELS), DATABASE_URL="postgres://nobody@127.0.0.1:9/none")
    assert json.loads(done.stdout)["ends"] == 480


def test_a_terminal_without_utf_8_still_gets_the_plan():
    done = run(str(TOWELS), PYTHONIOENCODING="ascii")
    assert json.loads(done.stdout.decode("ascii"))["ends"] == 480
