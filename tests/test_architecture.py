"""Floors and one-way stairs: who may import whom. A rule nobody runs is a wish.

DEVELOPERS.md draws the floors. The real tree is read, and then small trees with one wrong import
each, since a guard that never barked proves nothing.
"""

import ast
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
APPS = ("studio", "inventory", "planner")  # each may import only itself and those on its left
FLOORS = {
    "units": 0, "errors": 0, "rights": 0, "loom_states": 0, "synonyms": 0,
    "yarn_count": 0, "count_systems": 0, "grist_text": 0, "package_length": 0,
    "cold_sums": 0, "ledger_sums": 0, "ledger_words": 0, "tare_sums": 0,
    "yarn_colour": 0, "weight_classes": 0, "reservation_words": 0,
    "care_words": 0,
    "calc": 0, "brief_text": 0, "brief_fields": 0, "brief_format": 0, "brief_threading": 0, "typed_brief": 0,
    "yarn_names": 0, "beam_marks": 0, "cloth_places": 0, "colour_order": 0, "explained_parts": 0, "disagreements": 0,
    "plan_data": 0, "deeds": 0, "reading": 0, "remarks": 0, "showing": 0, "showing_choices": 0, "shown": 0,
    "explained_formulas": 0,
    "showing_figures": 0, "showing_threading": 0, "showing_waiting": 0,
    "models": 1, "pictures": 1, "photos": 1, "guards": 1, "ledger_guards": 1, "booking_guards": 1,
    "selectors": 2, "facts": 2, "spreadsheets": 2, "notice_words": 2,
    "services": 3,
    "forms": 4, "fields": 4, "form_fields": 4, "doors": 4, "cards": 4, "card_room": 4, "labels": 4,
    "paper": 4, "drawings": 4, "calendar_file": 4, "loom_weeks": 4, "tool_weeks": 4, "seat_days": 4,
    "deeds_of_looms": 4,
    "admin": 4, "templatetags": 4, "api_errors": 4, "serializers": 4, "context_processors": 4,
    "explained": 4, "explained_facts": 4, "explained_examples": 4, "questions": 4, "asking": 4,
    "questions_yarn": 4, "questions_sett": 4, "questions_reed": 4, "questions_beam": 4, "questions_board": 4,
    "questions_cloth": 4, "questions_reach": 4,
    "calibration_words": 4, "charts": 4, "sheet": 4, "warp_list": 4, "demo": 4,
    "views": 5, "api": 5, "management": 5,
    "urls": 6,
}  # fmt: skip
# A module grown too long is parted by subject: card_services.py stands where services.py does.
PARTED = frozenset({"selectors", "services", "forms", "cards", "serializers", "views", "api", "urls"})
ROOF = frozenset({"studio.home", "studio.urls", "studio.settings", "studio.wsgi", "studio.env"})
APART = "studio.bootstrap"  # runs before any package is there
FREE = frozenset({"apps", "migrations"})
SHARED_IN_CALC = frozenset(
    {
        "planner.calc",
        "planner.calc.bounds",
        "planner.calc.brief",
        "planner.calc.loom_facts",
        "planner.calc.plan",
        "planner.calc.problems",
        "planner.calc.plan_parts",
        "planner.calc.plan_choices",
        "planner.calc.plan_threading",
        "planner.calc.plan_winding",
    }
)
ONLY_HOME = {
    "pint": "studio.units", "weasyprint": "studio.paper", "icalendar": "studio.calendar_file", "PIL": "studio.pictures",
    "tablib": "inventory.spreadsheets", "openpyxl": "inventory.spreadsheets",
}  # fmt: skip
LATE = {"weasyprint": "studio.paper", "openpyxl": "inventory.spreadsheets"}  # slow to load: inside functions


@dataclass(frozen=True)
class Import:
    source: str
    target: str
    line: int
    in_function: bool = False
    relative: bool = False

    @property
    def package(self) -> str:
        return self.target.split(".")[0]


def module_name(path: Path, root: Path) -> str:
    parts = path.relative_to(root).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def modules(root: Path) -> dict[str, Path]:
    return {module_name(path, root): path for app in APPS for path in sorted((root / app).rglob("*.py"))}


def imports_of(source: str, path: Path, known: set[str]) -> Iterator[Import]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)]
    inside = {id(node) for function in functions for node in ast.walk(function)}
    for node in ast.walk(tree):
        for target in targets_of(node, known):
            relative = isinstance(node, ast.ImportFrom) and node.level > 0
            yield Import(source, target, getattr(node, "lineno", 0), id(node) in inside, relative)


def targets_of(node: ast.AST, known: set[str]) -> list[str]:
    """`from a import b` reaches the module a.b when there is one, else a."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        base = node.module or ""
        return [f"{base}.{alias.name}" if f"{base}.{alias.name}" in known else base for alias in node.names]
    return []


def floor_of(module: str) -> int | None:
    name = [*module.split("."), ""][1]
    last = name.rsplit("_", 1)[-1]
    return FLOORS.get(name, FLOORS[last] if last in PARTED else None)


def is_free(module: str) -> bool:
    parts = module.split(".")
    return len(parts) == 1 or parts[1] in FREE


def trouble_with(found: Import) -> str | None:
    """The first rule that an import breaks, in words."""
    for rule in (broken_form, broken_home, broken_roof, broken_stairs, broken_ground_floor, broken_bench):
        words = rule(found)
        if words:
            return f"{found.source}:{found.line} imports {found.target or '.'}: {words}"
    return None


def broken_form(found: Import) -> str | None:
    if found.relative:
        return "write the whole name, no dots"
    if found.in_function and LATE.get(found.package) != found.source:
        return "imports stand at the top of the module"
    return None


def broken_home(found: Import) -> str | None:
    home = ONLY_HOME.get(found.package)
    if home and found.source != home:
        return f"only {home} may"
    if found.package in LATE and not found.in_function:
        return "slow to load, or absent here and there: import it inside the function"
    return None


def broken_roof(found: Import) -> str | None:
    if found.source == APART:
        return None if found.package in sys.stdlib_module_names else "it runs before any package is there"
    if found.target == APART or (found.target in ROOF and found.source not in ROOF):
        return "nobody imports the roof"
    return None


def broken_stairs(found: Import) -> str | None:
    if found.package not in APPS or found.source in ROOF or is_free(found.source):
        return None
    if APPS.index(found.package) > APPS.index(found.source.split(".")[0]):
        return "apps import only leftward"
    source, target = floor_of(found.source), floor_of(found.target)
    if source is not None and target is not None and target > source:
        return f"floor {source} may not see floor {target}"
    return None


def broken_ground_floor(found: Import) -> str | None:
    if floor_of(found.source) != 0 or found.source in ROOF or found.package in APPS:
        return None
    allowed = found.package in sys.stdlib_module_names or found.package in ONLY_HOME
    return None if allowed else "floor 0 has the standard library only"


def broken_bench(found: Import) -> str | None:
    """Inside calc, worksheet alone knows the calculators."""
    inside = found.source.startswith("planner.calc.") and found.target.startswith("planner.calc")
    if not inside or found.target in SHARED_IN_CALC:
        return None
    is_worksheet = found.source.rsplit(".", 1)[1].startswith("worksheet")
    if is_worksheet and found.source not in SHARED_IN_CALC:
        return None
    return "only the worksheet imports calculators"


def problems(root: Path) -> list[str]:
    paths = modules(root)
    homeless = [
        f"{name} stands on no floor"
        for name in paths
        if floor_of(name) is None and not is_free(name) and name not in ROOF | {APART}
    ]
    found = [item for name, path in paths.items() for item in imports_of(name, path, set(paths))]
    return homeless + [words for words in map(trouble_with, found) if words]


def plant(root: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root


def test_the_real_tree_keeps_to_its_floors():
    assert problems(ROOT) == []


def test_the_real_tree_is_really_read():
    assert {"studio.settings", "studio.units", "planner.calc.brief"} <= set(modules(ROOT))


RIGHT = {
    "a service asks a selector": {"planner/services.py": "from planner.selectors import brief_of\n"},
    "an app looks leftward": {"inventory/services.py": "from studio.models.members import Member\n"},
    "the roof sees everything": {"studio/home.py": "from planner.views import today\n"},
    "the worksheet calls a calculator": {"planner/calc/worksheet.py": "from planner.calc.sett import sett\n"},
    "a calculator takes the plan's words": {"planner/calc/sett.py": "from planner.calc.plan import Sum\n"},
    "paper loads WeasyPrint late": {"studio/paper.py": "def render():\n    import weasyprint\n"},
    "units own pint": {"studio/units.py": "import pint\n"},
    "an admin page": {"studio/admin.py": "from django.contrib import admin\nfrom studio.models import Loom\n"},
}

WRONG = {
    "a model asks a service": {"planner/models.py": "from planner.services import save\n"},
    "a selector knows a form": {"studio/selectors.py": "from studio.forms import LoomForm\n"},
    "the house knows the yarn room": {"studio/services.py": "from inventory.models import Yarn\n"},
    "the yarn room knows the planner": {"inventory/views.py": "import planner.selectors\n"},
    "Django on the ground floor": {"studio/rights.py": "from django.db import models\n"},
    "Django under the calculators": {"planner/calc/sett.py": "import django\n"},
    "numbers from outside": {"planner/reading.py": "import numpy\n"},
    "pint in a form": {"planner/forms.py": "import pint\n"},
    "WeasyPrint in a card": {"planner/cards.py": "def card():\n    import weasyprint\n"},
    "WeasyPrint at the top": {"studio/paper.py": "import weasyprint\n"},
    "openpyxl at the top": {"inventory/spreadsheets.py": "import openpyxl\n"},
    "pictures read elsewhere": {"inventory/views.py": "from PIL import Image\n"},
    "a calculator calls another": {"planner/calc/reed.py": "from planner.calc.sett import sett\n"},
    "a calculator calls the worksheet": {
        "planner/calc/worksheet.py": "",
        "planner/calc/reed.py": "from planner.calc import worksheet\n",
    },
    "the brief calls a calculator": {"planner/calc/brief.py": "from planner.calc.sett import sett\n"},
    "dots": {"planner/views.py": "from . import selectors\n"},
    "an import inside a function": {"planner/views.py": "def page():\n    from planner import services\n"},
    "an import inside a method": {"planner/views.py": "class V:\n    def get(self):\n        import json\n"},
    "somebody imports the roof": {"planner/views.py": "from studio.settings import VERSION\n"},
    "somebody imports the home page": {"studio/home.py": "", "planner/views.py": "from studio import home\n"},
    "a package before there are any": {"studio/bootstrap.py": "import django\n"},
    "the set-up imports the house": {"studio/bootstrap.py": "from studio.units import inch\n"},
    "a view of one subject below its floor": {
        "studio/loom_views.py": "",
        "studio/loom_services.py": "from studio.loom_views import page\n",
    },
    "a module of no floor": {"studio/utils.py": ""},
    "a command below its floor": {
        "planner/services.py": "from planner.management.commands.demo import Command\n",
    },
    "a tag used by a service": {"studio/services.py": "from studio.templatetags.trade import as_length\n"},
    "a package's own module, by its parent": {
        "studio/services.py": "",
        "studio/selectors.py": "from studio import services\n",
    },
    "types only, still an import": {
        "studio/models.py": "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import studio.views\n",
    },
}


@pytest.mark.parametrize("files", RIGHT.values(), ids=RIGHT.keys())
def test_a_right_import_is_let_through(tmp_path, files):
    assert problems(plant(tmp_path, files)) == []


@pytest.mark.parametrize("files", WRONG.values(), ids=WRONG.keys())
def test_a_wrong_import_is_caught_once(tmp_path, files):
    assert len(problems(plant(tmp_path, files))) == 1
