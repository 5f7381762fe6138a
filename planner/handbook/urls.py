"""Addresses of the pages that say how it is worked out."""

from django.urls import path

from planner.handbook import views

urlpatterns = [
    path("how/", views.how, name="how"),
    path("how/disagreements/", views.how_disagreements, name="how-disagreements"),
    path("how/ask/<slug:key>/", views.how_ask, name="how-ask"),
    path("how/<slug:name>/", views.how_one, name="how-one"),
]
