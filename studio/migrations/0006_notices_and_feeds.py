"""Private calendar addresses, notices, and when a reservation was last changed; guarded tables are made anew."""

import django.core.validators
import django.db.models.deletion
import django.utils.timezone
from django.db import migrations, models

from studio.calendar.guards import GUARDS


class Migration(migrations.Migration):
    dependencies = [
        ("studio", "0005_nothing_taken_twice"),
    ]

    operations = [
        migrations.RunPython(GUARDS.down, GUARDS.up),
        migrations.AddField(
            model_name="bookingrules",
            name="queue_days",
            field=models.PositiveSmallIntegerField(
                default=3,
                validators=[django.core.validators.MinValueValidator(1), django.core.validators.MaxValueValidator(99)],
                verbose_name="days a free loom waits for who was told, before the next is told",
            ),
        ),
        migrations.AddField(
            model_name="loomoccupancy",
            name="changed_at",
            field=models.DateTimeField(auto_now=True, verbose_name="last changed"),
        ),
        migrations.AddField(
            model_name="member",
            name="no_mail_for",
            field=models.JSONField(blank=True, default=list, verbose_name="notices not sent by mail"),
        ),
        migrations.AddField(
            model_name="seattime",
            name="changed_at",
            field=models.DateTimeField(auto_now=True, verbose_name="last changed"),
        ),
        migrations.AddField(
            model_name="toolbooking",
            name="changed_at",
            field=models.DateTimeField(auto_now=True, verbose_name="last changed"),
        ),
        migrations.CreateModel(
            name="Feed",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(max_length=64, unique=True, verbose_name="hash of the address")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                ("used_on", models.DateField(blank=True, null=True, verbose_name="last read on")),
                (
                    "loom",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="feeds",
                        to="studio.loom",
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="feeds", to="studio.member"
                    ),
                ),
            ],
            options={
                "verbose_name": "calendar address",
                "verbose_name_plural": "calendar addresses",
                "ordering": ("loom__number", "pk"),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("loom__isnull", True)), fields=("member",), name="feed_of_own_times_once"
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("loom__isnull", False)), fields=("member", "loom"), name="feed_of_loom_once"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Notice",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("ending", "a time is about to end"),
                            ("overdue", "a loom is overdue"),
                            ("free", "a loom I wait for is free"),
                            ("called", "a loom is called back"),
                            ("review", "work on hold is to be looked at"),
                            ("offered", "a loom I wait for is open to take over"),
                            ("taken", "somebody took over my loom"),
                        ],
                        max_length=8,
                        verbose_name="kind",
                    ),
                ),
                ("key", models.CharField(max_length=120, unique=True, verbose_name="what makes it one")),
                ("text", models.CharField(max_length=1000, verbose_name="text")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                ("mailed_at", models.DateTimeField(blank=True, editable=False, null=True, verbose_name="sent by mail")),
                ("read_at", models.DateTimeField(blank=True, editable=False, null=True, verbose_name="seen")),
                (
                    "loom",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="notices", to="studio.loom"
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="notices", to="studio.member"
                    ),
                ),
                (
                    "occupancy",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="notices",
                        to="studio.loomoccupancy",
                    ),
                ),
            ],
            options={
                "ordering": ("-made_at", "-pk"),
                "indexes": [models.Index(fields=["member", "read_at", "-made_at"], name="notices_of_member")],
            },
        ),
        migrations.RunPython(GUARDS.up, GUARDS.down),
    ]
