"""Warps as people typed them, and the cards issued for them.

A project keeps the brief as typed (so that it comes back exactly, mistakes and all) and, beside it, the
complete brief with every default and loom fact filled in; never the plan, which always follows again.
A card keeps its plan and its PDF for ever.
"""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.urls import reverse

from studio.models import Beam, Loom, Member


class Project(models.Model):
    """One warp: whose it is, for which loom, and the brief."""

    owner = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="projects")
    title = models.CharField("title", max_length=120)
    loom = models.ForeignKey(Loom, on_delete=models.SET_NULL, null=True, blank=True, related_name="projects")
    beam = models.ForeignKey(Beam, on_delete=models.SET_NULL, null=True, blank=True, related_name="projects")
    digest = models.CharField("digest of what the plan says to do", max_length=64, blank=True)
    words = models.TextField("yarns, to search by", blank=True, editable=False)
    version = models.PositiveIntegerField("version", default=1)
    ends = models.PositiveIntegerField("ends", null=True, blank=True)
    width_in_reed_cm = models.DecimalField("width in reed", max_digits=14, decimal_places=6, null=True, blank=True)
    warp_length_cm = models.DecimalField("warp length", max_digits=14, decimal_places=6, null=True, blank=True)
    copied_from = models.ForeignKey("self", on_delete=models.SET_NULL, null=True, blank=True, related_name="copies")
    created_at = models.DateTimeField("started", auto_now_add=True)
    changed_at = models.DateTimeField("changed", auto_now=True)
    archived = models.BooleanField("put away", default=False)
    typed = models.JSONField("brief as typed", default=dict)
    complete = models.JSONField("complete brief", null=True, blank=True)

    class Meta:
        verbose_name = "warp"
        ordering = ("-changed_at", "-pk")
        indexes = (
            # SQLite passes over an index for "NOT archived" unless the condition is the index's own.
            models.Index(fields=("owner", "-changed_at", "-id"), name="project_mine", condition=Q(archived=False)),
            models.Index(fields=("-changed_at", "-id"), name="project_everyones", condition=Q(archived=False)),
            models.Index(fields=("-changed_at", "-id"), name="project_put_away", condition=Q(archived=True)),
            models.Index(fields=("-changed_at", "-id"), name="project_changed"),
        )

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        return reverse("warp", args=[self.pk])

    @property
    def stamp(self) -> str:
        """When it was last saved, to the microsecond: tells a sheet opened before from one opened since."""
        return self.changed_at.isoformat() if self.pk else ""

    @property
    def is_draft(self) -> bool:
        """True while the brief has mistakes and no plan follows from it."""
        return self.ends is None


class IssuedCard(models.Model):
    """A printed card under its number: the plan and the paper as they were; neither ever changes."""

    number = models.PositiveIntegerField("card number", unique=True)
    project = models.ForeignKey(Project, on_delete=models.PROTECT, related_name="cards")
    version = models.PositiveIntegerField("version of the brief")
    digest = models.CharField("digest of what the card says to do", max_length=64)
    beam = models.ForeignKey(Beam, on_delete=models.SET_NULL, null=True, related_name="cards")
    loom_name = models.CharField("loom as printed", max_length=120)
    brief = models.JSONField("complete brief")
    plan = models.JSONField("plan as printed")
    units = models.CharField("measures", max_length=6)
    paper = models.CharField("paper", max_length=6)
    html = models.TextField("print page")
    pdf = models.BinaryField("PDF", null=True)
    issued_by = models.ForeignKey(Member, on_delete=models.PROTECT, related_name="cards")
    issued_at = models.DateTimeField("issued", auto_now_add=True)

    class Meta:
        ordering = ("-number",)
        constraints = (models.CheckConstraint(condition=Q(number__gt=0), name="card_number_above_zero"),)

    def __str__(self) -> str:
        return f"Card {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("card", args=[self.number])
