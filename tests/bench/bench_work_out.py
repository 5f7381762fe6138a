"""How long a plan takes, and how the time grows.

Run by hand: python -m tests.bench.bench_work_out. A benchmark, never a timed test: machines differ, so only the
ratios within one run say something.
"""

import sys
from dataclasses import replace
from time import process_time

from planner.calc.brief import WarpBrief
from planner.calc.plan import ColourRun
from planner.calc.worksheet import work_out
from tests.planner.worked_projects import cotton, loom, per_inch, reeds, sectional

ROUNDS = 15


def striped(ends: int, sections: int, stripe: int = 20) -> WarpBrief:
    """Give a striped warp that fills the sections: three colours, repeats that ignore the dividers."""
    order = (ColourRun("A", stripe), ColourRun("B", stripe // 2 + 1), ColourRun("C", stripe // 3 + 1))
    beam = sectional(36, 2, sections)
    width = 2 * sections
    return WarpBrief(
        title="Stripes",
        loom=loom("Bench", width, beam, 36, reeds=reeds(8, 10, 12, wide=width)),
        yarns=tuple(cotton(code, 3360, "8/2 cotton") for code in "ABC"),
        sett=per_inch(ends) / width,
        ends=ends,
        turns=20,
        colour_order=order,
    )


def best_time(brief: WarpBrief) -> float:
    work_out(brief)
    taken = []
    for _ in range(ROUNDS):
        start = process_time()
        work_out(brief)
        taken.append(process_time() - start)
    return min(taken)


def main() -> None:
    budget = best_time(striped(1_000, 24))
    lines = [f"1,000 ends, 24 sections, striped: {1000 * budget:.2f} ms (budget 5 ms)"]
    small = best_time(striped(100, 24, 2))
    for ends in (100, 1_000, 10_000):
        stripe = max(2, ends // 50)
        brief = striped(ends, 24, stripe)
        taken = best_time(brief)
        lines.append(f"{ends:>6} ends, 24 sections, {len(work_out(brief).pattern):>5} runs: {taken / small:6.2f} times")
    few = best_time(striped(6_000, 10))
    for sections in (10, 60, 200):
        taken = best_time(striped(6_000, sections))
        lines.append(f"  6000 ends, {sections:>3} sections: {taken / few:6.2f} times that of 10 sections")
    for stripe in (600, 60, 6):
        brief = replace(striped(6_000, 24, stripe))
        lines.append(f"  6000 ends, {len(work_out(brief).pattern):>5} runs: {best_time(brief) / few:6.2f} times")
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
