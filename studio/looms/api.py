"""Looms for other programs of the studio, to read. Lengths are strings in cm, so that no digit is lost."""

from typing import Any, ClassVar

from django.shortcuts import get_object_or_404
from rest_framework import permissions, serializers
from rest_framework.decorators import api_view, permission_classes
from rest_framework.exceptions import NotFound
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from studio.access import member_of
from studio.models import Beam, Loom
from studio.rights import Act, may

LONGEST_ECHO = 40


class MaySeeStudio(permissions.IsAuthenticated):
    """Asks the same table of rights as the pages do."""

    message = "Your role does not allow this."

    def has_permission(self, request: Request, view: APIView) -> bool:
        return super().has_permission(request, view) and may(member_of(request).role, Act.SEE_STUDIO)


class BeamSerializer(serializers.ModelSerializer[Beam]):
    class Meta:
        model = Beam
        fields: ClassVar = (
            "id", "name", "kind", "circumference_cm", "usable_width_cm", "pitch_cm", "divider_cm", "sections",
            "centre", "rake_height_cm", "bars", "leader_cm", "leader_offset_cm", "leader_knot_cm",
            "turning", "clockwise",
        )  # fmt: skip


class LoomSerializer(serializers.ModelSerializer[Loom]):
    beams = BeamSerializer(many=True)

    class Meta:
        model = Loom
        fields: ClassVar = (
            "id", "number", "nickname", "weaving_width_cm", "shafts", "treadles", "heddles", "waste_cm", "retired",
            "beams",
        )  # fmt: skip


@api_view(["GET"])
@permission_classes([MaySeeStudio])
def loom_list(_request: Request) -> Response:
    """Give all looms with their beams."""
    return Response({"looms": _data(Loom.objects.with_beams(), many=True)})


@api_view(["GET"])
@permission_classes([MaySeeStudio])
def loom_detail(_request: Request, pk: int) -> Response:
    """Give one loom with its beams."""
    return Response(_data(get_object_or_404(Loom.objects.with_beams(), pk=pk)))


@api_view(["GET", "POST"])
@permission_classes([permissions.AllowAny])
def not_here(_request: Request, rest: str) -> Response:
    """Answer an address that does not exist, in the one shape of errors."""
    raise NotFound(f"There is nothing at {rest[:LONGEST_ECHO]}.")


def _data(looms: Any, *, many: bool = False) -> Any:
    return LoomSerializer(looms, many=many).data
