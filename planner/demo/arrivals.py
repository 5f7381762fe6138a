"""What lately came in by the back door of the invented studio: empties that were weighed, a donation without names."""

from collections.abc import Mapping
from datetime import timedelta
from io import BytesIO

from django.utils import timezone

from inventory.intake.photo_services import keep_photo
from inventory.intake.services import add_to_stock, throw_out, weigh_empty
from inventory.models import Package, Photo
from inventory.shelf.services import PackageFacts
from planner.demo.photos import a_cone
from studio.files.image_cleaning import made_anew
from studio.models import Member

Kind = Package.Kind
EMPTIES = (
    (Kind.CONE, "large cardboard cone", ("38 g", "37 g", "40 g")),
    (Kind.CONE, "small cardboard cone", ("25 g", "26 g", "25 g", "24 g")),
    (Kind.TUBE, "plastic tube", ("42 g", "42 g")),
)
WALNUT, SAGE = (132, 92, 62), (140, 152, 112)


def take_in_a_donation(members: Mapping[str, Member]) -> None:
    """Let four cones and a bag of skeins wait for somebody who knows what they are."""
    by = members["trained"]
    for kind, name, weights in EMPTIES:
        for weight in weights:
            weigh_empty(kind=kind, name=name, weight_text=weight, by=by)
    came = timezone.localdate() - timedelta(days=6)
    brown = PackageFacts(
        gross_text="", tare_text="25 g", bin_name="N1", source="donated", received_on=came,
        notes="From a loft; label says 4/8 and nothing more",
    )  # fmt: skip
    add_to_stock(facts=brown, grosses=["412 g", "398 g", "405 g"], by=by, photo=_photo(WALNUT, by))
    green = PackageFacts(gross_text="", tare_text="38.33 g", bin_name="N1", source="donated", received_on=came)
    add_to_stock(facts=green, grosses=["871 g"], by=by, photo=_photo(SAGE, by))
    loose = PackageFacts(gross_text="", kind=Kind.SKEIN, bin_name="N2", source="donated", received_on=came)
    add_to_stock(facts=loose, grosses=["96 g", "104 g"], by=by)
    mouldy = add_to_stock(facts=loose, grosses=["310 g"], by=by).arrivals[0]
    throw_out(arrival=mouldy, by=members["steward"], why_out="Mould through and through")


def _photo(colour: tuple[int, int, int], by: Member) -> Photo:
    return keep_photo(picture=made_anew(BytesIO(a_cone(*colour))), by=by)
