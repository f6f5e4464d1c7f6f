"""Print what the checks say of the practice set-ups: ``python -m tests.rules.practice``."""

from __future__ import annotations

import sys

from hangar.rules import line
from tests.rules.practice.judging import SETUPS, Tally, Verdict, by_class, judge, tally


def _row(name: str, counts: Tally) -> str:
    return (
        f"{name:18} {counts.sound:5} {counts.warned:8} {counts.cautioned:10} "
        f"{counts.bad:5} {counts.bad - len(counts.missed):5} {len(counts.missed):7}"
    )


def _alarms(verdict: Verdict) -> list[str]:
    return [f"    {line(finding)}" for finding in (*verdict.warned, *verdict.cautioned)]


def main() -> None:
    """Print the table, then every miss and every alarm on a sound set-up."""
    verdicts = [judge(setup) for setup in SETUPS]
    print(f"{'class':18} sound warnings   cautions   bad found  missed")
    for kind, counts in by_class(verdicts).items():
        print(_row(kind, counts))
    print(_row("all", tally(verdicts)))
    for verdict in verdicts:
        setup = verdict.setup
        if setup.is_sound and (alarms := _alarms(verdict)):
            print(f"\nsound: {setup.name} ({setup.why})", *alarms, sep="\n")
        if not setup.is_sound and not verdict.found:
            print(f"\nmissed: {setup.name} ({setup.why})", f"    waits for {', '.join(sorted(setup.faults))}")
            print(*(f"    {line(finding)}" for finding in verdict.findings), sep="\n")
        if "--all" in sys.argv and not setup.is_sound and (alarms := _alarms(verdict)):
            print(f"\nbeside the fault of {setup.name}", *alarms, sep="\n")


if __name__ == "__main__":
    main()
