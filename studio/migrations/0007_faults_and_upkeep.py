"""Lists to look a loom over by, faults, and upkeep that comes round."""

import django.core.validators
import django.db.models.deletion
import django.utils.timezone
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("studio", "0006_notices_and_feeds"),
    ]

    operations = [
        migrations.CreateModel(
            name="CheckPoint",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "moment",
                    models.CharField(
                        choices=[("begin", "when the work begins"), ("end", "when the loom is given back")],
                        max_length=5,
                        verbose_name="asked",
                    ),
                ),
                ("text", models.CharField(max_length=160, verbose_name="what to look at")),
                (
                    "place",
                    models.PositiveSmallIntegerField(
                        default=1,
                        validators=[django.core.validators.MaxValueValidator(999)],
                        verbose_name="place in the list",
                    ),
                ),
                ("retired", models.BooleanField(default=False, verbose_name="no longer asked")),
            ],
            options={
                "ordering": ("moment", "place", "pk"),
                "constraints": [
                    models.UniqueConstraint(
                        fields=("moment", "text"),
                        name="check_point_once",
                        violation_error_message="This point is on the list already.",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="LoomCheck",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "moment",
                    models.CharField(
                        choices=[("begin", "when the work begins"), ("end", "when the loom is given back")],
                        max_length=5,
                        verbose_name="filled in",
                    ),
                ),
                ("answers", models.JSONField(default=list, editable=False, verbose_name="points looked at")),
                ("note", models.CharField(blank=True, max_length=400, verbose_name="note")),
                ("photo", models.CharField(blank=True, editable=False, max_length=40, verbose_name="photo")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="when"),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        editable=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="by",
                    ),
                ),
                (
                    "occupancy",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="checks", to="studio.loomoccupancy"
                    ),
                ),
            ],
            options={
                "ordering": ("made_at", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Fault",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("text", models.CharField(max_length=400, verbose_name="what is wrong")),
                ("photo", models.CharField(blank=True, editable=False, max_length=40, verbose_name="photo")),
                (
                    "noted_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="noted"),
                ),
                ("mended_on", models.DateField(blank=True, null=True, verbose_name="mended on")),
                ("mended_how", models.CharField(blank=True, max_length=400, verbose_name="how it was mended")),
                (
                    "loom",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="faults", to="studio.loom"
                    ),
                ),
                (
                    "mended_by",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="mended by",
                    ),
                ),
                (
                    "noted_by",
                    models.ForeignKey(
                        editable=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="noted by",
                    ),
                ),
                (
                    "found_in",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="faults",
                        to="studio.loomcheck",
                    ),
                ),
            ],
            options={
                "ordering": ("-noted_at", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="UpkeepJob",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("text", models.CharField(max_length=160, verbose_name="what is done")),
                (
                    "every_days",
                    models.PositiveSmallIntegerField(
                        blank=True,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(3650),
                        ],
                        verbose_name="every so many days",
                    ),
                ),
                ("retired", models.BooleanField(default=False, verbose_name="no longer done")),
                (
                    "loom",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="jobs", to="studio.loom"
                    ),
                ),
            ],
            options={
                "ordering": ("loom", "pk"),
            },
        ),
        migrations.CreateModel(
            name="UpkeepDone",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("done_on", models.DateField(verbose_name="done on")),
                ("note", models.CharField(blank=True, max_length=400, verbose_name="note")),
                (
                    "done_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="done by",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="done", to="studio.upkeepjob"
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "upkeep done",
                "ordering": ("-done_on", "-pk"),
            },
        ),
        migrations.AddConstraint(
            model_name="loomcheck",
            constraint=models.UniqueConstraint(fields=("occupancy", "moment"), name="check_once_at_each_end"),
        ),
        migrations.AddIndex(
            model_name="fault",
            index=models.Index(fields=["loom", "mended_on"], name="faults_of_loom"),
        ),
        migrations.AddConstraint(
            model_name="fault",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("mended_by__isnull", True), ("mended_on__isnull", True)),
                    models.Q(("mended_by__isnull", False), ("mended_on__isnull", False)),
                    _connector="OR",
                ),
                name="fault_mended_by_somebody",
            ),
        ),
        migrations.AddConstraint(
            model_name="upkeepjob",
            constraint=models.UniqueConstraint(
                fields=("loom", "text"),
                name="upkeep_job_once_per_loom",
                violation_error_message="This loom has that job already.",
            ),
        ),
        migrations.AddIndex(
            model_name="upkeepdone",
            index=models.Index(fields=["job", "-done_on"], name="upkeep_done_of_job"),
        ),
    ]
