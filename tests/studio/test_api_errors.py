"""Every API error has code, message and fields, whoever raised it."""

import pytest
from django.core.exceptions import PermissionDenied
from django.core.exceptions import ValidationError as DjangoValidationError
from django.http import Http404
from rest_framework import exceptions

from studio.api_errors import answer
from studio.errors import StillInUse

pytestmark = pytest.mark.django_db

CASES = [
    (StillInUse("still_in_use", "A warp hangs on it."), 409, "still_in_use", {}),
    (PermissionDenied(), 403, "permission_denied", {}),
    (Http404(), 404, "not_found", {}),
    (exceptions.ParseError(), 400, "parse_error", {}),
    (exceptions.Throttled(), 429, "throttled", {}),
    (exceptions.ValidationError({"sett": ["Too close."]}), 400, "invalid", {"sett": ["Too close."]}),
    (exceptions.ValidationError("Not so."), 400, "invalid", {"non_field_errors": ["Not so."]}),
    (exceptions.ValidationError({"loom": {"beam": ["Odd."]}}), 400, "invalid", {"loom.beam": ["Odd."]}),
    (exceptions.ValidationError({"yarns": [{}, {"name": ["?"]}]}), 400, "invalid", {"yarns.1.name": ["?"]}),
    (DjangoValidationError({"shafts": "Too many."}), 400, "invalid", {"shafts": ["Too many."]}),
    (DjangoValidationError("Not now."), 400, "invalid", {"non_field_errors": ["Not now."]}),
]


@pytest.mark.parametrize(("trouble", "status", "code", "fields"), CASES)
def test_trouble_is_answered_in_one_shape(trouble, status, code, fields):
    made = answer(trouble, {})
    assert (made.status_code, made.data["code"], made.data["fields"]) == (status, code, fields)
    assert set(made.data) == {"code", "message", "fields"}


@pytest.mark.parametrize("trouble", [case[0] for case in CASES])
def test_every_answer_says_something(trouble):
    assert answer(trouble, {}).data["message"]


def test_a_bug_is_left_to_be_a_logged_fault():
    assert answer(ZeroDivisionError(), {}) is None
