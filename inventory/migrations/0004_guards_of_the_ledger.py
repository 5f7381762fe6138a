"""Put up what the database itself refuses of the ledger; the words stand in `inventory.ledger.guards`."""

from django.db import migrations

from inventory.ledger.guards import down, up


class Migration(migrations.Migration):
    dependencies = [("inventory", "0003_first_moves")]

    operations = [migrations.RunPython(up, down)]
