"""Members by role, the safety briefings they were given, and wrong passwords lately."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from studio.rights import Role
from studio.units import Units


class Member(models.Model):
    """A person of the studio: the role decides what may be done, the rest how it is shown."""

    class Paper(models.TextChoices):
        A4 = "A4", "A4"
        LETTER = "Letter", "Letter"

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="member")
    name = models.CharField("name shown", max_length=60)
    role = models.CharField("role", max_length=8, choices=[(r.value, r.label) for r in Role], default=Role.MEMBER)
    units = models.CharField(
        "measures", max_length=6, default=Units.INCH,
        choices=[(Units.INCH.value, "inches, yards, ounces"), (Units.METRIC.value, "centimetres, metres, grams")],
    )  # fmt: skip
    paper = models.CharField("paper", max_length=6, choices=Paper.choices, default=Paper.A4)
    no_mail_for = models.JSONField("notices not sent by mail", default=list, blank=True)

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("person", args=[self.pk])

    @property
    def reads_in(self) -> Units:
        """The units this member reads, as `studio.units` takes them."""
        return Units(self.units)


class Briefing(models.Model):
    """A safety briefing on one risky tool: done on, by whom. No health details are kept."""

    class Tool(models.TextChoices):
        SECTIONAL = "sectional", "sectional beam, crank and brake"
        BOX = "box", "tension box and rack"
        MILL = "mill", "warping mill"
        WINDER = "winder", "electric winder"

    member = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="briefings")
    tool = models.CharField("tool", max_length=10, choices=Tool.choices)
    done_on = models.DateField("done on")
    given_by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ("-done_on", "tool")
        constraints = (models.UniqueConstraint(fields=("member", "tool"), name="briefing_once_per_tool"),)

    def __str__(self) -> str:
        return f"{self.member}: {self.get_tool_display()}"


class WrongPasswords(models.Model):
    """Wrong passwords in a row for one user name from one address; a hash of the two stands for them."""

    key = models.CharField("user name and address, hashed", max_length=64, unique=True)
    times = models.PositiveIntegerField("times", default=0)
    last_at = models.DateTimeField("last one")

    class Meta:
        verbose_name_plural = "wrong passwords"
        constraints = (models.CheckConstraint(condition=Q(times__gt=0), name="wrong_passwords_some"),)

    def __str__(self) -> str:
        return f"{self.times} by {self.last_at:%Y-%m-%d %H:%M}"


class ApiKey(models.Model):
    """A member's key for one program that asks the API in her name. Only a hash is kept, so nobody can read it here."""

    member = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="keys")
    name = models.CharField("what it is for", max_length=60)
    digest = models.CharField("hash of the key", max_length=64, unique=True)
    made_at = models.DateTimeField("made", auto_now_add=True)
    used_on = models.DateField("last used on", null=True, blank=True)

    class Meta:
        verbose_name = "key"
        ordering = ("-made_at", "-pk")

    def __str__(self) -> str:
        return self.name
