"""Name this app to Django."""

from django.apps import AppConfig
from django.contrib.staticfiles.apps import StaticFilesConfig


class StudioConfig(AppConfig):
    name = "studio"
    default = True
    verbose_name = "Studio and looms"


class StaticFiles(StaticFilesConfig):
    """Django's own, without the pages of the API's framework: ours answers in JSON alone."""

    ignore_patterns = (*StaticFilesConfig.ignore_patterns, "rest_framework")
