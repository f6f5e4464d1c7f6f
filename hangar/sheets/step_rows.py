"""Steps of a checklist as they are drawn: a phase with its head, challenge and response, the call at its end.

Sizes follow what is published on flight-deck documents: lower case of a sans serif, the x height of what is
to be read at arm's length not below 0.10 inch, a quarter to a third of the print between lines (A. Degani,
On the Typography of Flight-Deck Documentation, NASA CR 177605, 1992); one list for a place and a moment,
the wanted state as the response, a completion call (A. Degani, E. L. Wiener, Human Factors of Flight-Deck
Checklists, NASA CR 177549, 1990).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hangar.base.text import Arg, Text, text
from hangar.sheets.boxes import Box, BoxPage
from hangar.sheets.style import MM
from hangar.sheets.wrapping import BODY, BOLD, width_of_mm, wrapped

STEP_PT, NOTE_PT, HEAD_PT = 13.2, 9.6, 15.0
_LINE_MM, _NOTE_MM, _PITCH_MM = 6.1, 4.2, 7.16
_SIGN_X_MM, _SAY_X_MM, _NEED_X_MM = 6.5, 12.5, 78.0
_BLANK_MM, _BLANK_GAP_MM = 17.0, 2.0
_HEAD_MM = 7.6
_OCTAGON = ((0.0, 0.3), (0.3, 0.0), (0.7, 0.0), (1.0, 0.3), (1.0, 0.7), (0.7, 1.0), (0.3, 1.0), (0.0, 0.7))
_OCTAGON_MM = 4.2


@dataclass(frozen=True, slots=True)
class Blank:
    """A line to write a reading on: its box, what stands before it, its unit."""

    box: Box
    head: Arg = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step as it is drawn.

    Attributes:
        number: counted through the card; None for a line between.
        say, need: challenge, and response with its limit.
        tick: its box.
        note: what the records say besides, in smaller print.
        blanks: what is measured, with the box for it.
        stop: whether a miss holds the aircraft; drawn as an octagon.
        known: values that the words say already, as boxes that nobody has to fill.
        last: whether the call that ends the phase comes next and must stay on its page.
    """

    number: int | None
    say: Arg
    need: Arg
    tick: Box
    note: Arg = ""
    blanks: Sequence[Blank] = ()
    stop: bool = False
    known: Sequence[Box] = ()
    last: bool = False


class StepPage(BoxPage):
    """A page with phases and steps."""

    def phase(self, title: Arg, note: Arg, number: int, head: Arg) -> None:
        """The head of a phase: grey behind it, what holds there beside it, at the right what boxes ask."""
        self.need(_HEAD_MM + 3 * self._pitch_mm)
        self.gap(1.2)
        top, base = self.y_mm, self.y_mm + _HEAD_MM - 2.1
        self.rect(self.left_mm, top, self.width_mm, _HEAD_MM, line_pt=0, fill_gray=0.88)
        words = self.style.put(title)
        self.places.append((title, self.page))
        self.bookmark(words, 1)
        self.put(str(number), self.left_mm + 1.5, base, HEAD_PT, bold=True)
        self.put(words, self.left_mm + _SAY_X_MM, base, HEAD_PT, bold=True)
        after_mm = self.left_mm + _SAY_X_MM + width_of_mm(words, BOLD, HEAD_PT) + 4
        self.put(self.style.put(note), after_mm, base, NOTE_PT)
        self.put(self.style.put(head), self.right_mm, base, NOTE_PT, align="right")
        self.y_mm = top + _HEAD_MM

    @property
    def _pitch_mm(self) -> float:
        return _PITCH_MM if self.fields is None else self.tick_mm + 0.4

    @property
    def _box_x_mm(self) -> float:
        """Where the boxes at the right edge begin, their lines within the margin."""
        return self.right_mm - self.tick_mm - 0.4

    def caution(self, argument: Arg) -> None:
        """What must be known before the next step, with its sign in front."""
        room_mm = self.width_mm - _SAY_X_MM
        lines = wrapped(self.style.put(argument), BODY, NOTE_PT, room_mm)
        height = len(lines) * _NOTE_MM + 1.4
        self.need(height + self._pitch_mm)
        self._triangle(self.left_mm + _SIGN_X_MM, self.y_mm + 1.0)
        for number, line in enumerate(lines, start=1):
            self.put(line, self.left_mm + _SAY_X_MM, self.y_mm + number * _NOTE_MM, NOTE_PT)
        self.y_mm += height

    def step(self, row: StepRow) -> None:
        """One step on a line of its own, with its box at the right edge; longer words take another line."""
        put = self.style.put
        box_mm = self._box_x_mm
        blanks_mm = box_mm - _BLANK_GAP_MM - sum(self._blank_mm(blank) for blank in row.blanks)
        say = wrapped(put(row.say), BODY, STEP_PT, _NEED_X_MM - _SAY_X_MM - 3)
        need_mm = max(blanks_mm - self.left_mm - _NEED_X_MM - 2, 25.0)
        need = wrapped(put(row.need), BOLD, STEP_PT, need_mm) if row.need else ()
        note_mm = box_mm - self.left_mm - _NEED_X_MM - 2
        note = wrapped(put(row.note), BODY, NOTE_PT, note_mm) if row.note else ()
        lines = max(len(say), len(need), 1)
        height = max(
            self._pitch_mm,
            lines * _LINE_MM + 1.1 + len(note) * _NOTE_MM,
            len(say) * _LINE_MM + 1.1,
        )
        self.need(height + (self._pitch_mm if row.last else 0.0))
        top, base = self.y_mm, self.y_mm + 5.1
        if row.number is not None:
            self.put(str(row.number), self.left_mm + 0.5, base, NOTE_PT)
        if row.stop:
            self._octagon(self.left_mm + _SIGN_X_MM, base - 3.8)
        self._lines(say, self.left_mm + _SAY_X_MM, base, bold=False)
        self._leader(say, need, base)
        self._lines(need, self.left_mm + _NEED_X_MM, base, bold=True)
        note_base = base + (max(len(need), 1) - 1) * _LINE_MM + (_NOTE_MM if need else 0.0) + 0.3
        for number, line in enumerate(note):
            self.put(line, self.left_mm + _NEED_X_MM, note_base + number * _NOTE_MM, NOTE_PT)
        x_mm = blanks_mm
        for box in row.known:
            self.hidden_value(box, x_mm, top + 1.0)
        for blank in row.blanks:
            x_mm = self._blank(blank, x_mm, base)
        self.tick_box(box_mm, top + 0.5, row.tick.name, f"{put(row.say)}: {put(row.need)}")
        self.y_mm = top + height
        self.line(self.left_mm, self.y_mm, box_mm - 0.5, self.y_mm)

    def job(self, number: int, to_do: Arg, clears: Sequence[Arg]) -> None:
        """One job: what to do on grey, and under it each warning that it clears."""
        put = self.style.put
        title = wrapped(put(to_do), BOLD, STEP_PT, self.width_mm - _SAY_X_MM - 2)
        paragraphs = [wrapped(put(words), BODY, NOTE_PT, self.width_mm - _SAY_X_MM) for words in clears]
        band_mm = len(title) * _LINE_MM + 1.2
        self.need(band_mm + sum(len(lines) for lines in paragraphs) * _NOTE_MM + self._pitch_mm + 2)
        self.gap(1.0)
        self.rect(self.left_mm, self.y_mm, self.width_mm, band_mm, line_pt=0, fill_gray=0.88)
        base = self.y_mm + 5.0
        self.put(str(number), self.left_mm + 1.5, base, STEP_PT, bold=True)
        self._lines(title, self.left_mm + _SAY_X_MM, base, bold=True)
        self.y_mm += band_mm + 0.8
        for lines in paragraphs:
            self._octagon(self.left_mm + _SIGN_X_MM, self.y_mm + 0.3)
            for place, line in enumerate(lines, start=1):
                self.put(line, self.left_mm + _SAY_X_MM, self.y_mm + place * _NOTE_MM, NOTE_PT)
            self.y_mm += max(len(lines) * _NOTE_MM, _OCTAGON_MM + 0.2) + 0.6

    def signed(self, who: tuple[Text, str], when: tuple[Text, str], sentence: Text, tick: Box) -> None:
        """Who did it and when, and the box of the second look."""
        self.need(self._pitch_mm)
        top, base = self.y_mm, self.y_mm + 5.1
        box_mm = self._box_x_mm
        x_mm = self._named_line(*who, self.left_mm + _SAY_X_MM, base, 55.0)
        self._named_line(*when, x_mm + 4, base, 30.0)
        self.put(self.style.put(sentence), box_mm - 2, base, NOTE_PT, align="right")
        self.tick_box(box_mm, top + 0.5, tick.name, self.style.put(sentence), line_pt=1.6)
        self.y_mm = top + self._pitch_mm

    def complete(self, argument: Arg, tick: Box, names: tuple[str, str]) -> None:
        """The call that ends a phase: time and name, in a thicker box.

        Args:
            said: ``Pits complete``.
            tick: its box.
            names: of the fields for the time and the name.
        """
        self.need(self._pitch_mm)
        top, base = self.y_mm, self.y_mm + 5.1
        words = self.style.put(argument)
        self.put(words, self.left_mm + _SAY_X_MM, base, STEP_PT, bold=True)
        x_mm = self.left_mm + max(_SAY_X_MM + width_of_mm(words, BOLD, STEP_PT) + 4, _NEED_X_MM)
        box_mm = self._box_x_mm
        x_mm = self._named_line(text("time"), names[0], x_mm, base, 22.0)
        self._named_line(text("by"), names[1], x_mm + 3, base, box_mm - 3 - x_mm - 8)
        self.tick_box(box_mm, top + 0.5, tick.name, words, line_pt=1.6)
        self.y_mm = top + self._pitch_mm

    def framed(self, title: Arg, note: Arg, blanks: Sequence[tuple[Text, str, float]]) -> None:
        """A box to sign in: title, on what condition, and lines to write on with their shares of width."""
        words, wording = self.style.put(title), self.style.put(note)
        beside_mm = width_of_mm(words, BOLD, STEP_PT) + width_of_mm(wording, BODY, NOTE_PT) + 8
        under_mm = 0.0 if beside_mm <= self.width_mm else _NOTE_MM + 0.6
        height = 2 * _LINE_MM + 5.5 + under_mm
        self.need(height + 2)
        self.gap(1.5)
        top = self.y_mm
        self.frame(top, height, 2.0)
        self.put(words, self.left_mm + 2, top + 5.4, STEP_PT, bold=True)
        self.put(wording, self.right_mm - 2, top + 5.4 + under_mm, NOTE_PT, align="right")
        share_mm = (self.width_mm - 4) / sum(share for _, _, share in blanks)
        x_mm = self.left_mm + 2
        for head, name, share in blanks:
            width_mm = share * share_mm
            said_mm = width_of_mm(self.style.put(head), BODY, NOTE_PT) + 1.5
            self._named_line(head, name, x_mm, top + height - 2.4, width_mm - said_mm - 3)
            x_mm += width_mm
        self.y_mm = top + height

    def _named_line(self, head: Text, name: str, x_mm: float, base_mm: float, width_mm: float) -> float:
        """A word and a line to write on; returns where the line ends."""
        words = self.style.put(head)
        self.put(words, x_mm, base_mm, NOTE_PT)
        from_mm = x_mm + width_of_mm(words, BODY, NOTE_PT) + 1.5
        self.line(from_mm, base_mm + 0.6, from_mm + width_mm, base_mm + 0.6)
        height_mm = self.tick_mm
        self.text_field(name, from_mm, base_mm + 1.2 - height_mm, width_mm, height_mm)
        return from_mm + width_mm

    def _blank_mm(self, blank: Blank) -> float:
        put = self.style.put
        head_mm = width_of_mm(put(blank.head), BODY, NOTE_PT) + 1.0 if blank.head else 0.0
        unit_mm = width_of_mm(blank.unit, BODY, STEP_PT) + 1.2 if blank.unit else 0.0
        return head_mm + _BLANK_MM + unit_mm + _BLANK_GAP_MM

    def _blank(self, blank: Blank, x_mm: float, base_mm: float) -> float:
        end_mm = x_mm + self._blank_mm(blank)
        if blank.head:
            words = self.style.put(blank.head)
            self.put(words, x_mm, base_mm, NOTE_PT)
            x_mm += width_of_mm(words, BODY, NOTE_PT) + 1.0
        self.line(x_mm, base_mm + 0.7, x_mm + _BLANK_MM, base_mm + 0.7, 0.8)
        height_mm = self.tick_mm
        self.text_field(blank.box.name, x_mm, base_mm + 1.0 - height_mm + 0.4, _BLANK_MM, height_mm)
        if blank.unit:
            self.put(blank.unit, x_mm + _BLANK_MM + 1.2, base_mm, STEP_PT)
        return end_mm

    def _lines(self, lines: Sequence[str], x_mm: float, base_mm: float, *, bold: bool) -> None:
        for number, line in enumerate(lines):
            self.put(line, x_mm, base_mm + number * _LINE_MM, STEP_PT, bold=bold)

    def _leader(self, say: Sequence[str], need: Sequence[str], base_mm: float) -> None:
        """Dots that lead the eye from the challenge to its response."""
        if not need:
            return
        from_mm = self.left_mm + _SAY_X_MM + width_of_mm(say[0], BODY, STEP_PT) + 1.5
        to_mm = self.left_mm + _NEED_X_MM - 1.5
        if to_mm - from_mm < 2:
            return
        self.canvas.setDash(0.8, 2.4)
        self.line(from_mm, base_mm, to_mm, base_mm, 0.6)
        self.canvas.setDash()

    def _octagon(self, x_mm: float, y_mm: float) -> None:
        """Black, with a white stroke and dot: what is missed here holds the aircraft."""
        canvas, size = self.canvas, _OCTAGON_MM
        path = canvas.beginPath()
        corners = [
            ((x_mm + size * across) * MM, (self.page_height_mm - y_mm - size * down) * MM)
            for across, down in _OCTAGON
        ]
        path.moveTo(*corners[0])
        for corner in corners[1:]:
            path.lineTo(*corner)
        path.close()
        canvas.setFillGray(0.0)
        canvas.drawPath(path, stroke=0, fill=1)
        self.put("!", x_mm + size / 2, y_mm + size - 0.75, 10.0, bold=True, align="middle", white=True)

    def _triangle(self, x_mm: float, y_mm: float) -> None:
        canvas, size = self.canvas, 3.6
        path = canvas.beginPath()
        height = self.page_height_mm
        path.moveTo((x_mm + size / 2) * MM, (height - y_mm) * MM)
        path.lineTo((x_mm + size) * MM, (height - y_mm - size * 0.9) * MM)
        path.lineTo(x_mm * MM, (height - y_mm - size * 0.9) * MM)
        path.close()
        canvas.setLineWidth(1.0)
        canvas.drawPath(path, stroke=1, fill=0)
        self.put("!", x_mm + size / 2, y_mm + size * 0.9 - 0.55, 9.0, bold=True, align="middle")
