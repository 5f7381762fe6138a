"""How long a plan takes, and how the time grows.

Run by hand: python -m tests.bench.bench_work_out. A benchmark, never a timed test: machines differ, so only the
ratios within one run say something.
"""

import sys
from dataclasses import replace
from pathlib import Path
from time import process_time

from planner.calc.terms.brief import WarpBrief
from planner.calc.terms.plan import ColourRun
from planner.calc.worksheet.work_out import work_out
from tests.planner.worked_projects import cotton, loom, per_inch, reeds, sectional

ROUNDS = 15
CHART = Path(__file__).with_name("growth.svg")


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


def crammed(ends: int, sections: int) -> WarpBrief:
    """Give the same stripes with one yarn of three at half the sett, asked for by a width that fills no sections."""
    brief = striped(ends, sections, max(2, ends // 50))
    yarns = tuple(replace(yarn, sett=brief.sett / 2 if yarn.code == "B" else None) for yarn in brief.yarns)
    return replace(brief, yarns=yarns, ends=None, width_in_reed=brief.loom.beam.usable_width - 1)


def best_time(brief: WarpBrief) -> float:
    work_out(brief)
    taken = []
    for _ in range(ROUNDS):
        start = process_time()
        work_out(brief)
        taken.append(process_time() - start)
    return min(taken)


GROWTHS = {
    "ends (24 sections)": [(ends, striped(ends, 24, max(2, ends // 50))) for ends in (100, 300, 1_000, 3_000, 10_000)],
    "sections (6,000 ends)": [(sections, striped(6_000, sections)) for sections in (10, 20, 60, 120, 200)],
    "colour runs (6,000 ends)": [(stripe, striped(6_000, 24, stripe)) for stripe in (600, 200, 60, 20, 6)],
}
"""What grows, and the briefs of it; runs are counted from the plan."""

WIDE, HIGH, LEFT, TOP = 300, 180, 44, 26


def measured(name: str) -> list[tuple[int, float]]:
    """Give how large and how long, in ms, for each brief of a growth."""
    points = []
    for size, brief in GROWTHS[name]:
        count = len(work_out(brief).cloth.pattern) if name.startswith("colour") else size
        points.append((count, 1000 * best_time(brief)))
    return points


def panel(name: str, points: list[tuple[int, float]], at: int, most: float) -> str:
    """Draw one growth on plain axes; a straight line from the origin would be growth in proportion."""
    largest = max(size for size, _ in points)
    place = [(LEFT + at + WIDE * size / largest, TOP + HIGH * (1 - taken / most)) for size, taken in points]
    line = " ".join(f"{x:.1f},{y:.1f}" for x, y in place)
    dots = "".join(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3"/>' for x, y in place)
    x, floor = LEFT + at, TOP + HIGH
    return (
        f'<path d="M{x} {TOP}V{floor}H{x + WIDE}" fill="none" stroke="#666"/><g fill="#27406b">{dots}</g>'
        f'<polyline points="{line}" fill="none" stroke="#27406b" stroke-width="1.5"/>'
        f'<text x="{x + WIDE}" y="{floor + 16}" text-anchor="end">{largest:,} {name}</text>'
        f'<text x="{x - 6}" y="{TOP + 5}" text-anchor="end">{most:.0f}</text>'
        f'<text x="{x - 6}" y="{TOP - 12}" text-anchor="end">ms</text>'
    )


def draw(found: dict[str, list[tuple[int, float]]]) -> str:
    """Draw the growths side by side, all to one scale of time."""
    most = max(taken for points in found.values() for _, taken in points)
    panels = "".join(panel(name, points, i * (WIDE + 70), most) for i, (name, points) in enumerate(found.items()))
    size = f"0 0 {len(found) * (WIDE + 70)} {TOP + HIGH + 26}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{size}" font-family="sans-serif" font-size="12" '
        f'role="img"><title>Time of a plan as ends, sections and colour runs grow</title>{panels}</svg>\n'
    )


def main() -> None:
    budget = best_time(striped(1_000, 24))
    lines = [f"1,000 ends, 24 sections, striped: {1000 * budget:.2f} ms (budget 5 ms)"]
    uneven = {ends: 1000 * best_time(crammed(ends, 24)) for ends in (1_000, 10_000)}
    lines += [f"{ends:,} ends, crammed and spaced: {taken:.2f} ms" for ends, taken in uneven.items()]
    found = {name: measured(name) for name in GROWTHS}
    for name, points in found.items():
        least = points[0][1]
        lines += [f"{size:>8,} {name}: {taken:6.2f} ms, {taken / least:5.2f} times" for size, taken in points]
    CHART.write_text(draw(found), encoding="utf-8")
    lines.append(f"The chart of growth is {CHART.name}.")
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
