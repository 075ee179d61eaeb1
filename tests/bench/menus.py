"""Print what menus of the demonstration's bar take: python -m tests.bench.menus [SECONDS [waste]].

Each is 140 drinks over nine nights, chosen within the seconds given (20): with new drinks of two
syrups that spoil and a margin of 78 %, of the book alone, and without buying. A line is a stage:
value, bound and gap in per cent of the value. Then the seconds of a clock and of the processor,
designs included, which are of this machine and this run.
"""

from __future__ import annotations

import sys
import time
from datetime import date
from pathlib import Path

from solver.clock import Clock
from solver.pantry.load_bar import load_bar
from solver.tasks.menu.answer import Menu
from solver.tasks.menu.menu import menu
from solver.tasks.menu.read import WrittenMenu, read_menu
from solver.tasks.price.price import costed_for

DEMO = Path(__file__).parents[2] / "demo"
UNTIL = date(2026, 5, 16)
SYRUPS = ("rhubarb-syrup", "almond-spice-syrup")
MENUS = {
    "new drinks, at 12.00": WrittenMenu(
        forecast=140, until=UNTIL, of=SYRUPS, price="12", priced=True
    ),
    "of the book": WrittenMenu(forecast=140, until=UNTIL, new=False),
    "nothing bought": WrittenMenu(
        forecast=140, until=UNTIL, of=SYRUPS, spend="0", most=10, share="5..60%", sober="40%"
    ),
}


def main() -> None:
    """Print the menus."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 20.0
    waste_first = sys.argv[2:] == ["waste"]
    for name, asked in MENUS.items():
        bar = costed_for(load_bar(DEMO), "78%" if asked.priced else None, None, None)
        clock, processor = time.perf_counter(), time.process_time()
        found = menu(read_menu(asked, bar), bar, Clock.of(seconds), waste_first=waste_first)
        taken, worked = time.perf_counter() - clock, time.process_time() - processor
        sys.stdout.write(
            f"{name}: {found.compared} drinks, {taken:.1f} s, processor {worked:.1f} s\n"
        )
        for stage in found.plan.stages if isinstance(found, Menu) else ():
            gap = f"{100 * stage.gap:.2f} %"
            sys.stdout.write(
                f"  {stage.aim.value:<10}{stage.value:>10}{stage.bound:>10}{gap:>10}\n"
            )
        sys.stdout.flush()


if __name__ == "__main__":
    main()
