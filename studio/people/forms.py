"""Forms of people: sign-in, settings, keys, briefings."""

from datetime import timedelta
from typing import Any, ClassVar

from django import forms
from django.contrib.admin.forms import AdminAuthenticationForm
from django.contrib.auth import get_user_model, password_validation
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm, UsernameField
from django.core.exceptions import ValidationError
from django.http import HttpRequest
from django.utils import timezone

from studio.fields import DATE, Grouped, Groups, PlainWords
from studio.models import ApiKey, Briefing, Member
from studio.people.login_throttle import forget_wrong_passwords, note_wrong_password, time_to_wait
from studio.units import Units

OWN_ADDRESSES = frozenset({"", "127.0.0.1", "::1"})
"""A request from here comes through the studio's own proxy; on a Unix socket there is no address at all."""


class SettingsForm(Grouped, forms.ModelForm[Member]):
    groups = (("", ("name", "units", "paper")),)
    segmented = frozenset({"units", "paper"})

    class Meta:
        model = Member
        fields = ("name", "units", "paper")
        labels: ClassVar = {"units": "Measures I read"}
        widgets: ClassVar = {"units": forms.RadioSelect, "paper": forms.RadioSelect}

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self._read_in(Units.INCH)


class KeyForm(Grouped, forms.ModelForm[ApiKey]):
    groups = (("", ("name",)),)

    class Meta:
        model = ApiKey
        fields = ("name",)
        labels: ClassVar = {"name": "What the key is for"}
        help_texts: ClassVar = {"name": "One program, one key, such as: spreadsheet of the class."}


class MemberForm(Grouped, forms.ModelForm[Member]):
    may_sign_in = forms.BooleanField(
        label="May sign in", required=False,
        help_text="Take the tick away when a member leaves: the account is closed at once; warps and cards stay.",
    )  # fmt: skip
    groups: ClassVar[Groups] = (("The member", ("name", "role", "may_sign_in")),)

    class Meta:
        model = Member
        fields = ("name", "role")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.instance.pk and "may_sign_in" in self.fields:
            self.fields["may_sign_in"].initial = self.instance.user.is_active


class NewMemberForm(MemberForm):
    may_sign_in = None  # type: ignore[assignment]  # Django's own way to leave a field out
    username = UsernameField(label="User name", max_length=150, widget=forms.TextInput(attrs={"autocomplete": "off"}))
    password = forms.CharField(
        label="First password", strip=False, widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="At least 8 characters. Ask the member to change it under Settings.",
    )  # fmt: skip
    groups = (("The member", ("name", "role")), ("Signing in", ("username", "password")))

    def clean_username(self) -> str:
        """Say at once that a name is taken, beside its box."""
        username: str = self.cleaned_data["username"]
        users = get_user_model()
        try:
            users.username_validator(username)
        except ValidationError as trouble:
            raise forms.ValidationError("A user name has letters, digits and @ . + - _ only, no spaces.") from trouble
        if users.objects.filter(username__iexact=username).exists():
            raise forms.ValidationError("Somebody already signs in with this name.")
        return username

    def clean_password(self) -> str:
        password: str = self.cleaned_data["password"]
        password_validation.validate_password(password)
        return password


class BriefingForm(Grouped, forms.ModelForm[Briefing]):
    done_on = forms.DateField(label="Done on", widget=DATE, initial=timezone.localdate)
    groups = (("", ("tool", "done_on")),)

    class Meta:
        model = Briefing
        fields = ("tool", "done_on")


class ThrottledAuthenticationForm(PlainWords, AuthenticationForm):
    """A sign-in that slows down whoever guesses: passwords are not even looked at before the wait is over."""

    def clean(self) -> dict[str, Any]:
        who = {"username": self.cleaned_data.get("username", ""), "address": address_of(self.request)}
        wait = time_to_wait(**who)
        if wait:
            raise ValidationError(wait_in_words(wait), code="wait")
        try:
            values: dict[str, Any] = super().clean()
        except ValidationError:
            note_wrong_password(**who)
            raise
        forget_wrong_passwords(**who)
        return values


def address_of(request: HttpRequest | None) -> str:
    """Give the address that asks. A proxy on this computer adds the visitor's own as the last one of its header."""
    meta = request.META if request else {}
    address: str = meta.get("REMOTE_ADDR", "")
    if address in OWN_ADDRESSES:
        address = meta.get("HTTP_X_FORWARDED_FOR", "").rsplit(",", 1)[-1].strip() or address
    return address


def wait_in_words(wait: timedelta) -> str:
    """Say how long to wait, rounded up to whole minutes."""
    minutes = -(-wait // timedelta(minutes=1))
    return f"Too many wrong passwords. Wait {minutes} minute{'' if minutes == 1 else 's'}, then try again."


class SignInForm(ThrottledAuthenticationForm):
    """Our words for a wrong name or password."""

    error_messages = {
        "invalid_login": "That user name and password do not go together. Passwords mind capital letters.",
        "inactive": "This account is closed. Ask a steward.",
    }


class AdminSignInForm(ThrottledAuthenticationForm, AdminAuthenticationForm):
    """The admin's own sign-in, throttled alike."""


class MyPasswordForm(PlainWords, PasswordChangeForm):
    """Django's own, in our words."""

    error_messages = {
        "password_incorrect": "That is not your present password.",
        "password_mismatch": "The two new passwords differ; type the new one twice.",
    }
