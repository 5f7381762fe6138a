"""Name this app to Django."""

from django.apps import AppConfig


class PlannerConfig(AppConfig):
    name = "planner"
    verbose_name = "Warps and classes"
