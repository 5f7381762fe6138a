from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("studio", "0009_where_a_leader_is_fastened"),
    ]

    operations = [
        migrations.AlterField(
            model_name="notice",
            name="kind",
            field=models.CharField(
                choices=[
                    ("ending", "a time is about to end"),
                    ("overdue", "a loom is overdue"),
                    ("free", "a loom I wait for is free"),
                    ("called", "a loom is called back"),
                    ("review", "work on hold is to be looked at"),
                    ("offered", "a loom I wait for is open to take over"),
                    ("taken", "somebody took over my loom"),
                    ("broken", "a loom of mine is out of order"),
                    ("hours", "my hours at a class warp are cancelled"),
                ],
                max_length=8,
                verbose_name="kind",
            ),
        ),
    ]
