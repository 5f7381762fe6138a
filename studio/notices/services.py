"""Writes of notices by who reads them."""

from django.db import transaction
from django.utils import timezone

from studio.models import ALWAYS_BY_MAIL, Member, Notice


def see_notice(*, member: Member, pk: int) -> None:
    """Note that a member has seen one of her notices; another's stays."""
    Notice.objects.filter(member=member, pk=pk, read_at=None).update(read_at=timezone.now())


def see_all(*, member: Member) -> None:
    """Note that a member has seen all she was told."""
    Notice.objects.filter(member=member, read_at=None).update(read_at=timezone.now())


@transaction.atomic
def choose_mail(*, member: Member, email: str, no_mail_for: list[str]) -> Member:
    """Keep where a member's mail goes and which kinds she does without; rules of the house always come."""
    locked = Member.objects.select_for_update().select_related("user").get(pk=member.pk)
    locked.user.email = email
    locked.user.save(update_fields=["email"])
    locked.no_mail_for = sorted({Notice.Kind(kind).value for kind in no_mail_for} - ALWAYS_BY_MAIL)
    locked.full_clean()
    locked.save()
    return locked
