"""Looms, people and the calendar, with what the database itself refuses."""

import uuid
from decimal import Decimal

import django.core.validators
import django.db.models.deletion
import django.db.models.expressions
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

import studio.rights
import studio.units
from studio.calendar.guards import GUARDS


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
            name="BookingRules",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "longest_days",
                    models.PositiveSmallIntegerField(
                        default=90,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="longest reservation, days",
                    ),
                ),
                (
                    "ahead_days",
                    models.PositiveSmallIntegerField(
                        default=180,
                        validators=[
                            django.core.validators.MinValueValidator(0),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="how far ahead a reservation may begin, days",
                    ),
                ),
                (
                    "extension_days",
                    models.PositiveSmallIntegerField(
                        default=31,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="longest extension at a time, days",
                    ),
                ),
                (
                    "extension_only_if_nobody_waits",
                    models.BooleanField(default=True, verbose_name="extended only while nobody waits"),
                ),
                (
                    "looms_guest",
                    models.PositiveSmallIntegerField(
                        default=0,
                        validators=[
                            django.core.validators.MinValueValidator(0),
                            django.core.validators.MaxValueValidator(99),
                        ],
                        verbose_name="looms at once, guest or student",
                    ),
                ),
                (
                    "looms_member",
                    models.PositiveSmallIntegerField(
                        default=1,
                        validators=[
                            django.core.validators.MinValueValidator(0),
                            django.core.validators.MaxValueValidator(99),
                        ],
                        verbose_name="looms at once, member",
                    ),
                ),
                (
                    "looms_trained",
                    models.PositiveSmallIntegerField(
                        default=2,
                        validators=[
                            django.core.validators.MinValueValidator(0),
                            django.core.validators.MaxValueValidator(99),
                        ],
                        verbose_name="looms at once, trained member",
                    ),
                ),
                (
                    "looms_teacher",
                    models.PositiveSmallIntegerField(
                        default=6,
                        validators=[
                            django.core.validators.MinValueValidator(0),
                            django.core.validators.MaxValueValidator(99),
                        ],
                        verbose_name="looms at once, teacher",
                    ),
                ),
                (
                    "looms_steward",
                    models.PositiveSmallIntegerField(
                        default=6,
                        validators=[
                            django.core.validators.MinValueValidator(0),
                            django.core.validators.MaxValueValidator(99),
                        ],
                        verbose_name="looms at once, steward",
                    ),
                ),
                (
                    "briefing_for_sectional",
                    models.BooleanField(default=True, verbose_name="a sectional beam needs its safety briefing"),
                ),
                (
                    "briefing_for_stations",
                    models.BooleanField(default=True, verbose_name="stations marked so need their safety briefing"),
                ),
                (
                    "remind_days",
                    models.PositiveSmallIntegerField(
                        default=7,
                        validators=[
                            django.core.validators.MinValueValidator(0),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="reminder before the end, days",
                    ),
                ),
                (
                    "overdue_days",
                    models.PositiveSmallIntegerField(
                        default=30,
                        validators=[
                            django.core.validators.MinValueValidator(0),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="overdue after the end until it may be cut off, days",
                    ),
                ),
                (
                    "hold_days",
                    models.PositiveSmallIntegerField(
                        default=28,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="longest hold before it is looked at again, days",
                    ),
                ),
                (
                    "queue_days",
                    models.PositiveSmallIntegerField(
                        default=3,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(99),
                        ],
                        verbose_name="days a free loom waits for who was told, before the next is told",
                    ),
                ),
                (
                    "seat_hours",
                    models.PositiveSmallIntegerField(
                        default=4,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(24),
                        ],
                        verbose_name="longest time at a class warp, hours",
                    ),
                ),
                (
                    "tool_hours",
                    models.PositiveSmallIntegerField(
                        default=12,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(240),
                        ],
                        verbose_name="longest time at a board or other station, hours",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "booking rules",
                "constraints": [models.CheckConstraint(condition=models.Q(("pk", 1)), name="booking_rules_one_row")],
            },
        ),
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
                        verbose_name="leader, from its hole to its loop",
                    ),
                ),
                (
                    "leader_offset_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="hole of the leader past its bar, along the circumference",
                    ),
                ),
                (
                    "leader_knot_cm",
                    models.DecimalField(
                        decimal_places=6,
                        default=Decimal("0"),
                        max_digits=14,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("100000")),
                        ],
                        verbose_name="knot and loop of the leader, along the circumference",
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
            name="LoomOccupancy",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("note", models.CharField(blank=True, max_length=400, verbose_name="note")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                ("cancelled_at", models.DateTimeField(blank=True, editable=False, null=True, verbose_name="cancelled")),
                (
                    "uid",
                    models.UUIDField(default=uuid.uuid4, editable=False, unique=True, verbose_name="name in calendars"),
                ),
                ("changes", models.PositiveIntegerField(default=0, editable=False, verbose_name="times changed")),
                ("changed_at", models.DateTimeField(auto_now=True, verbose_name="last changed")),
                (
                    "kind",
                    models.CharField(
                        choices=[("warp", "a warp"), ("class", "a class or workshop"), ("out", "out of order")],
                        default="warp",
                        max_length=5,
                        verbose_name="for",
                    ),
                ),
                ("title", models.CharField(max_length=120, verbose_name="work")),
                ("starts_on", models.DateField(verbose_name="first day")),
                ("ends_before", models.DateField(verbose_name="free again on")),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("reserved", "reserved"),
                            ("assigned", "planning and winding"),
                            ("beaming", "beaming"),
                            ("beamed", "beamed"),
                            ("threaded", "threaded"),
                            ("sleyed", "sleyed"),
                            ("weaving", "weaving"),
                            ("hold", "on hold"),
                            ("cut_off", "cut off"),
                            ("checking", "being checked"),
                            ("done", "given back"),
                        ],
                        default="reserved",
                        max_length=8,
                        verbose_name="state",
                    ),
                ),
                (
                    "state_since",
                    models.DateTimeField(
                        default=django.utils.timezone.now, editable=False, verbose_name="in this state since"
                    ),
                ),
                (
                    "held_from",
                    models.CharField(blank=True, editable=False, max_length=8, verbose_name="state before the hold"),
                ),
                ("review_on", models.DateField(blank=True, null=True, verbose_name="look at it again on")),
                ("open_to_take_over", models.BooleanField(default=False, verbose_name="open to take over")),
                (
                    "loom",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="occupancies", to="studio.loom"
                    ),
                ),
                (
                    "taken_over_from",
                    models.OneToOneField(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="handed_to",
                        to="studio.loomoccupancy",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "loom occupancies",
                "ordering": ("starts_on", "loom", "pk"),
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
                ("no_mail_for", models.JSONField(blank=True, default=list, verbose_name="notices not sent by mail")),
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
            name="LoomStep",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("reserved", "reserved"),
                            ("assigned", "planning and winding"),
                            ("beaming", "beaming"),
                            ("beamed", "beamed"),
                            ("threaded", "threaded"),
                            ("sleyed", "sleyed"),
                            ("weaving", "weaving"),
                            ("hold", "on hold"),
                            ("cut_off", "cut off"),
                            ("checking", "being checked"),
                            ("done", "given back"),
                        ],
                        max_length=8,
                        verbose_name="state",
                    ),
                ),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="when"),
                ),
                ("note", models.CharField(blank=True, max_length=400, verbose_name="note")),
                (
                    "occupancy",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="steps", to="studio.loomoccupancy"
                    ),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="by",
                    ),
                ),
            ],
            options={
                "ordering": ("made_at", "pk"),
            },
        ),
        migrations.AddField(
            model_name="loomoccupancy",
            name="called_back_by",
            field=models.ForeignKey(
                blank=True,
                editable=False,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="studio.member",
                verbose_name="called back by",
            ),
        ),
        migrations.AddField(
            model_name="loomoccupancy",
            name="made_by",
            field=models.ForeignKey(
                editable=False,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="studio.member",
                verbose_name="made by",
            ),
        ),
        migrations.AddField(
            model_name="loomoccupancy",
            name="member",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="occupancies",
                to="studio.member",
                verbose_name="who has it",
            ),
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
                    "occupancy",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="checks", to="studio.loomoccupancy"
                    ),
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
            ],
            options={
                "ordering": ("made_at", "pk"),
            },
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
            ],
            options={
                "ordering": ("-noted_at", "-pk"),
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
            name="ApiKey",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=60, verbose_name="what it is for")),
                ("digest", models.CharField(max_length=64, unique=True, verbose_name="hash of the key")),
                ("made_at", models.DateTimeField(auto_now_add=True, verbose_name="made")),
                ("used_on", models.DateField(blank=True, null=True, verbose_name="last used on")),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="keys", to="studio.member"
                    ),
                ),
            ],
            options={
                "verbose_name": "key",
                "ordering": ("-made_at", "-pk"),
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
                            ("broken", "a loom of mine is out of order"),
                            ("hours", "my hours at a class warp are cancelled"),
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
            },
        ),
        migrations.CreateModel(
            name="QueuePlace",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("days", models.PositiveSmallIntegerField(verbose_name="days wanted")),
                ("note", models.CharField(blank=True, max_length=400, verbose_name="note")),
                (
                    "asked_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="asked"),
                ),
                (
                    "told_at",
                    models.DateTimeField(blank=True, editable=False, null=True, verbose_name="told that it is free"),
                ),
                (
                    "left_at",
                    models.DateTimeField(blank=True, editable=False, null=True, verbose_name="left the waiting list"),
                ),
                (
                    "loom",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="queue", to="studio.loom"
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="queue_places",
                        to="studio.member",
                        verbose_name="who waits",
                    ),
                ),
            ],
            options={
                "ordering": ("asked_at", "pk"),
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
            name="SeatTime",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("note", models.CharField(blank=True, max_length=400, verbose_name="note")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                ("cancelled_at", models.DateTimeField(blank=True, editable=False, null=True, verbose_name="cancelled")),
                (
                    "uid",
                    models.UUIDField(default=uuid.uuid4, editable=False, unique=True, verbose_name="name in calendars"),
                ),
                ("changes", models.PositiveIntegerField(default=0, editable=False, verbose_name="times changed")),
                ("changed_at", models.DateTimeField(auto_now=True, verbose_name="last changed")),
                ("starts_at", models.DateTimeField(verbose_name="from")),
                ("ends_at", models.DateTimeField(verbose_name="until")),
                (
                    "made_by",
                    models.ForeignKey(
                        editable=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="made by",
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="seat_times",
                        to="studio.member",
                        verbose_name="who weaves",
                    ),
                ),
                (
                    "occupancy",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="seats", to="studio.loomoccupancy"
                    ),
                ),
            ],
            options={
                "ordering": ("starts_at", "pk"),
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
                        verbose_name="working sett, share of the maximum",
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
        migrations.CreateModel(
            name="ToolBooking",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("note", models.CharField(blank=True, max_length=400, verbose_name="note")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                ("cancelled_at", models.DateTimeField(blank=True, editable=False, null=True, verbose_name="cancelled")),
                (
                    "uid",
                    models.UUIDField(default=uuid.uuid4, editable=False, unique=True, verbose_name="name in calendars"),
                ),
                ("changes", models.PositiveIntegerField(default=0, editable=False, verbose_name="times changed")),
                ("changed_at", models.DateTimeField(auto_now=True, verbose_name="last changed")),
                ("starts_at", models.DateTimeField(verbose_name="from")),
                ("ends_at", models.DateTimeField(verbose_name="until")),
                (
                    "made_by",
                    models.ForeignKey(
                        editable=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="made by",
                    ),
                ),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="tool_bookings",
                        to="studio.member",
                        verbose_name="who has it",
                    ),
                ),
                (
                    "occupancy",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="tools",
                        to="studio.loomoccupancy",
                        verbose_name="reserved with",
                    ),
                ),
                (
                    "reed",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="bookings",
                        to="studio.reed",
                    ),
                ),
                (
                    "station",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="bookings",
                        to="studio.station",
                    ),
                ),
            ],
            options={
                "ordering": ("starts_at", "pk"),
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
        migrations.CreateModel(
            name="WrongPasswords",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=64, unique=True, verbose_name="user name and address, hashed")),
                ("times", models.PositiveIntegerField(default=0, verbose_name="times")),
                ("last_at", models.DateTimeField(verbose_name="last one")),
            ],
            options={
                "verbose_name_plural": "wrong passwords",
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("times__gt", 0)), name="wrong_passwords_some")
                ],
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
                condition=models.Q(("circumference_cm__gte", Decimal("9.99"))),
                name="beam_is_no_stick",
                violation_error_message="No warp beam is less than 10 cm (4 in) in circumference; check the number and its unit.",
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
                        ("pitch_cm__gte", Decimal("0.49")),
                        ("rake_height_cm__gt", 0),
                        (
                            "rake_height_cm__lte",
                            django.db.models.expressions.CombinedExpression(
                                django.db.models.expressions.CombinedExpression(
                                    models.F("circumference_cm"), "*", models.Value(Decimal("0.5"))
                                ),
                                "+",
                                models.Value(Decimal("0.01")),
                            ),
                        ),
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
                violation_error_message="The sections or their rakes do not fit on this beam.",
            ),
        ),
        migrations.AddIndex(
            model_name="loomoccupancy",
            index=models.Index(fields=["loom", "ends_before", "starts_on"], name="occupancy_of_loom"),
        ),
        migrations.AddIndex(
            model_name="loomoccupancy",
            index=models.Index(fields=["member", "ends_before"], name="occupancy_of_member"),
        ),
        migrations.AddIndex(
            model_name="loomoccupancy",
            index=models.Index(fields=["ends_before", "starts_on"], name="occupancy_by_day"),
        ),
        migrations.AddIndex(
            model_name="loomoccupancy",
            index=models.Index(fields=["state", "ends_before"], name="occupancy_by_state"),
        ),
        migrations.AddConstraint(
            model_name="loomoccupancy",
            constraint=models.CheckConstraint(
                condition=models.Q(("ends_before__gt", models.F("starts_on"))),
                name="occupancy_ends_after_it_starts",
                violation_error_message="The last day comes before the first.",
            ),
        ),
        migrations.AddConstraint(
            model_name="loomoccupancy",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(
                        ("review_on__isnull", False), ("state", "hold"), models.Q(("held_from", ""), _negated=True)
                    ),
                    models.Q(models.Q(("state", "hold"), _negated=True), ("held_from", "")),
                    _connector="OR",
                ),
                name="occupancy_on_hold_has_a_review_date",
            ),
        ),
        migrations.AddConstraint(
            model_name="loomcheck",
            constraint=models.UniqueConstraint(fields=("occupancy", "moment"), name="check_once_at_each_end"),
        ),
        migrations.AddConstraint(
            model_name="feed",
            constraint=models.UniqueConstraint(
                condition=models.Q(("loom__isnull", True)), fields=("member",), name="feed_of_own_times_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="feed",
            constraint=models.UniqueConstraint(
                condition=models.Q(("loom__isnull", False)), fields=("member", "loom"), name="feed_of_loom_once"
            ),
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
            model_name="briefing",
            constraint=models.UniqueConstraint(fields=("member", "tool"), name="briefing_once_per_tool"),
        ),
        migrations.AddConstraint(
            model_name="beamround",
            constraint=models.CheckConstraint(
                condition=models.Q(("circumference_cm__gte", Decimal("9.99"))),
                name="round_is_no_stick",
                violation_error_message="No warp beam is less than 10 cm (4 in) in circumference; check the number and its unit.",
            ),
        ),
        migrations.AddIndex(
            model_name="notice",
            index=models.Index(fields=["member", "read_at", "-made_at"], name="notices_of_member"),
        ),
        migrations.AddConstraint(
            model_name="queueplace",
            constraint=models.CheckConstraint(condition=models.Q(("days__gt", 0)), name="queue_wants_some_days"),
        ),
        migrations.AddConstraint(
            model_name="queueplace",
            constraint=models.UniqueConstraint(
                condition=models.Q(("left_at__isnull", True)),
                fields=("loom", "member"),
                name="queue_once_per_loom",
                violation_error_message="You wait for this loom already.",
            ),
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
        migrations.AddIndex(
            model_name="seattime",
            index=models.Index(fields=["occupancy", "starts_at"], name="seat_of_warp"),
        ),
        migrations.AddConstraint(
            model_name="seattime",
            constraint=models.CheckConstraint(
                condition=models.Q(("ends_at__gt", models.F("starts_at"))),
                name="seat_ends_after_it_starts",
                violation_error_message="It ends before it begins.",
            ),
        ),
        migrations.AddIndex(
            model_name="toolbooking",
            index=models.Index(fields=["station", "starts_at"], name="booking_of_station"),
        ),
        migrations.AddIndex(
            model_name="toolbooking",
            index=models.Index(fields=["reed", "starts_at"], name="booking_of_reed"),
        ),
        migrations.AddConstraint(
            model_name="toolbooking",
            constraint=models.CheckConstraint(
                condition=models.Q(("ends_at__gt", models.F("starts_at"))),
                name="booking_ends_after_it_starts",
                violation_error_message="It ends before it begins.",
            ),
        ),
        migrations.AddConstraint(
            model_name="toolbooking",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("reed__isnull", False), ("station__isnull", True)),
                    models.Q(("reed__isnull", True), ("station__isnull", False)),
                    _connector="OR",
                ),
                name="booking_is_of_one_tool",
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
        migrations.RunPython(GUARDS.up, GUARDS.down),
    ]
