from decimal import Decimal

import django.core.validators
import django.db.models.deletion
import django.db.models.expressions
from django.conf import settings
from django.db import migrations, models

import studio.rights
import studio.units


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Station",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("board", "warping board"),
                            ("mill", "warping mill"),
                            ("box", "tension box"),
                            ("rack", "spool rack"),
                            ("raddle", "raddle"),
                            ("winder", "winder"),
                            ("scale", "scale"),
                            ("table", "table"),
                        ],
                        max_length=8,
                        verbose_name="kind",
                    ),
                ),
                (
                    "name",
                    models.CharField(
                        error_messages={"unique": "Another station has this name."},
                        max_length=60,
                        unique=True,
                        verbose_name="name",
                    ),
                ),
                (
                    "path_longest_cm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="longest path",
                    ),
                ),
                (
                    "path_step_cm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="paths change by",
                    ),
                ),
                (
                    "ends_at_once",
                    models.PositiveSmallIntegerField(
                        blank=True,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="ends wound at once",
                    ),
                ),
                (
                    "rack_spools",
                    models.PositiveSmallIntegerField(
                        blank=True,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="spools on the rack",
                    ),
                ),
                (
                    "comb_dents",
                    models.DecimalField(
                        blank=True,
                        decimal_places=3,
                        max_digits=8,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal("0.000001"))],
                        verbose_name="dents of the comb",
                    ),
                ),
                (
                    "comb_per",
                    models.CharField(
                        choices=[("in", "to the inch"), ("cm", "to the cm"), ("10cm", "to 10 cm")],
                        default="in",
                        max_length=4,
                        verbose_name="counted",
                    ),
                ),
                (
                    "raddle_space_cm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="raddle space",
                    ),
                ),
                ("training_needed", models.BooleanField(default=False, verbose_name="only after a safety briefing")),
                ("notes", models.TextField(blank=True, max_length=4000, verbose_name="notes")),
                ("retired", models.BooleanField(default=False, verbose_name="no longer in use")),
            ],
            options={
                "ordering": ("kind", "name"),
            },
        ),
        migrations.CreateModel(
            name="Loom",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "number",
                    models.PositiveSmallIntegerField(
                        error_messages={"unique": "This number hangs on another loom."},
                        unique=True,
                        validators=[django.core.validators.MaxValueValidator(9999)],
                        verbose_name="loom number",
                    ),
                ),
                (
                    "nickname",
                    models.CharField(
                        error_messages={"unique": "Another loom has this nickname."},
                        max_length=60,
                        unique=True,
                        verbose_name="nickname",
                    ),
                ),
                (
                    "weaving_width_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="weaving width",
                    ),
                ),
                (
                    "shafts",
                    models.PositiveSmallIntegerField(
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(64),
                        ],
                        verbose_name="shafts",
                    ),
                ),
                (
                    "treadles",
                    models.PositiveSmallIntegerField(
                        default=0, validators=[django.core.validators.MaxValueValidator(64)], verbose_name="treadles"
                    ),
                ),
                ("heddles", models.JSONField(blank=True, default=list, verbose_name="heddles on each shaft")),
                (
                    "waste_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("91.44"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="loom waste",
                    ),
                ),
                ("notes", models.TextField(blank=True, max_length=4000, verbose_name="notes")),
                ("retired", models.BooleanField(default=False, verbose_name="no longer in use")),
            ],
            options={
                "ordering": ("number",),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("weaving_width_cm__gt", 0)), name="loom_weaving_width_above_zero"
                    ),
                    models.CheckConstraint(condition=models.Q(("waste_cm__gte", 0)), name="loom_waste_not_negative"),
                ],
            },
        ),
        migrations.CreateModel(
            name="Beam",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(default="warp beam", max_length=40, verbose_name="name")),
                (
                    "kind",
                    models.CharField(
                        choices=[("plain", "plain"), ("sectional", "sectional")],
                        default="sectional",
                        max_length=10,
                        verbose_name="kind",
                    ),
                ),
                (
                    "circumference_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="circumference, empty",
                    ),
                ),
                (
                    "usable_width_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="usable width",
                    ),
                ),
                (
                    "pitch_cm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="section width",
                    ),
                ),
                (
                    "divider_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="thickness of a divider",
                    ),
                ),
                (
                    "sections",
                    models.PositiveSmallIntegerField(
                        default=0,
                        validators=[django.core.validators.MaxValueValidator(400)],
                        verbose_name="number of sections",
                    ),
                ),
                (
                    "centre",
                    models.CharField(
                        choices=[("divider", "a divider"), ("section", "a section")],
                        default="divider",
                        max_length=8,
                        verbose_name="at the middle",
                    ),
                ),
                (
                    "rake_height_cm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="rake height above the bar",
                    ),
                ),
                (
                    "bars",
                    models.PositiveSmallIntegerField(
                        default=4, validators=[django.core.validators.MaxValueValidator(24)], verbose_name="bars"
                    ),
                ),
                (
                    "leader_cm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="leader, bar to loop",
                    ),
                ),
                (
                    "turning",
                    models.CharField(
                        choices=[("over", "over the top"), ("under", "from under")],
                        default="over",
                        max_length=6,
                        verbose_name="warp leaves the beam",
                    ),
                ),
                (
                    "clockwise",
                    models.BooleanField(default=True, verbose_name="winds clockwise, seen from the crank side"),
                ),
                (
                    "loom",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="beams", to="studio.loom"
                    ),
                ),
            ],
            options={
                "ordering": ("loom", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Member",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=60, verbose_name="name shown")),
                (
                    "role",
                    models.CharField(
                        choices=[
                            ("guest", "guest or student"),
                            ("member", "member"),
                            ("trained", "trained member"),
                            ("teacher", "teacher"),
                            ("steward", "steward"),
                        ],
                        default=studio.rights.Role["MEMBER"],
                        max_length=8,
                        verbose_name="role",
                    ),
                ),
                (
                    "units",
                    models.CharField(
                        choices=[("inch", "inches, yards, ounces"), ("metric", "centimetres, metres, grams")],
                        default=studio.units.Units["INCH"],
                        max_length=6,
                        verbose_name="measures",
                    ),
                ),
                (
                    "paper",
                    models.CharField(
                        choices=[("A4", "A4"), ("Letter", "Letter")], default="A4", max_length=6, verbose_name="paper"
                    ),
                ),
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE, related_name="member", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
            options={
                "ordering": ("name",),
            },
        ),
        migrations.CreateModel(
            name="Briefing",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "tool",
                    models.CharField(
                        choices=[
                            ("sectional", "sectional beam, crank and brake"),
                            ("box", "tension box and rack"),
                            ("mill", "warping mill"),
                            ("winder", "electric winder"),
                        ],
                        max_length=10,
                        verbose_name="tool",
                    ),
                ),
                ("done_on", models.DateField(verbose_name="done on")),
                (
                    "given_by",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to="studio.member"
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="briefings", to="studio.member"
                    ),
                ),
            ],
            options={
                "ordering": ("-done_on", "tool"),
            },
        ),
        migrations.CreateModel(
            name="BeamRound",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "circumference_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="circumference, empty",
                    ),
                ),
                ("measured_on", models.DateField(verbose_name="measured on")),
                ("note", models.CharField(blank=True, max_length=200, verbose_name="note")),
                (
                    "beam",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="rounds", to="studio.beam"
                    ),
                ),
                (
                    "measured_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="beam_rounds",
                        to="studio.member",
                    ),
                ),
            ],
            options={
                "ordering": ("-measured_on", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="Reed",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "dents",
                    models.DecimalField(
                        decimal_places=3,
                        max_digits=8,
                        validators=[django.core.validators.MinValueValidator(Decimal("0.000001"))],
                        verbose_name="dents",
                    ),
                ),
                (
                    "per",
                    models.CharField(
                        choices=[("in", "to the inch"), ("cm", "to the cm"), ("10cm", "to 10 cm")],
                        default="in",
                        max_length=4,
                        verbose_name="counted",
                    ),
                ),
                (
                    "reed_length_cm",
                    models.DecimalField(
                        decimal_places=6,
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="reed length",
                    ),
                ),
                (
                    "reed_height_cm",
                    models.DecimalField(
                        blank=True,
                        decimal_places=6,
                        max_digits=14,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="reed height",
                    ),
                ),
                ("mark", models.CharField(blank=True, max_length=40, verbose_name="mark on the reed")),
                ("retired", models.BooleanField(default=False, verbose_name="no longer in use")),
                (
                    "kept_with",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="own_reeds",
                        to="studio.loom",
                        verbose_name="kept with loom",
                    ),
                ),
            ],
            options={
                "ordering": ("per", "dents", "pk"),
            },
        ),
        migrations.CreateModel(
            name="StudioRules",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "name",
                    models.CharField(default="Our weaving room", max_length=80, verbose_name="name of the studio"),
                ),
                (
                    "units",
                    models.CharField(
                        choices=[("inch", "inches, yards, ounces"), ("metric", "centimetres, metres, grams")],
                        default=studio.units.Units["INCH"],
                        max_length=6,
                        verbose_name="measures of the house",
                    ),
                ),
                (
                    "local_rules",
                    models.TextField(blank=True, max_length=300, verbose_name="local safety rules, printed on cards"),
                ),
                (
                    "mismatch_note",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0.003"),
                        max_digits=8,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("0.9")),
                        ],
                        verbose_name="length difference between sections: note at",
                    ),
                ),
                (
                    "mismatch_warn",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0.005"),
                        max_digits=8,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("0.9")),
                        ],
                        verbose_name="length difference between sections: warn at",
                    ),
                ),
                (
                    "mismatch_stop",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0.01"),
                        max_digits=8,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("0.9")),
                        ],
                        verbose_name="length difference between sections: never silent at",
                    ),
                ),
                (
                    "sett_error",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0.02"),
                        max_digits=8,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("0.9")),
                        ],
                        verbose_name="sett error still called good",
                    ),
                ),
                (
                    "sett_share",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0.8"),
                        max_digits=8,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("0.9")),
                        ],
                        verbose_name="working sett, share of the greatest",
                    ),
                ),
                (
                    "rake_clearance_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0.635"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="rake kept clear above the yarn",
                    ),
                ),
                (
                    "section_waste_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("45.72"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="yarn lost per end and section",
                    ),
                ),
                (
                    "box_lead_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("228.6"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="box lead lost per end and re-thread",
                    ),
                ),
                (
                    "spool_reserve",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0.03"),
                        max_digits=8,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("0.9")),
                        ],
                        verbose_name="more yarn on each spool",
                    ),
                ),
                (
                    "spool_step_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("457.2"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="spools are wound in steps of",
                    ),
                ),
                (
                    "tie_every_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("91.44"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.000001")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="choke ties every",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "studio rules",
                "constraints": [models.CheckConstraint(condition=models.Q(("pk", 1)), name="studio_rules_one_row")],
            },
        ),
        migrations.AddConstraint(
            model_name="beam",
            constraint=models.UniqueConstraint(
                fields=("loom", "name"),
                name="beam_name_once_per_loom",
                violation_error_message="This loom already has a beam of that name.",
            ),
        ),
        migrations.AddConstraint(
            model_name="beam",
            constraint=models.CheckConstraint(
                condition=models.Q(("circumference_cm__gt", 0)), name="beam_circumference_above_zero"
            ),
        ),
        migrations.AddConstraint(
            model_name="beam",
            constraint=models.CheckConstraint(
                condition=models.Q(("usable_width_cm__gt", 0)), name="beam_usable_width_above_zero"
            ),
        ),
        migrations.AddConstraint(
            model_name="beam",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("kind", "plain"),
                    models.Q(
                        ("pitch_cm__gt", 0),
                        ("rake_height_cm__gt", 0),
                        ("sections__gt", 0),
                        (
                            "usable_width_cm__gte",
                            django.db.models.expressions.CombinedExpression(
                                django.db.models.expressions.CombinedExpression(
                                    models.F("pitch_cm"), "*", models.F("sections")
                                ),
                                "-",
                                models.Value(Decimal("0.01")),
                            ),
                        ),
                    ),
                    _connector="OR",
                ),
                name="beam_sections_fit",
                violation_error_message="The sections do not fit on this beam.",
            ),
        ),
        migrations.AddConstraint(
            model_name="briefing",
            constraint=models.UniqueConstraint(fields=("member", "tool"), name="briefing_once_per_tool"),
        ),
        migrations.AddConstraint(
            model_name="beamround",
            constraint=models.CheckConstraint(condition=models.Q(("circumference_cm__gt", 0)), name="round_above_zero"),
        ),
        migrations.AddConstraint(
            model_name="reed",
            constraint=models.CheckConstraint(condition=models.Q(("dents__gt", 0)), name="reed_dents_above_zero"),
        ),
        migrations.AddConstraint(
            model_name="reed",
            constraint=models.CheckConstraint(
                condition=models.Q(("reed_length_cm__gt", 0)), name="reed_length_above_zero"
            ),
        ),
    ]
