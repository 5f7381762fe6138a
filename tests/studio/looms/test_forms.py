"""Whatever is typed into any box of the house, the sentence beside it is ours, and no form fails."""

import re

import pytest
from django.contrib.auth.models import User

from inventory.shelf.forms import PackageForm, YarnForm
from studio.looms import forms
from studio.models import BookingRules, StudioRules
from studio.people.forms import (
    BriefingForm,
    KeyForm,
    MemberForm,
    MyPasswordForm,
    NewMemberForm,
    SettingsForm,
    SignInForm,
    address_of,
)
from studio.rules.forms import BookingRulesForm, RulesForm
from studio.units import Units

pytestmark = pytest.mark.django_db

IN_UNITS = [
    forms.LoomForm, forms.BeamForm, forms.NewBeamForm, forms.MeasureForm, forms.ReedForm, forms.StationForm,
    RulesForm, YarnForm, PackageForm,
]  # fmt: skip
PLAIN = [KeyForm, SettingsForm, MemberForm, NewMemberForm, BriefingForm]
TYPED = ["", "-1", "x", "\x00", "9" * 30, "1.23456789", "x" * 5000, "2026-13-45"]
DJANGOS = re.compile(r"^(Ensure|Enter a|Select a|This field|Null char|Value |'.*' value)|greater than or|less than or")


def sentences_of(form):
    return [sentence for sentences in form.errors.values() for sentence in sentences]


@pytest.mark.parametrize("typed", TYPED)
@pytest.mark.parametrize("kind", IN_UNITS)
def test_a_form_of_measures_says_every_mistake_in_our_words(kind, typed):
    form = kind(dict.fromkeys(kind.base_fields, typed), units=Units.INCH)
    said = sentences_of(form)
    assert said
    assert [sentence for sentence in said if DJANGOS.search(sentence)] == []


@pytest.mark.parametrize("typed", TYPED)
@pytest.mark.parametrize("kind", PLAIN)
def test_a_form_of_people_says_every_mistake_in_our_words(kind, typed):
    said = sentences_of(kind(dict.fromkeys(kind.base_fields, typed)))
    assert said or kind is KeyForm
    assert [sentence for sentence in said if DJANGOS.search(sentence)] == []


@pytest.mark.parametrize("typed", ["", "\x00", "x" * 5000])
def test_signing_in_says_every_mistake_in_our_words(typed):
    said = sentences_of(SignInForm(None, {"username": typed, "password": typed}))
    said += sentences_of(MyPasswordForm(User(), dict.fromkeys(MyPasswordForm.base_fields, typed)))
    assert [sentence for sentence in said if DJANGOS.search(sentence)] == []


@pytest.mark.parametrize(
    ("meta", "address"),
    [
        ({"REMOTE_ADDR": "192.0.2.7"}, "192.0.2.7"),
        ({"REMOTE_ADDR": "192.0.2.7", "HTTP_X_FORWARDED_FOR": "198.51.100.9"}, "192.0.2.7"),
        ({"REMOTE_ADDR": "127.0.0.1", "HTTP_X_FORWARDED_FOR": "203.0.113.1, 198.51.100.9"}, "198.51.100.9"),
        ({"REMOTE_ADDR": "", "HTTP_X_FORWARDED_FOR": "198.51.100.9"}, "198.51.100.9"),
        ({"REMOTE_ADDR": "127.0.0.1"}, "127.0.0.1"),
    ],
)
def test_only_the_studios_own_proxy_is_believed_about_the_visitors_address(rf, meta, address):
    request = rf.get("/")
    request.META |= meta
    assert address_of(request) == address


@pytest.mark.parametrize(("kind", "rules"), [(BookingRulesForm, BookingRules), (RulesForm, StudioRules)])
def test_every_column_of_the_rules_is_on_its_form_and_on_its_page(kind, rules):
    columns = {column.name for column in rules._meta.get_fields() if not column.primary_key}
    assert set(kind.base_fields) == columns
    assert {name for _legend, names in kind.groups for name in names} == columns
