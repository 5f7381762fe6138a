"""Cards on the looms keep their digest: one that changes without the work having changed would call them all old."""

import pytest

from planner.calc.worksheet.work_out import work_out
from planner.plan.as_data import plan_as_data
from planner.plan.card_digest import card_digest
from studio.units import Units
from tests.planner import worked_projects

PRINTED = {
    "runner": "375916abc4abb1a2cc93cd42a0f5cef80e93199984fe209e35f1c1fb52353774",
    "towels": "a16aa7c305bd9695b670d3b53efb8a16e7d84c22330797983a1bd90943d785dc",
    "throws": "ae15e6f5de86071971b824792d467a4486f76a9dcf5e10ccf1305f4b113b8d16",
    "rugs": "32e9e1a6722b3ba55a12476488b6cd8520a948b93ba5387fba073db06d4f6368",
    "waiting_section": "ea2cef4bb827cd7f8c86b9ec3e25a8756eee48c3b03348b878d0aeb8f4662d5f",
    "class_warp": "3ae69a3f282113a408883f96e19241b4b093aa14e03d8aa54f73cba055565d25",
    "linen_cloths": "c05b0c93beacd331f914c71289fff8ee7c26d809c47d6306666359cb1e7cb9b6",
    "partial_edges": "2c95e27dc57cd764ffec332f8c16791fcbb433db02c145f269ebc9eb30738b30",
    "thick_and_thin": "bf94a90cae6f9ab08600aeb11b72a39d7b37f3f294e8a767c8961b3adb57f35f",
    "too_long": "42de580bd0f2b7f931caf45bdf4163d297fca80f5d8178a3470db89aab10c3a5",
}
"""As the first cards were printed."""


@pytest.mark.parametrize("make", worked_projects.ALL, ids=lambda make: make.__name__)
def test_a_worked_project_keeps_its_digest(make):
    assert card_digest(plan_as_data(work_out(make()), Units.METRIC)) == PRINTED[make.__name__]
