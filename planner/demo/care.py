"""What happened to the looms of late: some upkeep logged, two faults noted and one mended, and who is told what."""

from collections.abc import Mapping
from datetime import timedelta
from types import MappingProxyType

from django.utils import timezone

from studio.calendar.notify import make_notices
from studio.calendar.services import wait_for_loom
from studio.care.check_selectors import check_points
from studio.care.check_services import mend_fault, note_fault
from studio.care.upkeep_services import log_upkeep, set_usual_rhythm
from studio.models import Loom, Member

Members = Mapping[str, Member]

LOGGED = MappingProxyType({2: "Two bolts of the castle were loose", 6: "New cords on six lamms"})
"""What was found on a loom; on the others nothing."""
DAYS_AGO, DAYS_APART = 20, 15
"""When the first loom was seen to, and how much earlier each of the next: so the last ones are due again."""
WAITED_FOR = 5


def keep_looms_sound(members: Members) -> None:
    """Let half a year of care happen, and tell one member that a loom she waits for is free."""
    steward, teacher, today = members["steward"], members["teacher"], timezone.localdate()
    looms = {loom.number: loom for loom in Loom.objects.all()}
    check_points()
    for loom in looms.values():
        set_usual_rhythm(loom=loom, by=steward)
    for number, loom in looms.items():
        for job in loom.jobs.exclude(every_days=None):
            day = today - timedelta(days=DAYS_AGO + DAYS_APART * number)
            log_upkeep(job=job, done_on=day, by=teacher, note=LOGGED.get(number, ""))
    note_fault(loom=looms[2], text="Wire divider between sections 30 and 31 is bent", by=members["member"])
    note_fault(loom=looms[4], text="Pawl of the second beam slips when the air is damp", by=members["trained"])
    torn = note_fault(loom=looms[6], text="Treadle tie of the fifth shaft is frayed", by=members["evening"])
    mend_fault(fault=torn, mended_on=today, by=steward, how="New cord")
    wait_for_loom(loom=looms[WAITED_FOR], member=members["trained-b"], days=28)
    make_notices(today=today)
