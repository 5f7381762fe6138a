"""Give each package that was on the shelf before the ledger its first move, and back again without losing a gram."""

from datetime import datetime, time
from decimal import Decimal
from fractions import Fraction

from django.db import migrations
from django.utils import timezone

from inventory.calc.ledger import grams, net_micrograms

BATCH = 500
WHY = "On the shelf before the ledger was kept."
READABLE = Decimal("1E-9")


def first_moves(apps, schema_editor):
    Package, Move = (apps.get_model("inventory", name) for name in ("Package", "Move"))
    now = timezone.now()
    moves = [first_move(Move, package, now) for package in Package.objects.order_by("pk").iterator(BATCH)]
    Move.objects.bulk_create(moves, batch_size=BATCH)
    for move in moves:
        Package.objects.filter(pk=move.package_id).update(on_hand_ug=move.on_hand_ug)


def first_move(Move, package, now):
    tare = min(package.tare_g, package.gross_g)
    received = package.received_on and timezone.make_aware(datetime.combine(package.received_on, time(12)))
    return Move(
        package_id=package.pk,
        kind="receive",
        on_hand_ug=net_micrograms(Fraction(package.gross_g), Fraction(tare)),
        scale_text=package.gross_text or in_words(package.gross_g),
        tare_text=package.tare_text if package.gross_text else in_words(tare),
        made_at=min(received, now) if received else now,
        said_why=WHY,
    )


def in_words(weight_g):
    return f"{weight_g.quantize(READABLE).normalize():f} g"


def back_to_the_scale(apps, schema_editor):
    """Before the ledger a package held what its last weights said, so these must say what the moves left on it."""
    Package, Move = (apps.get_model("inventory", name) for name in ("Package", "Move"))
    for package in Package.objects.order_by("pk").iterator(BATCH):
        if net_micrograms(Fraction(package.gross_g), Fraction(package.tare_g)) != package.on_hand_ug:
            left = grams(package.on_hand_ug)
            package.gross_g = package.tare_g + Decimal(left.numerator) / Decimal(left.denominator)
            package.gross_text = package.tare_text = ""
            package.save(update_fields=["gross_g", "gross_text", "tare_text"])
    Package.objects.update(on_hand_ug=0, promised_ug=0, quarantined=False)
    Move.objects.filter(kind="reverse").delete()
    Move.objects.all().delete()


class Migration(migrations.Migration):
    dependencies = [("inventory", "0002_the_ledger")]

    operations = [migrations.RunPython(first_moves, back_to_the_scale)]
