"""The yarn room and its ledger, with what the database itself refuses."""

from decimal import Decimal

import django.core.validators
import django.db.models.deletion
import django.db.models.functions.text
import django.utils.timezone
from django.db import migrations, models

from inventory.ledger.guards import GUARDS


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("studio", "0001_looms_people_and_calendar"),
    ]

    operations = [
        migrations.CreateModel(
            name="Package",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("cone", "cone"),
                            ("tube", "tube"),
                            ("spool", "spool"),
                            ("skein", "skein"),
                            ("ball", "ball"),
                            ("pirn", "pirn"),
                        ],
                        default="cone",
                        max_length=6,
                        verbose_name="kind of package",
                    ),
                ),
                ("gross_text", models.CharField(blank=True, max_length=60, verbose_name="gross weight")),
                ("tare_text", models.CharField(blank=True, max_length=60, verbose_name="tare")),
                (
                    "gross_g",
                    models.DecimalField(
                        decimal_places=12,
                        editable=False,
                        max_digits=20,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("1000000")),
                        ],
                        verbose_name="gross weight in grams",
                    ),
                ),
                (
                    "tare_g",
                    models.DecimalField(
                        decimal_places=12,
                        default=Decimal("0"),
                        editable=False,
                        max_digits=20,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("1000000")),
                        ],
                        verbose_name="tare in grams",
                    ),
                ),
                (
                    "on_hand_ug",
                    models.BigIntegerField(default=0, editable=False, verbose_name="yarn on hand, in micrograms"),
                ),
                (
                    "promised_ug",
                    models.BigIntegerField(default=0, editable=False, verbose_name="promised of it, in micrograms"),
                ),
                ("quarantined", models.BooleanField(default=False, editable=False, verbose_name="in quarantine")),
                ("dye_lot", models.CharField(blank=True, max_length=40, verbose_name="dye lot")),
                ("bin_name", models.CharField(blank=True, max_length=40, verbose_name="bin")),
                (
                    "source",
                    models.CharField(
                        choices=[
                            ("bought", "bought"),
                            ("donated", "donated"),
                            ("left_over", "left over"),
                            ("other", "other or not known"),
                        ],
                        default="bought",
                        max_length=9,
                        verbose_name="where it came from",
                    ),
                ),
                ("received_on", models.DateField(blank=True, null=True, verbose_name="received on")),
                ("notes", models.CharField(blank=True, max_length=200, verbose_name="notes")),
                (
                    "owner",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="yarn_packages",
                        to="studio.member",
                        verbose_name="belongs to",
                    ),
                ),
            ],
            options={
                "ordering": ("yarn", "dye_lot", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Photo",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=32, unique=True, verbose_name="random name")),
                ("width", models.PositiveSmallIntegerField(verbose_name="width in pixels")),
                ("height", models.PositiveSmallIntegerField(verbose_name="height in pixels")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                    ),
                ),
            ],
            options={
                "ordering": ("-pk",),
            },
        ),
        migrations.CreateModel(
            name="PackagePhoto",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "package",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="pictured", to="inventory.package"
                    ),
                ),
                (
                    "photo",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="of_packages", to="inventory.photo"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="SetAside",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("title", models.CharField(max_length=120, verbose_name="work")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                ("closed_at", models.DateTimeField(blank=True, editable=False, null=True, verbose_name="closed")),
                (
                    "for_member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="set_asides",
                        to="studio.member",
                        verbose_name="for",
                    ),
                ),
            ],
            options={
                "verbose_name": "set-aside",
                "ordering": ("-made_at", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="Stamp",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("stamp", models.CharField(max_length=32, unique=True, verbose_name="stamp of the form")),
                ("said", models.TextField(verbose_name="what was said of it")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to="studio.member"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Tare",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("cone", "cone"),
                            ("tube", "tube"),
                            ("spool", "spool"),
                            ("skein", "skein"),
                            ("ball", "ball"),
                            ("pirn", "pirn"),
                        ],
                        default="cone",
                        max_length=6,
                        verbose_name="kind of package",
                    ),
                ),
                ("name", models.CharField(max_length=60, verbose_name="name")),
            ],
            options={
                "verbose_name": "empty cone",
                "verbose_name_plural": "empty cones",
                "ordering": ("kind", "name", "pk"),
                "constraints": [
                    models.UniqueConstraint(
                        models.F("kind"), django.db.models.functions.text.Lower("name"), name="tare_named_once"
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="TareWeighing",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("weight_text", models.CharField(max_length=60, verbose_name="weight")),
                (
                    "weight_g",
                    models.DecimalField(
                        decimal_places=12,
                        editable=False,
                        max_digits=20,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("1000000")),
                        ],
                        verbose_name="weight in grams",
                    ),
                ),
                ("left_out", models.BooleanField(default=False, verbose_name="left out of the mean")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                    ),
                ),
                (
                    "tare",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="weighings", to="inventory.tare"
                    ),
                ),
            ],
            options={
                "verbose_name": "weighing of an empty cone",
                "verbose_name_plural": "weighings of empty cones",
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="Yarn",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=80, verbose_name="name")),
                (
                    "fibre",
                    models.CharField(
                        choices=[
                            ("cotton", "cotton"),
                            ("linen", "linen"),
                            ("cottolin", "cottolin"),
                            ("wool", "wool"),
                            ("silk", "silk"),
                            ("rayon", "rayon or lyocell"),
                            ("hemp", "hemp"),
                            ("other", "other or not known"),
                        ],
                        default="cotton",
                        max_length=10,
                        verbose_name="fibre",
                    ),
                ),
                (
                    "count_text",
                    models.CharField(
                        blank=True,
                        help_text="As on the label, such as 8/2 cotton.",
                        max_length=40,
                        verbose_name="count",
                    ),
                ),
                (
                    "grist_text",
                    models.CharField(
                        blank=True,
                        help_text="Such as 3360 yd/lb.",
                        max_length=40,
                        verbose_name="yards per pound or metres per kilogram",
                    ),
                ),
                (
                    "wraps_text",
                    models.CharField(
                        blank=True, help_text="As measured, such as 28 /in.", max_length=20, verbose_name="wraps"
                    ),
                ),
                (
                    "tex",
                    models.DecimalField(
                        decimal_places=6, default=Decimal("0"), editable=False, max_digits=16, verbose_name="tex"
                    ),
                ),
                ("colour_name", models.CharField(blank=True, max_length=40, verbose_name="colour")),
                (
                    "colour",
                    models.CharField(
                        default="#8a8a8a",
                        max_length=7,
                        validators=[
                            django.core.validators.RegexValidator(
                                "^#[0-9a-f]{6}\\Z", "Give the colour as # and six hexadecimal digits."
                            )
                        ],
                        verbose_name="colour for drawings",
                    ),
                ),
                (
                    "colour_family",
                    models.CharField(
                        choices=[
                            ("natural", "whites and naturals"),
                            ("yellow", "yellows"),
                            ("orange", "oranges"),
                            ("red", "reds and pinks"),
                            ("violet", "violets"),
                            ("blue", "blues"),
                            ("green", "greens"),
                            ("brown", "browns"),
                            ("grey", "greys"),
                            ("black", "blacks"),
                        ],
                        db_index=True,
                        default="grey",
                        editable=False,
                        max_length=7,
                        verbose_name="colour family",
                    ),
                ),
                (
                    "wall_place",
                    models.PositiveSmallIntegerField(
                        db_index=True, default=8375, editable=False, verbose_name="place on the colour wall"
                    ),
                ),
                (
                    "wound_density",
                    models.DecimalField(
                        blank=True,
                        decimal_places=3,
                        max_digits=5,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.05")),
                            django.core.validators.MaxValueValidator(Decimal("3")),
                        ],
                        verbose_name="density wound on a beam, g/cm3",
                    ),
                ),
                (
                    "price_per_100g",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(0)],
                        verbose_name="price of 100 g",
                    ),
                ),
                ("keep_at_least_text", models.CharField(blank=True, max_length=60, verbose_name="keep at least")),
                (
                    "keep_at_least_ug",
                    models.BigIntegerField(
                        blank=True, editable=False, null=True, verbose_name="keep at least, in micrograms"
                    ),
                ),
                ("notes", models.TextField(blank=True, max_length=4000, verbose_name="notes")),
                ("retired", models.BooleanField(default=False, verbose_name="discontinued")),
            ],
            options={
                "ordering": ("name", "colour_name", "pk"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("count_text", ""), _negated=True),
                            models.Q(("grist_text", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="yarn_has_a_count_or_a_length_in_a_weight",
                    )
                ],
            },
        ),
        migrations.AddField(
            model_name="package",
            name="yarn",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="packages", to="inventory.yarn"
            ),
        ),
        migrations.CreateModel(
            name="FileSent",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=32, unique=True, verbose_name="random name")),
                ("name", models.CharField(max_length=120, verbose_name="name of the file")),
                (
                    "kind",
                    models.CharField(
                        choices=[("csv", "CSV"), ("xlsx", "XLSX")], max_length=4, verbose_name="kind of file"
                    ),
                ),
                ("mass_unit", models.CharField(max_length=2, verbose_name="unit of a bare weight")),
                ("digest", models.CharField(max_length=64, verbose_name="hash of the file")),
                ("content", models.BinaryField(null=True, verbose_name="the file")),
                (
                    "sent_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="sent"),
                ),
                ("kept_at", models.DateTimeField(blank=True, editable=False, null=True, verbose_name="kept")),
                ("said", models.TextField(blank=True, verbose_name="what was kept of it")),
                (
                    "member",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to="studio.member"
                    ),
                ),
            ],
            options={
                "verbose_name": "file sent in",
                "verbose_name_plural": "files sent in",
                "ordering": ("-pk",),
                "indexes": [
                    models.Index(
                        condition=models.Q(("kept_at__isnull", False)), fields=["digest"], name="file_kept_before"
                    )
                ],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("content__isnull", False), ("kept_at", None)),
                            models.Q(("content", None), ("kept_at__isnull", False)),
                            _connector="OR",
                        ),
                        name="file_is_there_until_it_is_kept",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="Arrival",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("cone", "cone"),
                            ("tube", "tube"),
                            ("spool", "spool"),
                            ("skein", "skein"),
                            ("ball", "ball"),
                            ("pirn", "pirn"),
                        ],
                        default="cone",
                        max_length=6,
                        verbose_name="kind of package",
                    ),
                ),
                ("gross_text", models.CharField(max_length=60, verbose_name="gross weight")),
                ("tare_text", models.CharField(blank=True, max_length=60, verbose_name="tare")),
                (
                    "gross_g",
                    models.DecimalField(
                        decimal_places=12,
                        editable=False,
                        max_digits=20,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("1000000")),
                        ],
                        verbose_name="gross weight in grams",
                    ),
                ),
                (
                    "tare_g",
                    models.DecimalField(
                        decimal_places=12,
                        default=Decimal("0"),
                        editable=False,
                        max_digits=20,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0")),
                            django.core.validators.MaxValueValidator(Decimal("1000000")),
                        ],
                        verbose_name="tare in grams",
                    ),
                ),
                ("dye_lot", models.CharField(blank=True, max_length=40, verbose_name="dye lot")),
                ("bin_name", models.CharField(blank=True, max_length=40, verbose_name="bin")),
                (
                    "source",
                    models.CharField(
                        choices=[
                            ("bought", "bought"),
                            ("donated", "donated"),
                            ("left_over", "left over"),
                            ("other", "other or not known"),
                        ],
                        default="donated",
                        max_length=9,
                        verbose_name="where it came from",
                    ),
                ),
                ("notes", models.CharField(blank=True, max_length=200, verbose_name="notes")),
                ("received_on", models.DateField(default=django.utils.timezone.localdate, verbose_name="received on")),
                (
                    "closed_at",
                    models.DateTimeField(blank=True, editable=False, null=True, verbose_name="named or thrown out"),
                ),
                (
                    "why_out",
                    models.CharField(blank=True, editable=False, max_length=200, verbose_name="why it was thrown out"),
                ),
                (
                    "closed_by",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                    ),
                ),
                (
                    "owner",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                        verbose_name="belongs to",
                    ),
                ),
                (
                    "received_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="studio.member",
                    ),
                ),
                (
                    "package",
                    models.OneToOneField(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="arrival",
                        to="inventory.package",
                    ),
                ),
                (
                    "photo",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="of_arrivals",
                        to="inventory.photo",
                    ),
                ),
            ],
            options={
                "ordering": ("received_on", "pk"),
                "indexes": [
                    models.Index(
                        condition=models.Q(("closed_at", None)), fields=["received_on", "id"], name="arrival_waiting"
                    )
                ],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("gross_g__gte", models.F("tare_g")), ("tare_g__gte", 0)),
                        name="arrival_not_lighter_than_its_tare",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("closed_at", None), ("package", None), ("why_out", "")),
                            models.Q(("closed_at__isnull", False), ("package__isnull", False), ("why_out", "")),
                            models.Q(
                                ("closed_at__isnull", False),
                                ("package", None),
                                models.Q(("why_out", ""), _negated=True),
                            ),
                            _connector="OR",
                        ),
                        name="arrival_waits_or_is_named_or_says_why_not",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Move",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("receive", "received"),
                            ("weigh", "weighed"),
                            ("allocate", "set aside"),
                            ("release", "released"),
                            ("issue", "taken out"),
                            ("return", "brought back"),
                            ("sell", "sold"),
                            ("write_off", "written off"),
                            ("quarantine_in", "into quarantine"),
                            ("quarantine_out", "out of quarantine"),
                            ("reverse", "reversal"),
                        ],
                        max_length=14,
                        verbose_name="what was done",
                    ),
                ),
                ("on_hand_ug", models.BigIntegerField(default=0, verbose_name="change on hand, in micrograms")),
                (
                    "promised_ug",
                    models.BigIntegerField(default=0, verbose_name="change of what is promised, in micrograms"),
                ),
                ("scale_text", models.CharField(blank=True, max_length=60, null=True, verbose_name="scale showed")),
                ("tare_text", models.CharField(blank=True, max_length=60, null=True, verbose_name="tare as weighed")),
                ("said_why", models.CharField(blank=True, max_length=200, verbose_name="why")),
                (
                    "made_at",
                    models.DateTimeField(default=django.utils.timezone.now, editable=False, verbose_name="made"),
                ),
                ("unit_price_text", models.CharField(blank=True, max_length=60, verbose_name="price of a unit")),
                (
                    "amount",
                    models.DecimalField(blank=True, decimal_places=2, max_digits=11, null=True, verbose_name="money"),
                ),
                (
                    "round_number",
                    models.PositiveSmallIntegerField(
                        blank=True,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(1)],
                        verbose_name="round of quarantine",
                    ),
                ),
                ("temperature_text", models.CharField(blank=True, max_length=40, verbose_name="temperature")),
                (
                    "buyer",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="yarn_bought",
                        to="studio.member",
                    ),
                ),
                (
                    "for_member",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="yarn_taken",
                        to="studio.member",
                        verbose_name="for",
                    ),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="yarn_moves",
                        to="studio.member",
                    ),
                ),
                (
                    "reverses",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="reversed_by",
                        to="inventory.move",
                    ),
                ),
                (
                    "package",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="moves",
                        to="inventory.package",
                    ),
                ),
                (
                    "set_aside",
                    models.ForeignKey(
                        blank=True,
                        db_index=False,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="moves",
                        to="inventory.setaside",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
                "indexes": [
                    models.Index(fields=["package", "on_hand_ug", "promised_ug"], name="move_balance"),
                    models.Index(fields=["set_aside", "package", "promised_ug"], name="move_promise"),
                ],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind__in", ("receive",)), ("on_hand_ug__gte", 0), ("promised_ug", 0)),
                            models.Q(("kind__in", ("weigh",)), ("promised_ug", 0)),
                            models.Q(("kind__in", ("allocate",)), ("on_hand_ug", 0), ("promised_ug__gt", 0)),
                            models.Q(("kind__in", ("release",)), ("on_hand_ug", 0), ("promised_ug__lt", 0)),
                            models.Q(
                                ("kind__in", ("issue",)),
                                ("on_hand_ug__lt", 0),
                                ("promised_ug__gte", models.F("on_hand_ug")),
                                ("promised_ug__lte", 0),
                            ),
                            models.Q(("kind__in", ("return",)), ("on_hand_ug__gt", 0), ("promised_ug", 0)),
                            models.Q(("kind__in", ("sell", "write_off")), ("on_hand_ug__lt", 0), ("promised_ug", 0)),
                            models.Q(
                                ("kind__in", ("quarantine_in", "quarantine_out")), ("on_hand_ug", 0), ("promised_ug", 0)
                            ),
                            ("kind__in", ("reverse",)),
                            _connector="OR",
                        ),
                        name="move_changes_what_its_kind_may",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("promised_ug", 0), ("set_aside__isnull", False), _connector="OR"),
                        name="move_promises_to_some_work",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("kind", "reverse"), ("reverses__isnull", False)),
                            models.Q(models.Q(("kind", "reverse"), _negated=True), ("reverses__isnull", True)),
                            _connector="OR",
                        ),
                        name="move_reverses_only_as_a_reversal",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("made_by__isnull", False), ("kind", "receive"), _connector="OR"),
                        name="move_says_who_made_it",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("amount__gte", Decimal("0")), ("amount__isnull", False), ("kind", "sell")),
                            models.Q(("amount__lte", Decimal("0")), ("kind", "reverse")),
                            models.Q(("amount__isnull", True), models.Q(("kind", "sell"), _negated=True)),
                            _connector="OR",
                        ),
                        name="move_has_money_only_as_a_sale",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(
                                ("kind__in", ("quarantine_in", "quarantine_out")),
                                ("round_number__gte", 1),
                                ("round_number__isnull", False),
                            ),
                            models.Q(
                                models.Q(("kind__in", ("quarantine_in", "quarantine_out")), _negated=True),
                                ("round_number__isnull", True),
                            ),
                            _connector="OR",
                        ),
                        name="move_counts_rounds_only_in_quarantine",
                    ),
                ],
            },
        ),
        migrations.AddConstraint(
            model_name="package",
            constraint=models.CheckConstraint(condition=models.Q(("tare_g__gte", 0)), name="package_tare_not_negative"),
        ),
        migrations.AddConstraint(
            model_name="package",
            constraint=models.CheckConstraint(
                condition=models.Q(("gross_g__gte", models.F("tare_g"))), name="package_not_lighter_than_its_tare"
            ),
        ),
        migrations.AddConstraint(
            model_name="package",
            constraint=models.CheckConstraint(
                condition=models.Q(("promised_ug__gte", 0), ("promised_ug__lte", models.F("on_hand_ug"))),
                name="package_promises_what_it_holds",
            ),
        ),
        migrations.RunPython(GUARDS.up, GUARDS.down),
    ]
