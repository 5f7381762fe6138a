"""The API of the planner: a brief in, its plan out, nothing stored."""

from __future__ import annotations

import logging
from typing import IO, Any

from rest_framework.exceptions import APIException, ParseError, ValidationError
from rest_framework.parsers import BaseParser
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from planner.brief.document import MOST_BYTES, load
from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.problems import Problem
from planner.calc.worksheet.work_out import work_out
from planner.plan.as_data import plan_as_data
from planner.warps.from_database import read_document
from studio.access import member_of
from studio.units import UnitError, Units

logger = logging.getLogger(__name__)

MOST_DIGITS = 20
"""Digits of a length that is read at all."""

WHOLE_DOCUMENT = "non_field_errors"
"""Where a problem of the document as a whole stands among the fields."""


class TooLarge(APIException):
    """More was sent than a brief can be."""

    status_code = 413
    default_detail = "A brief of more than 2.5 MB is not read."
    default_code = "too_large"


class NotWorkedOut(APIException):
    """A brief that passed every check and still broke a calculator: ours to mend, so the log has the reason."""

    status_code = 400
    default_detail = "This brief could not be worked out; the steward finds the reason in the log."
    default_code = "not_worked_out"


class BriefParser(BaseParser):
    """Reads JSON strictly: UTF-8, no NaN, no key twice, neither too long nor too deep."""

    media_type = "application/json"

    def parse(self, stream: IO[Any], media_type: object = None, parser_context: object = None) -> Any:
        """Read the document; whatever is wrong becomes one clear sentence."""
        raw = stream.read(MOST_BYTES + 1)
        if len(raw) > MOST_BYTES:
            raise TooLarge
        try:
            return load(raw)
        except UnitError as error:
            raise ParseError(error.message, error.code) from None


class PlanView(APIView):
    """Works out a brief document; `?units=` chooses the measures of the words beside the numbers."""

    parser_classes = (BriefParser,)

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        """Refuse a body that is too large before anybody reads it."""
        length = request.META.get("CONTENT_LENGTH") or "0"
        # Counted before it is read as a number: Python itself refuses thousands of digits.
        if not length.isdecimal() or len(length) > MOST_DIGITS or int(length) > MOST_BYTES:
            raise TooLarge
        super().initial(request, *args, **kwargs)

    def post(self, request: Request) -> Response:
        """Give the plan that follows from the brief in the body."""
        units = _units_of(request)
        reading = read_document(request.data)
        if reading.brief is None:
            raise ValidationError(_fields(reading.problems))
        return Response(_plan(reading.brief, units))


def _units_of(request: Request) -> Units:
    """Give the measures asked for, else those the member reads in."""
    member = member_of(request)
    asked = request.query_params.get("units")
    if asked is None:
        return member.reads_in
    if asked not in tuple(Units):
        raise ValidationError({"units": ["Choose one of: inch, metric."]}, "not_a_choice")
    return Units(asked)


def _fields(problems: tuple[Problem, ...]) -> dict[str, list[str]]:
    fields: dict[str, list[str]] = {}
    for problem in problems:
        fields.setdefault(problem.field or WHOLE_DOCUMENT, []).append(problem.message)
    return fields


def _plan(brief: WarpBrief, units: Units) -> dict[str, Any]:
    try:
        return plan_as_data(work_out(brief), units)
    except (ValueError, ArithmeticError):
        logger.exception("A checked brief could not be worked out")
        raise NotWorkedOut from None
