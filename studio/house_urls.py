"""Addresses of the house's own pages. studio/urls.py is the roof and hangs every app."""

from django.contrib.auth import views as auth
from django.urls import URLPattern, path, reverse_lazy

from studio import api
from studio.forms import MyPasswordForm, SignInForm
from studio.views import beams, care, checks, feeds, keys, looms, notices, people, tools

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
    path("me/calendars/", feeds.feeds, name="my-feeds"),
    path("me/calendars/<int:pk>/take-back/", feeds.feed_revoke, name="feed-revoke"),
    path("me/notices/", notices.my_notices, name="my-notices"),
    path("calendars/<str:secret>.ics", feeds.feed, name="feed"),
    path("notices/", notices.notices, name="notices"),
    path("notices/seen/", notices.all_seen, name="notices-seen"),
    path("notices/<int:pk>/seen/", notices.notice_seen, name="notice-seen"),
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
    path("reservations/<int:pk>/checks/", checks.checks, name="loom-checks"),
    path("reservations/<int:pk>/checks/<str:moment>/", checks.check_fill, name="check-fill"),
    path("checks/<int:pk>/photo/", checks.check_photo, name="check-photo"),
    path("check-lists/", checks.points, name="check-points"),
    path("check-lists/new/", checks.point_new, name="check-point-new"),
    path("check-lists/<int:pk>/change/", checks.point_edit, name="check-point-edit"),
    path("looms/<int:pk>/care/", care.loom_care, name="loom-care"),
    path("looms/<int:pk>/faults/new/", care.fault_new, name="fault-new"),
    path("faults/<int:pk>/mended/", care.fault_mended, name="fault-mended"),
    path("faults/<int:pk>/photo/", care.fault_photo, name="fault-photo"),
    path("looms/<int:pk>/upkeep/new/", care.job_new, name="job-new"),
    path("looms/<int:pk>/upkeep/usual/", care.usual_jobs, name="jobs-usual"),
    path("upkeep/", care.upkeep, name="upkeep"),
    path("upkeep/<int:pk>/change/", care.job_edit, name="job-edit"),
    path("upkeep/<int:pk>/done/", care.job_done, name="job-done"),
    path("api/looms/", api.loom_list, name="api-looms"),
    path("api/looms/<int:pk>/", api.loom_detail, name="api-loom"),
]
