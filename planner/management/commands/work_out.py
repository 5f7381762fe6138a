"""`manage.py work_out BRIEF.json`: the plan of a brief document, on standard output. Needs no database."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from planner.brief.document import MOST_BYTES, load, read_brief
from planner.calc.terms.brief import WarpBrief
from planner.calc.worksheet.work_out import work_out
from planner.plan.as_data import plan_as_data
from studio.units import UnitError, Units

STANDARD_INPUT = "-"


class Command(BaseCommand):
    """Works out one brief; what is wrong with it comes as one line for each problem, and exit code 1."""

    help = "Work out the plan of a brief document (JSON; planner/BRIEF_FORMAT.md tells the format)."
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Ask for the file, and for the measures of the words beside the numbers."""
        parser.add_argument("brief", help="file with the brief, or - for standard input")
        parser.add_argument("--units", choices=[units.value for units in Units], default=Units.INCH.value)

    def handle(self, *args: Any, **options: Any) -> None:
        """Read, work out, print."""
        plan = _plan(_brief(_bytes(options["brief"])), Units(options["units"]))
        utf8 = (getattr(self.stdout, "encoding", None) or "utf-8").lower() in {"utf-8", "utf8"}
        self.stdout.write(json.dumps(plan, indent=2, ensure_ascii=not utf8))


def _bytes(name: str) -> bytes:
    try:
        if name == STANDARD_INPUT:
            return sys.stdin.buffer.read(MOST_BYTES + 1)
        with Path(name).open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except OSError as error:
        raise CommandError(f"{name} cannot be read: {error.strerror}.") from None


def _brief(raw: bytes) -> WarpBrief:
    try:
        document = load(raw)
    except UnitError as error:
        raise CommandError(error.message) from None
    reading = read_brief(document)
    if reading.brief is None:
        lines = (f"{problem.field}: {problem.message}".removeprefix(": ") for problem in reading.problems)
        raise CommandError("\n".join(["The brief cannot be worked out.", *lines]))
    return reading.brief


def _plan(brief: WarpBrief, units: Units) -> dict[str, Any]:
    try:
        return plan_as_data(work_out(brief), units)
    except (ValueError, ArithmeticError) as error:  # passed every check and still broke a calculator: ours to mend
        raise CommandError(f"This brief could not be worked out, and should have been: {error}") from error
