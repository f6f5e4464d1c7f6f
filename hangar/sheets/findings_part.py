"""Findings as a table on a sheet."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.base.text import joined
from hangar.rules.finding import Finding, Level
from hangar.sheets.kit import Cell, Sheet

LEVEL_MARK = {
    Level.WARNING: "WARNING",
    Level.CAUTION: "Caution",
    Level.ADVISORY: "Advisory",
    Level.CANT_TELL: "Can't tell",
}


def findings_table(sheet: Sheet, findings: Sequence[Finding], *, with_remedy: bool) -> None:
    """Findings by level in words, with what to do where there is room for it."""
    if with_remedy:
        rows: list[list[Cell]] = []
        for finding in findings:
            rows.append([_level(finding), _message(sheet, finding), sheet.style.put(finding.remedy) or "-"])
            rows += [["with it", sheet.style.put(each.message), "-"] for each in _warnings_under(finding)]
        sheet.table(["Level", "Finding", "What to do"], [20, 90, 60], rows)
    else:
        plain: list[list[Cell]] = []
        for finding in findings:
            plain.append([_level(finding), sheet.style.put(finding.message)])
            plain += [["with it", sheet.style.put(each.message)] for each in _warnings_under(finding)]
        sheet.table(["Level", "Finding"], [20, 150], plain)


def warnings_first(findings: Sequence[Finding]) -> tuple[list[Finding], list[Finding]]:
    """Every warning, open ones before those accepted in writing, and apart from them the open cautions."""
    warnings = [each for each in findings if each.level is Level.WARNING]
    cautions = [each for each in findings if each.level is Level.CAUTION and each.is_open]
    return sorted(warnings, key=lambda each: not each.is_open), cautions


def front_table(sheet: Sheet, findings: Sequence[Finding], heads: Sequence[str], *, to_do: bool) -> None:
    """Findings with every warning that is folded under one of them in a row of its own.

    ``to_do`` adds what to do and a place to sign; without it two columns are drawn.
    """
    rows: list[list[Cell]] = []
    for finding in findings:
        to_do_cells = [sheet.style.put(finding.remedy) or "-", ""] if to_do else []
        rows.append([_level(finding), _front_words(sheet, finding), *to_do_cells])
        rows += [
            ["with it", sheet.style.put(below.message), *(["-", "-"] if to_do else [])]
            for below in _warnings_under(finding)
        ]
    sheet.table(heads, [20, 82, 52, 30] if to_do else [20, 150], rows)


def _warnings_under(finding: Finding) -> list[Finding]:
    """The warnings that stand folded under a finding: on paper nothing can be unfolded."""
    return [below for below in finding.with_folded() if below is not finding and below.level is Level.WARNING]


def _front_words(sheet: Sheet, finding: Finding) -> str:
    words = sheet.style.put(finding.message)
    return f"{words} Accepted because: {finding.accepted_because}" if finding.accepted_because else words


def all_findings(sheet: Sheet, findings: Sequence[Finding]) -> None:
    """Every finding with its remedy, or a line that nothing was found on the data entered."""
    if findings:
        findings_table(sheet, findings, with_remedy=True)
    else:
        sheet.write("No open warnings on the data entered, and nothing else was found.")


def _message(sheet: Sheet, finding: Finding) -> str:
    words = sheet.style.put(joined(finding.message, finding.detail))
    because = f" Accepted because: {finding.accepted_because}" if finding.accepted_because else ""
    return words + because


def _level(finding: Finding) -> str:
    until = f", accepted to {finding.accepted_until}" if finding.accepted_until else ""
    return LEVEL_MARK[finding.level] + until
