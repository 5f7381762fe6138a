"""What is usually looked at and done on a loom, until the stewards write lists of their own.

The jobs follow published notes on loom care (woolfestival.com/articles/loomcare.htm and
dustbunniesundermyloom.blogspot.com, February 2014): bolts, dust and lint, cords, level lamms. The rhythm is common
practice, no source. What a kit holds and that faults are noted before a loan stands in published rules of studios.
"""

BEGIN_POINTS = (
    "Kit counted: reeds, shuttles, bench, small tools",
    "Cords, treadle ties and apron or leaders whole",
    "Brake, ratchet and pawl hold",
)
END_POINTS = (
    "Warp cut off; knots and tape off every leader and bar",
    "Heddles counted and spread over the shafts",
    "Tie-up undone, or left as the house rules say",
    "Reed out and wiped, or left as the house rules say",
    "Lint vacuumed, under the loom too",
    "Bench and kit back, loom covered",
    "Inspected by a steward, or left for one to see",
)
USUAL_JOBS: tuple[tuple[str, int | None], ...] = (
    ("Clean, vacuum between shafts and lamms, and inspect it", None),
    ("Tighten bolts and screws; look at cords, brake and ratchet", 120),
    ("Full service: level lamms, oil or wax, new cords and leaders", 365),
)
"""Each with its rhythm in days, a term as 120; none is after each warp."""


def rhythm_words(every_days: int | None) -> str:
    """Say how often a job comes round.

    Examples
    --------
    >>> rhythm_words(None), rhythm_words(365), rhythm_words(120), rhythm_words(1)
    ('after each warp', 'every year', 'every 120 days', 'every day')
    """
    if every_days is None:
        return "after each warp"
    return {1: "every day", 365: "every year"}.get(every_days, f"every {every_days} days")
