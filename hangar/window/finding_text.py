"""One finding as text: the line first, then numbers, then what to do."""

from __future__ import annotations

from html import escape

from hangar.base.units import UnitChoice
from hangar.rules.finding import Finding
from hangar.window.field_text import figure_text
from hangar.window.looks import Look
from hangar.window.words import level_word, retold, say, sentence_case


def state_words(finding: Finding) -> str:
    """Open, accepted until a day, or come back after an acceptance."""
    if finding.accepted_until is not None:
        return say("Accepted until {day}").format(day=finding.accepted_until.isoformat())
    return say("Open again: what it rested on changed") if finding.returned else say("Open")


def about_words(finding: Finding) -> str:
    """What a finding concerns: codes and tags as they are, a part without one in words."""
    return ", ".join(retold(part) if " " in part else part for part in finding.about)


def finding_html(finding: Finding, units: UnitChoice, look: Look) -> str:
    """A finding as rich text; each number is a link ``how:N`` to its working."""
    colour = look.levels[finding.level].words
    word = escape(level_word(finding.level))
    parts = [
        f"<p><img src='mark:{finding.level}'> &nbsp;<b style='color:{colour}'>{word}</b> &nbsp;"
        f"<b>{escape(retold(finding.message))}</b></p>",
        f"<p>{escape(retold(finding.detail))}</p>" if finding.detail else "",
        _figures(finding, units),
        _list(say("Not known"), tuple(map(retold, finding.missing))),
        f"<p><b>{say('What to do')}:</b> {escape(retold(finding.remedy))}</p>" if finding.remedy else "",
        _list(say("Follows from it"), tuple(retold(folded.message) for folded in finding.folded)),
        _acceptance(finding),
        f"<p style='color:{look.soft}'>{say('Concerns')}: {escape(about_words(finding) or '—')} &nbsp; "
        f"{say('Source')}: {escape(retold(finding.source) or '—')} &nbsp; "
        f"{say('Rule')}: {escape(finding.rule)}</p>",
    ]
    return "".join(parts)


def _figures(finding: Finding, units: UnitChoice) -> str:
    if not finding.figures:
        return ""
    rows = "".join(
        f"<tr><td>{escape(sentence_case(retold(figure.name)))}&nbsp;&nbsp;</td>"
        f"<td><a href='how:{at}'>{escape(figure_text(figure, units))}</a>&nbsp;&nbsp;</td>"
        f"<td>{escape(say(str(figure.basis)))}</td></tr>"
        for at, figure in enumerate(finding.figures)
    )
    return f"<table cellpadding='3'>{rows}</table>"


def _list(title: str, lines: tuple[str, ...]) -> str:
    if not lines:
        return ""
    return f"<p><b>{title}:</b> {escape('; '.join(lines))}</p>"


def _acceptance(finding: Finding) -> str:
    if finding.accepted_until is None:
        return ""
    because = finding.accepted_because or say("no reason written")
    return f"<p><i>{escape(state_words(finding))}: {escape(because)}</i></p>"
