"""Let the database itself refuse what would be taken twice; the words stand in `studio.booking_guards`."""

from django.db import migrations

from studio.booking_guards import GUARDS


class Migration(migrations.Migration):
    dependencies = [("studio", "0004_reservations")]

    operations = [migrations.RunPython(GUARDS.up, GUARDS.down)]
