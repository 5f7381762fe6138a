"""Who may see a page, and what becomes of a form that is refused."""

import pytest
from django.contrib.auth import get_user_model
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied, ValidationError
from django.forms import CharField, Form
from django.urls import reverse

from studio.access import member_of, submit
from studio.errors import StudioError
from studio.models import Member
from tests import cast

pytestmark = pytest.mark.django_db


class NameForm(Form):
    name = CharField()


def refuse(trouble):
    """Give a action that is always refused."""

    def action(_values):
        raise trouble

    return action


def request_of(rf, user):
    request = rf.get("/")
    request.user = user
    return request


def test_a_member_is_known(rf):
    someone = cast.guest()
    assert member_of(request_of(rf, someone.user)) == someone


def test_a_stranger_is_nobody(rf):
    with pytest.raises(PermissionDenied):
        member_of(request_of(rf, AnonymousUser()))


def test_a_user_who_is_no_member_is_refused(rf):
    user = get_user_model().objects.create_user("visitor")
    with pytest.raises(PermissionDenied):
        member_of(request_of(rf, user))


def test_the_founder_from_the_command_line_becomes_a_steward_once(rf):
    user = get_user_model().objects.create_superuser("founder")
    assert [member_of(request_of(rf, user)).role for _ in range(2)] == ["steward", "steward"]
    assert Member.objects.count() == 1


def test_a_user_who_is_no_member_sees_the_refusal_not_a_fault(client):
    client.force_login(get_user_model().objects.create_user("visitor"))
    assert client.get(reverse("looms")).status_code == 403


def test_a_action_gives_what_it_made():
    assert submit(NameForm({"name": "Quay end"}), lambda values: values["name"]) == "Quay end"


def test_a_action_is_not_tried_with_mistakes_in_the_form():
    assert submit(NameForm({}), refuse(AssertionError("tried"))) is None


def test_a_refusal_stands_on_top_of_the_form():
    form = NameForm({"name": "Quay end"})
    submit(form, refuse(StudioError("taken", "The loom is taken.")))
    assert form.non_field_errors() == ["The loom is taken."]


def test_a_models_mistake_stands_beside_its_field():
    form = NameForm({"name": "Quay end"})
    submit(form, refuse(ValidationError({"name": "Too plain."})))
    assert form.errors == {"name": ["Too plain."]}


def test_a_mistake_of_a_field_the_form_lacks_stands_on_top():
    form = NameForm({"name": "Quay end"})
    submit(form, refuse(ValidationError({"shafts": "Too many."})))
    assert form.non_field_errors() == ["Too many."]


def test_a_mistake_of_no_field_stands_on_top():
    form = NameForm({"name": "Quay end"})
    submit(form, refuse(ValidationError("Not now.")))
    assert form.non_field_errors() == ["Not now."]
