"""Let the database itself refuse what would be taken twice; the words stand in `studio.calendar.guards`."""

from django.db import migrations

from studio.calendar.guards import GUARDS


class Migration(migrations.Migration):
    dependencies = [("studio", "0004_reservations")]

    operations = [migrations.RunPython(GUARDS.up, GUARDS.down)]
