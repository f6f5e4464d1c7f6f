"""One finding as text: the line first, then numbers, then what to do."""

from __future__ import annotations

from html import escape

from hangar.base.units import ShowsNumbers
from hangar.rules.finding import Finding
from hangar.rules.gathering import whose_figure
from hangar.window.kit.field_text import figure_text
from hangar.window.kit.looks import Look
from hangar.window.kit.words import level_word, put, say, sentence_case


def state_words(finding: Finding) -> str:
    """Open, accepted until a day, or come back after an acceptance."""
    if finding.accepted_until is not None:
        return say("Accepted until {day}", day=finding.accepted_until.isoformat())
    return say("Open again: what it rested on changed") if finding.returned else say("Open")


def about_words(finding: Finding) -> str:
    """What a finding concerns: codes and tags as they are, a part without one in words."""
    return ", ".join(put(part) if " " in part else part for part in finding.about)


def finding_html(finding: Finding, units: ShowsNumbers, look: Look) -> str:
    """A finding as rich text; each number is a link ``how:N`` to its working."""
    colour = look.levels[finding.level].words
    word = escape(level_word(finding.level))
    parts = [
        f"<p><img src='mark:{finding.level}'> &nbsp;<b style='color:{colour}'>{word}</b> &nbsp;"
        f"<b>{escape(put(finding.message))}</b></p>",
        f"<p>{escape(put(finding.detail))}</p>" if finding.detail else "",
        f"<p><b>{say('What to do')}:</b> {escape(put(finding.remedy))}</p>" if finding.remedy else "",
        _figures(finding, units),
        _list(say("Not known"), tuple(map(put, finding.missing))),
        _list(say("Stands with it"), tuple(put(folded.message) for folded in finding.folded)),
        _acceptance(finding),
        f"<p style='color:{look.soft}'>{say('Concerns')}: {escape(about_words(finding) or '—')} &nbsp; "
        f"{say('Source')}: {escape(put(finding.source) or '—')} &nbsp; "
        f"{say('Rule')}: {escape(finding.rule)}</p>",
    ]
    return "".join(parts)


def _figures(finding: Finding, units: ShowsNumbers) -> str:
    if not finding.figures:
        return ""
    rows = "".join(
        f"<tr><td>{escape(name)}&nbsp;&nbsp;</td>"
        f"<td><a href='how:{at}'>{escape(shown)}</a>&nbsp;&nbsp;</td>"
        f"<td>{escape(basis)}</td></tr>"
        for at, name, shown, basis in figure_rows(finding, units)
    )
    return f"<table cellpadding='3'>{rows}</table>"


def figure_rows(finding: Finding, units: ShowsNumbers) -> list[tuple[int, str, str, str]]:
    """Place in the finding, name, value and basis of each row of figures.

    What reads alike at each of a pair or a gang stands on one row that names them all; the row leads to the
    working of the first of them.
    """
    rows: dict[tuple[str, str, str, int], tuple[int, list[str]]] = {}
    for at, figure in enumerate(finding.figures):
        whose, called = whose_figure(figure.name)
        name = put(called)
        shown, basis = figure_text(figure, units), say(str(figure.basis))
        # Two figures of one name without a part are two things, even where they are alike.
        _, places = rows.setdefault((name, shown, basis, -1 if whose else at), (at, []))
        places.append(whose)
    return [
        (at, _named(name, places), shown, basis) for (name, shown, basis, _), (at, places) in rows.items()
    ]


def _named(name: str, places: list[str]) -> str:
    """A figure's name with the parts that it holds for."""
    parts = list(dict.fromkeys(place for place in places if place))
    if not parts:
        return sentence_case(name)
    *others, last = parts
    both = say("{first} and {second}", first=", ".join(others), second=last) if others else last
    return f"{both}: {name}"


def _list(title: str, lines: tuple[str, ...]) -> str:
    if not lines:
        return ""
    return f"<p><b>{title}:</b> {escape('; '.join(lines))}</p>"


def _acceptance(finding: Finding) -> str:
    if finding.accepted_until is None:
        return ""
    because = finding.accepted_because or say("no reason written")
    return f"<p><i>{escape(state_words(finding))}: {escape(because)}</i></p>"
