"""The yarn room behind the counter: for stewards who mend what no page reaches."""

from django.contrib import admin

from inventory.models import Package, Yarn


@admin.register(Yarn)
class YarnAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # Django itself takes no type here
    list_display = ("name", "colour_name", "fibre", "count_text", "grist_text", "retired")
    list_filter = ("fibre", "retired")
    search_fields = ("name", "colour_name", "count_text")
    readonly_fields = ("tex",)


@admin.register(Package)
class PackageAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # Django itself takes no type here
    list_display = ("pk", "yarn", "kind", "gross_text", "tare_text", "dye_lot", "bin_name")
    list_filter = ("kind",)
    list_select_related = ("yarn",)
    autocomplete_fields = ("yarn",)
    search_fields = ("dye_lot", "bin_name", "yarn__name", "yarn__colour_name")
    readonly_fields = ("gross_g", "tare_g")
