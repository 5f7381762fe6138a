"""Addresses of the pages that say how it is worked out."""

from django.urls import path

from planner import how_views

urlpatterns = [
    path("how/", how_views.how, name="how"),
    path("how/disagreements/", how_views.how_disagreements, name="how-disagreements"),
    path("how/ask/<slug:key>/", how_views.how_ask, name="how-ask"),
    path("how/<slug:name>/", how_views.how_one, name="how-one"),
]
