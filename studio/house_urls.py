"""Addresses of the house's own pages. studio/urls.py is the roof and hangs every app."""

from django.contrib.auth import views as auth
from django.urls import URLPattern, path, reverse_lazy

from studio import api
from studio.forms import MyPasswordForm, SignInForm
from studio.views import beams, keys, looms, people, tools

sign_in = auth.LoginView.as_view(
    template_name="studio/sign_in.html", authentication_form=SignInForm, redirect_authenticated_user=True
)
change_password = auth.PasswordChangeView.as_view(
    template_name="studio/password.html", form_class=MyPasswordForm, success_url=reverse_lazy("my-settings")
)

urlpatterns: list[URLPattern] = [
    path("sign-in/", sign_in, name="sign-in"),
    path("sign-out/", auth.LogoutView.as_view(), name="sign-out"),
    path("me/", people.my_settings, name="my-settings"),
    path("me/password/", change_password, name="my-password"),
    path("me/keys/", keys.keys, name="my-keys"),
    path("me/keys/<int:pk>/take-back/", keys.key_revoke, name="key-revoke"),
    path("looms/", looms.loom_list, name="looms"),
    path("looms/new/", looms.loom_new, name="loom-new"),
    path("looms/<int:pk>/", looms.loom_page, name="loom"),
    path("looms/<int:pk>/change/", looms.loom_edit, name="loom-edit"),
    path("looms/<int:pk>/remove/", looms.loom_delete, name="loom-delete"),
    path("looms/<int:loom_pk>/beams/new/", beams.beam_new, name="beam-new"),
    path("beams/<int:pk>/change/", beams.beam_edit, name="beam-edit"),
    path("beams/<int:pk>/measure/", beams.beam_measure, name="beam-measure"),
    path("beams/<int:pk>/remove/", beams.beam_delete, name="beam-delete"),
    path("reeds/", tools.reed_list, name="reeds"),
    path("reeds/new/", tools.reed_new, name="reed-new"),
    path("reeds/<int:pk>/change/", tools.reed_edit, name="reed-edit"),
    path("stations/", tools.station_list, name="stations"),
    path("stations/new/", tools.station_new, name="station-new"),
    path("stations/<int:pk>/change/", tools.station_edit, name="station-edit"),
    path("people/", people.people, name="people"),
    path("people/new/", people.person_new, name="person-new"),
    path("people/<int:pk>/", people.person, name="person"),
    path("people/<int:pk>/change/", people.person_edit, name="person-edit"),
    path("people/<int:pk>/briefing/", people.briefing_new, name="briefing-new"),
    path("rules/", people.rules, name="rules"),
    path("api/looms/", api.loom_list, name="api-looms"),
    path("api/looms/<int:pk>/", api.loom_detail, name="api-loom"),
]
