"""A linkage in words: how it stands at a servo travel, and what is wrong in the travel that is used."""

from __future__ import annotations

from html import escape

from PySide6.QtWidgets import QTextBrowser, QWidget

from hangar.answers.linkages import LinkageStudy
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import decimal, level_word, put, say


def standing_words(study: LinkageStudy, travel_deg: float, view: ViewSettings) -> str:
    """How a linkage stands at a servo travel, then its troubles, as rich text."""
    there, look = study.at(travel_deg), view.look
    title = f"<b>{escape(study.code)}</b>&nbsp; {escape(study.fit.position.name)}"
    if there is None or study.link is None:
        return f"{title}<br>{escape(put(study.why))}"
    turned = there.horn_deg - study.link.horn_neutral_deg
    way = say("up") if turned >= 0.05 else say("down") if turned <= -0.05 else say("neutral")
    rows = [
        (say("Servo travel"), decimal(f"{travel_deg:+.1f}°") if travel_deg else "0°"),
        (say("Surface"), f"{decimal(f'{abs(turned):.1f}°')} {way}"),
        (say("Velocity ratio (surface ° per arm °)"), decimal(f"{abs(there.velocity_ratio):.2f}")),
        (say("Torque ratio (hinge over servo)"), decimal(f"{abs(there.torque_ratio):.2f}")),
        (say("Angle rod to horn (transmission angle)"), f"{there.transmission_deg:.0f}°"),
        (say("Angle rod to arm"), f"{there.servo_transmission_deg:.0f}°"),
    ]
    cells = "".join(
        f"<tr><td style='color:{look.soft}; padding-right:14px'>{escape(name)}</td>"
        f"<td align='right'><b>{escape(value)}</b></td></tr>"
        for name, value in rows
    )
    troubles = "".join(
        f"<div><span style='color:{look.levels[level].words}'><b>{escape(level_word(level))}</b></span> "
        f"{escape(words)}</div>"
        for level, words in troubles_of(study)
    )
    return f"{title}<table cellspacing='0'>{cells}</table>{troubles}"


def troubles_of(study: LinkageStudy) -> list[tuple[str, str]]:
    """Level and sentence of everything wrong in the travel that is used."""
    troubles = [(bind.level, put(bind.message)) for bind in study.binds]
    troubles += [
        (
            "caution",
            say(
                "Throw {way}: the linkage reaches {reached}, {wanted} is wanted.",
                way=throw.name,
                reached=decimal(f"{throw.reached.expected:.1f}°"),
                wanted=decimal(f"{throw.wanted_deg:.1f}°"),
            ),
        )
        for throw in study.throws
        if throw.is_short
    ]
    return troubles


def trouble_words(study: LinkageStudy) -> str:
    """Everything wrong with a linkage as plain text, line by line."""
    lines = [f"{level_word(level)}: {words}" for level, words in troubles_of(study)]
    lines += [say("Keep out: {zone}.", zone=zone.words) for zone in study.zones]
    return "\n".join(lines) or put(study.why) or say("Nothing found in the travel that is used.")


class LinkageWords(QTextBrowser):
    """The words beside the drawing."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.setAccessibleName(say("The linkage in words"))

    def show_study(self, study: LinkageStudy | None, travel_deg: float) -> None:
        """Tell how a linkage stands at a servo travel."""
        self.setHtml(standing_words(study, travel_deg, self._view) if study else "")
