"""Warps, their cards, yarn and calibrations."""

from decimal import Decimal

import django.core.validators
import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("inventory", "0001_yarn_room_and_ledger"),
        ("studio", "0001_looms_people_and_calendar"),
    ]

    operations = [
        migrations.CreateModel(
            name="Project",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("title", models.CharField(max_length=120, verbose_name="title")),
                (
                    "digest",
                    models.CharField(blank=True, max_length=64, verbose_name="digest of what the plan says to do"),
                ),
                ("words", models.TextField(blank=True, editable=False, verbose_name="yarns, to search by")),
                ("version", models.PositiveIntegerField(default=1, verbose_name="version")),
                ("ends", models.PositiveIntegerField(blank=True, null=True, verbose_name="ends")),
                (
                    "width_in_reed_cm",
                    models.DecimalField(
                        blank=True, decimal_places=6, max_digits=14, null=True, verbose_name="width in reed"
                    ),
                ),
                (
                    "warp_length_cm",
                    models.DecimalField(
                        blank=True, decimal_places=6, max_digits=14, null=True, verbose_name="warp length"
                    ),
                ),
                ("created_at", models.DateTimeField(auto_now_add=True, verbose_name="started")),
                ("changed_at", models.DateTimeField(auto_now=True, verbose_name="changed")),
                ("archived", models.BooleanField(default=False, verbose_name="put away")),
                ("typed", models.JSONField(default=dict, verbose_name="brief as typed")),
                ("complete", models.JSONField(blank=True, null=True, verbose_name="complete brief")),
                (
                    "beam",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="projects",
                        to="studio.beam",
                    ),
                ),
                (
                    "copied_from",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="copies",
                        to="planner.project",
                    ),
                ),
                (
                    "loom",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="projects",
                        to="studio.loom",
                    ),
                ),
                (
                    "owner",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="projects", to="studio.member"
                    ),
                ),
                (
                    "reservation",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="warps",
                        to="studio.loomoccupancy",
                    ),
                ),
                (
                    "set_aside",
                    models.OneToOneField(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="warp",
                        to="inventory.setaside",
                    ),
                ),
            ],
            options={
                "verbose_name": "warp",
                "ordering": ("-changed_at", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="IssuedCard",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("number", models.PositiveIntegerField(unique=True, verbose_name="card number")),
                ("version", models.PositiveIntegerField(verbose_name="version of the brief")),
                ("digest", models.CharField(max_length=64, verbose_name="digest of what the card says to do")),
                ("loom_name", models.CharField(max_length=120, verbose_name="loom as printed")),
                ("brief", models.JSONField(verbose_name="complete brief")),
                ("plan", models.JSONField(verbose_name="plan as printed")),
                ("units", models.CharField(max_length=6, verbose_name="measures")),
                ("paper", models.CharField(max_length=6, verbose_name="paper")),
                ("html", models.TextField(verbose_name="print page")),
                ("pdf", models.BinaryField(null=True, verbose_name="PDF")),
                ("issued_at", models.DateTimeField(auto_now_add=True, verbose_name="issued")),
                (
                    "beam",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="cards", to="studio.beam"
                    ),
                ),
                (
                    "issued_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="cards", to="studio.member"
                    ),
                ),
                (
                    "project",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="cards", to="planner.project"
                    ),
                ),
            ],
            options={
                "ordering": ("-number",),
            },
        ),
        migrations.CreateModel(
            name="Wanted",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("yarn_name", models.CharField(max_length=200, verbose_name="yarn")),
                ("grist", models.CharField(max_length=200, verbose_name="fineness, exact")),
                (
                    "mass_ug",
                    models.BigIntegerField(
                        validators=[django.core.validators.MinValueValidator(1)],
                        verbose_name="asked for, in micrograms",
                    ),
                ),
                (
                    "needed_ug",
                    models.BigIntegerField(
                        validators=[django.core.validators.MinValueValidator(0)],
                        verbose_name="needed in all, in micrograms",
                    ),
                ),
                ("expected_on", models.DateField(blank=True, null=True, verbose_name="expected on")),
                ("note", models.CharField(blank=True, max_length=200, verbose_name="note")),
                (
                    "state",
                    models.CharField(
                        choices=[("wanted", "wanted"), ("ordered", "ordered"), ("come", "come")],
                        default="wanted",
                        max_length=7,
                        verbose_name="state",
                    ),
                ),
                ("asked_at", models.DateTimeField(auto_now_add=True, verbose_name="asked")),
                ("changed_at", models.DateTimeField(auto_now=True, verbose_name="changed")),
                (
                    "asked_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="yarn_wanted", to="studio.member"
                    ),
                ),
                (
                    "changed_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="yarn_wanted_changed",
                        to="studio.member",
                    ),
                ),
                (
                    "project",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="wanted", to="planner.project"
                    ),
                ),
                (
                    "yarn",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="wanted",
                        to="inventory.yarn",
                    ),
                ),
            ],
            options={
                "verbose_name": "wanted yarn",
                "verbose_name_plural": "wanted yarn",
                "ordering": ("yarn_name", "asked_at", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Calibration",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("yarn_name", models.CharField(max_length=80, verbose_name="yarn")),
                ("fibre", models.CharField(max_length=10, verbose_name="fibre")),
                ("grist", models.CharField(max_length=80, verbose_name="fineness, exact")),
                (
                    "ends",
                    models.PositiveIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(10000),
                        ],
                        verbose_name="ends taped",
                    ),
                ),
                (
                    "width_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="width they lie on",
                    ),
                ),
                (
                    "turns",
                    models.PositiveIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(10000),
                        ],
                        verbose_name="turns wound between",
                    ),
                ),
                (
                    "start_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="round before",
                    ),
                ),
                (
                    "end_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="round after",
                    ),
                ),
                (
                    "tape_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="tape wrong by at most",
                    ),
                ),
                ("measured_on", models.DateField(verbose_name="measured on")),
                ("note", models.CharField(blank=True, max_length=200, verbose_name="note")),
                (
                    "beam",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="calibrations", to="studio.beam"
                    ),
                ),
                (
                    "measured_by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="calibrations",
                        to="studio.member",
                    ),
                ),
            ],
            options={
                "ordering": ("-measured_on", "-pk"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("end_cm__gt", models.F("start_cm"))),
                        name="calibration_grows",
                        violation_error_message="The circumference after winding must be larger than before.",
                    )
                ],
            },
        ),
        migrations.AddIndex(
            model_name="project",
            index=models.Index(fields=["owner", "archived", "-changed_at", "-id"], name="project_of_owner"),
        ),
        migrations.AddIndex(
            model_name="project",
            index=models.Index(fields=["archived", "-changed_at", "-id"], name="project_of_all"),
        ),
        migrations.AddIndex(
            model_name="project",
            index=models.Index(fields=["-changed_at", "-id"], name="project_changed"),
        ),
        migrations.AddConstraint(
            model_name="issuedcard",
            constraint=models.CheckConstraint(condition=models.Q(("number__gt", 0)), name="card_number_above_zero"),
        ),
        migrations.AddConstraint(
            model_name="wanted",
            constraint=models.CheckConstraint(
                condition=models.Q(("mass_ug__gt", 0), ("needed_ug__gte", 0)), name="wanted_is_something"
            ),
        ),
        migrations.AddConstraint(
            model_name="wanted",
            constraint=models.UniqueConstraint(
                condition=models.Q(("state", "come"), _negated=True),
                fields=("project", "yarn_name", "grist"),
                name="wanted_once_by_a_warp",
                violation_error_message="This yarn is on the wanted list for this warp already.",
            ),
        ),
    ]
