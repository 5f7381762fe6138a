"""Addresses of people and sign-in."""

from django.contrib.auth import views as auth
from django.urls import URLPattern, path, reverse_lazy

from studio.people import key_views, views
from studio.people.forms import MyPasswordForm, SignInForm

sign_in = auth.LoginView.as_view(
    template_name="studio/people/sign_in.html", authentication_form=SignInForm, redirect_authenticated_user=True
)
change_password = auth.PasswordChangeView.as_view(
    template_name="studio/people/password.html", form_class=MyPasswordForm, success_url=reverse_lazy("my-settings")
)

urlpatterns: list[URLPattern] = [
    path("sign-in/", sign_in, name="sign-in"),
    path("sign-out/", auth.LogoutView.as_view(), name="sign-out"),
    path("me/", views.my_settings, name="my-settings"),
    path("me/password/", change_password, name="my-password"),
    path("me/keys/", key_views.keys, name="my-keys"),
    path("me/keys/<int:pk>/take-back/", key_views.key_revoke, name="key-revoke"),
    path("people/", views.people, name="people"),
    path("people/new/", views.person_new, name="person-new"),
    path("people/<int:pk>/", views.person, name="person"),
    path("people/<int:pk>/change/", views.person_edit, name="person-edit"),
    path("people/<int:pk>/briefing/", views.briefing_new, name="briefing-new"),
]
