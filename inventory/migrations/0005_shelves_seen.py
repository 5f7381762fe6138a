"""Give each yarn its place on the colour wall, and room to say how much of it should be there."""

import re

from django.db import migrations, models

from inventory.calc.colour import family_of, wall_place

FAMILIES = (
    ("natural", "whites and naturals"), ("yellow", "yellows"), ("orange", "oranges"), ("red", "reds and pinks"),
    ("violet", "violets"), ("blue", "blues"), ("green", "greens"), ("brown", "browns"), ("grey", "greys"),
    ("black", "blacks"),
)  # fmt: skip


def hang(apps, schema_editor):
    """Hang what is there; a colour nobody could read stays with the greys, as if none had been said."""
    yarns = apps.get_model("inventory", "Yarn").objects.using(schema_editor.connection.alias)
    for colour in yarns.order_by().values_list("colour", flat=True).distinct():
        if re.fullmatch("#[0-9a-f]{6}", colour):
            yarns.filter(colour=colour).update(colour_family=family_of(colour), wall_place=wall_place(colour))


class Migration(migrations.Migration):
    dependencies = [("inventory", "0004_guards_of_the_ledger")]

    operations = [
        migrations.AddField(
            model_name="yarn",
            name="colour_family",
            field=models.CharField(
                verbose_name="colour family", max_length=7, choices=FAMILIES, db_index=True, default="grey",
                editable=False,
            ),
        ),
        migrations.AddField(
            model_name="yarn",
            name="wall_place",
            field=models.PositiveSmallIntegerField(
                verbose_name="place on the colour wall", db_index=True, default=8375, editable=False
            ),
        ),
        migrations.AddField(
            model_name="yarn",
            name="keep_at_least_text",
            field=models.CharField(verbose_name="keep at least", max_length=60, blank=True),
        ),
        migrations.AddField(
            model_name="yarn",
            name="keep_at_least_ug",
            field=models.BigIntegerField(
                verbose_name="keep at least, in micrograms", null=True, blank=True, editable=False
            ),
        ),
        migrations.RunPython(hang, migrations.RunPython.noop),
    ]  # fmt: skip
