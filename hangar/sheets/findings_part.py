"""Findings as a table on a sheet."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.base.text import NOTHING, Text, joined, plural, text
from hangar.rules.finding import Finding, Level
from hangar.sheets.kit import Cell, Sheet, heads

LEVEL_MARK = {
    Level.WARNING: text("WARNING"),
    Level.CAUTION: text("Caution"),
    Level.ADVISORY: text("Advisory"),
    Level.CANT_TELL: text("Can't tell"),
}


def findings_table(sheet: Sheet, findings: Sequence[Finding], *, with_remedy: bool) -> None:
    """Findings by level in words, with what to do where there is room for it."""
    if with_remedy:
        rows: list[list[Cell]] = []
        for finding in findings:
            rows.append([_level(finding), _message(finding), finding.remedy or "-"])
            rows += [
                [text("with it"), other_finding.message, "-"] for other_finding in warnings_under(finding)
            ]
        sheet.table(heads("Level", "Finding", "What to do"), [20, 90, 60], rows)
    else:
        plain: list[list[Cell]] = []
        for finding in findings:
            plain.append([_level(finding), finding.sentence])
            plain += [[text("with it"), other_finding.message] for other_finding in warnings_under(finding)]
        sheet.table(heads("Level", "Finding"), [20, 150], plain)


def warnings_first(findings: Sequence[Finding]) -> tuple[list[Finding], list[Finding]]:
    """Every warning, open ones before those accepted in writing, and apart from them the open cautions."""
    warnings = [finding for finding in findings if finding.level is Level.WARNING]
    cautions = [finding for finding in findings if finding.level is Level.CAUTION and finding.is_open]
    return sorted(warnings, key=lambda warning: not warning.is_open), cautions


def front_table(sheet: Sheet, findings: Sequence[Finding], heads: Sequence[Text], *, to_do: bool) -> None:
    """Findings with every warning that is folded under one of them in a row of its own.

    ``to_do`` adds what to do and a place to sign; without it two columns are drawn.
    """
    rows: list[list[Cell]] = []
    for finding in findings:
        to_do_cells = [finding.remedy or "-", ""] if to_do else []
        rows.append([_level(finding), _front_words(finding), *to_do_cells])
        rows += [
            [text("with it"), below.message, *(["-", "-"] if to_do else [])]
            for below in warnings_under(finding)
        ]
    sheet.table(heads, [20, 82, 52, 30] if to_do else [20, 150], rows)


def warnings_under(finding: Finding) -> list[Finding]:
    """The warnings that stand folded under a finding: on paper nothing can be unfolded."""
    return [below for below in finding.with_folded() if below is not finding and below.level is Level.WARNING]


def left_out_words(findings: Sequence[Finding], cautions: int) -> Text:
    """How many cautions are not on the card, and how much cannot be judged; nothing where neither is so."""
    unknown = [finding for finding in findings if finding.level is Level.CANT_TELL and finding.is_open]
    words = []
    if cautions > 0:
        words.append(
            plural(
                "{count} more caution on the build sheet.",
                "{count} more cautions on the build sheet.",
                count=cautions,
            )
        )
    if unknown:
        words.append(
            plural(
                "{count} thing cannot be judged for want of data; unknown is not good.",
                "{count} things cannot be judged for want of data; unknown is not good.",
                count=len(unknown),
            )
        )
    return joined(*words)


def accepted_words(finding: Finding) -> Text:
    """Until when a finding is accepted, and why; nothing for one that is open."""
    if finding.accepted_until is None:
        return NOTHING
    return joined(text("Accepted to {until}.", until=finding.accepted_until), _because(finding))


def _front_words(finding: Finding) -> Text:
    return joined(finding.sentence, _because(finding))


def all_findings(sheet: Sheet, findings: Sequence[Finding]) -> None:
    """Every finding with its remedy, or a line that nothing was found on the data entered."""
    if findings:
        findings_table(sheet, findings, with_remedy=True)
    else:
        sheet.write(text("No open warnings on the data entered, and nothing else was found."))


def _message(finding: Finding) -> Text:
    # The message of one that cannot be judged names the first fields; all of them would fill pages.
    detail = NOTHING if finding.level is Level.CANT_TELL else finding.detail
    return joined(finding.sentence, detail, _because(finding))


def _because(finding: Finding) -> Text:
    because = finding.accepted_because
    return text("Accepted because: {because}", because=because) if because else NOTHING


def _level(finding: Finding) -> Text:
    until = finding.accepted_until
    mark = LEVEL_MARK[finding.level]
    return text("{level}, accepted to {until}", level=mark, until=until) if until else mark
