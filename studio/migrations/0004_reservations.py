import uuid

import django.core.validators
import django.db.models.deletion
import django.utils.timezone
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("studio", "0003_keys_for_other_programs"),
    ]

    operations = [
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
                    "called_back_by",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="called back by",
                    ),
                ),
                (
                    "loom",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="occupancies", to="studio.loom"
                    ),
                ),
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
                        related_name="occupancies",
                        to="studio.member",
                        verbose_name="who has it",
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
                    "made_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="by",
                    ),
                ),
                (
                    "occupancy",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="steps", to="studio.loomoccupancy"
                    ),
                ),
            ],
            options={
                "ordering": ("made_at", "pk"),
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
                ("left_at", models.DateTimeField(blank=True, editable=False, null=True, verbose_name="left the queue")),
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
                        verbose_name="along with",
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
    ]
