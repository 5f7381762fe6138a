"""The steward's back room: raw tables, for what no page covers yet."""

from typing import ClassVar

from django.contrib import admin

from studio.models import Beam, BeamRound, Briefing, Loom, Member, Reed, Station, StudioRules


class BeamInline(admin.TabularInline[Beam, Loom]):
    model = Beam
    extra = 0
    show_change_link = True


@admin.register(Loom)
class LoomAdmin(admin.ModelAdmin[Loom]):
    list_display = ("number", "nickname", "weaving_width_cm", "shafts", "retired")
    list_filter = ("retired",)
    search_fields = ("nickname", "notes")
    inlines: ClassVar = [BeamInline]


@admin.register(BeamRound)
class BeamRoundAdmin(admin.ModelAdmin[BeamRound]):
    list_display = ("beam", "circumference_cm", "measured_on", "measured_by")
    list_select_related = ("beam__loom", "measured_by")


@admin.register(Reed)
class ReedAdmin(admin.ModelAdmin[Reed]):
    list_display = ("__str__", "reed_length_cm", "kept_with", "retired")
    list_select_related = ("kept_with",)


@admin.register(Station)
class StationAdmin(admin.ModelAdmin[Station]):
    list_display = ("name", "kind", "training_needed", "retired")
    list_filter = ("kind",)


@admin.register(Member)
class MemberAdmin(admin.ModelAdmin[Member]):
    list_display = ("name", "role", "units", "paper")
    list_filter = ("role",)
    search_fields = ("name",)


@admin.register(Briefing)
class BriefingAdmin(admin.ModelAdmin[Briefing]):
    list_display = ("member", "tool", "done_on", "given_by")
    list_select_related = ("member", "given_by")


@admin.register(StudioRules)
class StudioRulesAdmin(admin.ModelAdmin[StudioRules]):
    list_display = ("name", "units")
