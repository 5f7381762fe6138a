"""Record what the tape said about a beam, or take back what was typed wrongly."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from inventory.models import Yarn
from planner.brief.fields import write_tex
from planner.models import Calibration
from studio.errors import StudioError
from studio.models import Beam, Member
from studio.rights import Act, may


@transaction.atomic
def record_calibration(*, beam: Beam, yarn: Yarn, values: Mapping[str, Any], by: Member) -> Calibration:
    """Record two circumferences, the turns between them, and what was wound; the yarn as it is known today."""
    locked = Beam.objects.select_for_update().get(pk=beam.pk)
    if not locked.is_sectional:
        raise StudioError("no_sections", "Turns are counted on sectional beams only; this one is plain.")
    if values["measured_on"] > timezone.localdate():
        raise ValidationError({"measured_on": "That day is still to come. Give the day it was measured."})
    calibration = Calibration(beam=locked, measured_by=by, **values)
    calibration.yarn_name, calibration.fibre, calibration.grist = yarn.name, yarn.fibre, write_tex(yarn.exact_tex)
    calibration.full_clean()
    calibration.save()
    return calibration


@transaction.atomic
def remove_calibration(*, calibration: Calibration, by: Member) -> None:
    """Take back a measurement; its own maker may, and a steward."""
    locked = Calibration.objects.select_for_update().get(pk=calibration.pk)
    if locked.measured_by_id != by.pk and not may(by.role, Act.EDIT_LOOMS):
        raise StudioError("not_yours", "Another member measured this; a steward can take it back.")
    locked.delete()
