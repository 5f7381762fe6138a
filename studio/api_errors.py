"""One shape for every trouble the API answers with: code, message, fields."""

from collections.abc import Iterator, Mapping
from typing import Any

from django.core.exceptions import ValidationError as DjangoValidationError
from rest_framework import exceptions
from rest_framework.response import Response
from rest_framework.views import exception_handler, set_rollback

from studio.errors import StudioError

NO_FIELD = "non_field_errors"
CODES = {404: "not_found", 403: "permission_denied"}


def answer(trouble: Exception, context: dict[str, Any]) -> Response | None:
    """Turn trouble into an answer; None leaves a bug to be a logged 500."""
    if isinstance(trouble, StudioError):
        set_rollback()
        return Response(shape(trouble.code, trouble.message, trouble.fields), status=409)
    if isinstance(trouble, DjangoValidationError):
        messages = trouble.message_dict if hasattr(trouble, "error_dict") else {NO_FIELD: trouble.messages}
        trouble = exceptions.ValidationError(messages)
    response = exception_handler(trouble, context)
    if response is not None:
        response.data = _in_shape(trouble, response)
    return response


def shape(code: str, message: str, fields: Mapping[str, list[str]] | None = None) -> dict[str, Any]:
    """Give the one shape of an error."""
    return {"code": code, "message": message, "fields": dict(fields or {})}


def _in_shape(trouble: Exception, response: Response) -> dict[str, Any]:
    if isinstance(trouble, exceptions.ValidationError):
        fields = dict(_flat(response.data))
        return shape("invalid", "Some of this could not be read or kept. See the fields.", fields)
    message = str(response.data.get("detail", "")) if isinstance(response.data, dict) else ""
    code = trouble.get_codes() if isinstance(trouble, exceptions.APIException) else CODES.get(response.status_code)
    return shape(str(code or "refused"), message)


def _flat(data: Any, name: str = "") -> Iterator[tuple[str, list[str]]]:
    """Give nested mistakes as pairs of a dotted name and its sentences."""
    if isinstance(data, Mapping):
        for key, inner in data.items():
            yield from _flat(inner, f"{name}.{key}" if name else str(key))
    elif isinstance(data, list) and all(isinstance(item, str) for item in data):
        yield name or NO_FIELD, [str(item) for item in data]
    elif isinstance(data, list):
        for number, inner in enumerate(data):
            yield from _flat(inner, f"{name}.{number}" if name else str(number))
    else:
        yield name or NO_FIELD, [str(data)]
