"""What each box of a field checklist, a bench check or a charging card means for the records."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date

from hangar.base.kept_text import kept_text
from hangar.base.text import Amount, Arg, listed, series, text
from hangar.parts import (
    Airframe,
    BenchCheck,
    Channel,
    Feed,
    PathCheck,
    Position,
    RangeCheck,
    Setting,
    SupplyCheck,
)
from hangar.parts.choices import FailsafeAction, Severity
from hangar.parts.failsafe import (
    action_named,
    action_text,
    actions_in_words,
    expected_actions,
    has_time_limit,
    is_contradicted,
    is_set_wrong,
    required_actions,
)
from hangar.parts.fields import key_of
from hangar.parts.sheet_boxes import (
    BALANCE_MM,
    BENCH,
    BENCH_UNITS,
    CHARGING,
    FIELD,
    LINE,
    MASS,
    PATH_READINGS,
    RANGE_M,
    ROTOR_READINGS,
    SERVO_READINGS,
    SUPPLY_READINGS,
    is_flight,
    path_of,
    ticks_resting_on,
)
from hangar.parts.thresholds import Thresholds
from hangar.store.edit import Edit
from hangar.store.filled_sheet import (
    Answer,
    FilledSheet,
    FlightHindrances,
    LimitsOf,
    Outcome,
    one_line,
)
from hangar.store.sheet_day import raise_snag, take_day
from hangar.store.sheet_packs import (
    PACK_FIELDS,
    take_charge,
    take_charged,
    take_charges,
    take_pack,
    take_tested,
    take_tests,
)
from hangar.store.sheet_surfaces import (
    THROW_FIELDS,
    take_balance,
    take_mass,
    take_play,
    take_rotor,
    take_throw,
)

NAMES = ("Pilot", "Looked at by", "Bench-checked by", "Charged by")
"""Who took the readings; it is kept with each record that has a place for it."""

_DATES = {FIELD: "Date, time", BENCH: "Date", CHARGING: "Date"}


def take_answers(
    edit: Edit,
    aircraft: str,
    sheet: str,
    answers: Iterable[Answer],
    today: date,
    *,
    without_date: date | None = None,
    plan: str | None = None,
    hindrances: FlightHindrances | None = None,
    limits: LimitsOf | None = None,
) -> Outcome:
    """Write the answers of one sheet as records; a box left blank says nothing.

    Args:
        edit: the edit in which they are written.
        aircraft: whose sheet it is; empty for a charging card.
        sheet: ``field``, ``bench`` or ``charging``.
        answers: every box of the sheet, the blank ones with an empty text.
        today: no sheet may bear a later date.
        without_date: the day of a sheet that bears none; today without it.
        plan: the refit whose stages a bench check ticks.
        hindrances: tells what stood against the flights on it; without it only the records do.
        limits: within which each reading should lie; a tick beside one that is out is no proof.

    Returns: what was taken, refused and doubted. A refused answer leaves the others standing.
    """
    filled = FilledSheet(edit, aircraft, sheet, today, list(answers), plan, hindrances)
    if not filled.answers or not filled.find_moment(_DATES[sheet], without_date or today):
        return filled.outcome
    filled.drop_unfit()
    if limits is not None:
        _hold_against(filled, limits)
    named = [answer for answer in filled.answers if not answer.about and answer.what in NAMES]
    filled.by = named[0].text.strip() if named else None
    steps = _STEPS[sheet]
    for answer in list(filled.answers):
        if answer not in named:
            step = steps.get(answer.box) or steps.get(answer.what, _keep_words)
            (_with_the_day if answer.about == LINE and step is _keep_words else step)(filled, answer)
    take_tests(filled)
    take_charges(filled)
    filled.write()
    take_day(filled)
    _name_blanks(filled)
    return filled.outcome


_JUDGED_WITH_THE_OUTPUT = ("It did", "No signal", "After")
_BLANKS_NAMED = 12


def _hold_against(filled: FilledSheet, limits: LimitsOf) -> None:
    """Say which readings are out, and take the ticks that rest on them for no proof."""
    for answer in list(filled.answers):
        if answer.what in _JUDGED_WITH_THE_OUTPUT:
            continue
        allowed = limits(answer.about, answer.what)
        if allowed is None or allowed.verdict(answer.text) is not False:
            continue
        filled.doubt(answer, text("is OUT; allowed is {limits}.", limits=allowed.text))
        filled.is_contradicted = True
        for about, what in ticks_resting_on(answer.about, answer.what):
            for tick in [other for other in filled.answers if (other.about, other.what) == (about, what)]:
                filled.void(
                    tick,
                    text(
                        "is no proof, for {reading} is {words}; allowed is {limits}.",
                        reading=answer.name,
                        words=one_line(answer.text),
                        limits=allowed.text,
                    ),
                )


def _name_blanks(filled: FilledSheet) -> None:
    """Name every box of the sheet that was left blank: nothing was taken of it."""
    blank = [
        box.name
        for box in filled.blank
        if box.about and not is_flight(box.about) and box.what not in _NOT_ASKED
    ]
    if not blank or filled.sheet == CHARGING:
        return
    more = len(blank) - _BLANKS_NAMED
    names: list[Arg] = [*blank[:_BLANKS_NAMED]]
    if more > 0:
        names.append(text("{count} more", count=more))
    filled.state(None, text("left blank and not taken: {boxes}.", boxes=series(names, ",")))


_NOT_ASKED = ("Charged", "Stick", "No signal", "After")


def _keep_words(filled: FilledSheet, answer: Answer) -> None:
    """What has no field of its own is kept in words with the day's check."""
    filled.note(text("{box} {words}", box=answer.name, words=one_line(answer.text)))


def _with_the_day(_taking: FilledSheet, _answer: Answer) -> None:
    """What is read with all others of its kind, when the day is written."""


def _control(filled: FilledSheet, answer: Answer) -> None:
    """The field's box is for direction, travel and centre, the bench's for direction alone."""
    if filled.edit.record(Position, filled.aircraft, answer.about) is None:
        filled.note(text("{about} direction right", about=answer.about))
    elif filled.sheet == FIELD:
        filled.check(answer.about, direction_ok=True, centre_ok=True)
    else:
        filled.check(answer.about, direction_ok=True)


def _at_servo(filled: FilledSheet, answer: Answer) -> None:
    name = SERVO_READINGS[answer.what]
    value = filled.number(answer, BenchCheck, name, bare=BENCH_UNITS[answer.what])
    if value is not None:
        filled.check(answer.about, **{name: value})


def _of_supply(filled: FilledSheet, answer: Answer) -> None:
    name = SUPPLY_READINGS[answer.what]
    value = filled.number(answer, SupplyCheck, name, bare=BENCH_UNITS[answer.what])
    if value is not None:
        filled.gather(SupplyCheck, (filled.aircraft, filled.moment), **{name: value})


def _of_path(filled: FilledSheet, answer: Answer) -> None:
    name, feed = PATH_READINGS[answer.what], path_of(answer.about)
    if feed is None or filled.edit.record(Feed, filled.aircraft, feed) is None:
        filled.refuse(answer, text("cannot be kept, for the aircraft has no such power path any more."))
        return
    value = filled.number(answer, PathCheck, name, bare=BENCH_UNITS[answer.what])
    if value is not None:
        filled.gather(PathCheck, (filled.aircraft, feed, filled.moment), **{name: value})


def _failsafe(filled: FilledSheet, answer: Answer) -> None:
    channel = _channel(filled, answer.about)
    if channel is None:
        filled.refuse(answer, text("is ticked, but no channel is recorded for it; enter the channel first."))
    elif not _is_contradicted(filled, answer, channel) and filled.is_news(answer, channel.failsafe_proved_on):
        filled.change(answer, Channel, key_of(channel), failsafe_proved_on=filled.day)


def _is_contradicted(filled: FilledSheet, answer: Answer, channel: Channel) -> bool:
    """Whether a tick is no proof, for what was seen or set says otherwise; it is refused then."""
    asked = actions_in_words(expected_actions(channel))
    seen, setting = filled.other(answer, "It did"), _setting(filled, answer, channel)
    if seen is not None and is_contradicted(channel, seen.text):
        words = seen.text.strip()
        filled.refuse(
            answer,
            text("is no proof, for it did {words}; allowed is {asked}.", words=repr(words), asked=asked),
        )
    elif setting is not None and is_set_wrong(replace(channel, failsafe=setting)):
        filled.refuse(
            answer,
            text(
                "is no proof, for the channel is set to {setting}; allowed is {asked}.",
                setting=setting,
                asked=asked,
            ),
        )
    elif (late := _late(filled, answer, channel)) is not None:
        filled.refuse(
            answer,
            text(
                "is no proof, for it took {seconds:g} s; allowed is {limit:g} s or less.",
                seconds=late[0],
                limit=late[1],
            ),
        )
    else:
        return False
    filled.is_contradicted = True
    return True


def _late(filled: FilledSheet, answer: Answer, channel: Channel) -> tuple[float, float] | None:
    """Seconds it took and those allowed, where it took too long; None where no time is asked or read."""
    frame, after = filled.edit.record(Airframe, filled.aircraft), filled.other(answer, "After")
    if frame is None or after is None or not has_time_limit(frame, channel):
        return None
    seconds = filled.measure(after, "s", bare="s")
    limits = Thresholds.from_settings(filled.edit.records(Setting))
    limit = limits.value("turbine-stop", frame.aircraft_class)
    return None if seconds is None or seconds <= limit else (seconds, limit)


def _failsafe_stage(filled: FilledSheet, answer: Answer) -> None:
    """The stage as a whole is not passed while one output did, or is set to, what it must not."""
    for seen in filled.answers:
        channel = _channel(filled, seen.about) if seen.what == "It did" else None
        if channel is not None and is_contradicted(channel, seen.text):
            words = seen.text.strip()
            filled.void(
                answer,
                text(
                    "is not passed, for {about} did {words} without a signal.",
                    about=seen.about,
                    words=repr(words),
                ),
            )
            return
    for channel in filled.edit.records(Channel, aircraft=filled.aircraft):
        if is_set_wrong(channel):
            asked = actions_in_words(expected_actions(channel))
            filled.void(
                answer,
                text(
                    "is not passed, for channel {number} is set to {failsafe}; allowed is {asked}.",
                    number=channel.number,
                    failsafe=channel.failsafe,
                    asked=asked,
                ),
            )
            return


def _setting(filled: FilledSheet, answer: Answer, channel: Channel) -> FailsafeAction | None:
    """The setting in the records, or the one written beside the tick."""
    written = filled.other(answer, "No signal")
    named = action_named(written.text) if written else None
    return channel.failsafe or named


def _did(filled: FilledSheet, answer: Answer) -> None:
    """What an output did without a signal; where that is wrong a snag is raised, which a check tells."""
    channel = _channel(filled, answer.about)
    words = answer.text.strip()
    filled.note(text("{about} did {words}", about=answer.about, words=one_line(words)))
    if channel is None or not is_contradicted(channel, words):
        return
    asked = actions_in_words(expected_actions(channel))
    filled.doubt(answer, text("is not what must be seen without a signal: {asked}.", asked=asked))
    weight = Severity.GROUNDS if required_actions(channel) else Severity.LIMITS
    sentence = text(
        "Failsafe of {about}: without a signal it did {words}; wanted is {asked}",
        about=answer.about,
        words=repr(words),
        asked=asked,
    )
    raise_snag(filled, kept_text(sentence), weight, answer)


def _action(filled: FilledSheet, answer: Answer) -> None:
    """What an output does without a signal, where the records do not say so yet."""
    channel = _channel(filled, answer.about)
    action = action_named(answer.text)
    if channel is None:
        filled.refuse(answer, text("cannot be kept, for no channel is recorded; enter the channel first."))
    elif action is None:
        filled.refuse(
            answer,
            text(
                "is no failsafe; allowed is {choices}.",
                choices=listed(map(action_text, FailsafeAction), joint=",", most=0),
            ),
        )
    elif channel.failsafe not in (None, action):
        filled.refuse(
            answer,
            text(
                "is not taken: the records say {failsafe}; change it there if wrong.",
                failsafe=channel.failsafe,
            ),
        )
    else:
        filled.change(answer, Channel, key_of(channel), failsafe=action)
        if is_set_wrong(replace(channel, failsafe=action)):
            asked = actions_in_words(expected_actions(channel))
            filled.doubt(answer, text("is not what must be seen without a signal: {asked}.", asked=asked))


def _stick(filled: FilledSheet, answer: Answer) -> None:
    """Which way a stick answers, where the records do not say so yet."""
    channel = _channel(filled, answer.about)
    words = answer.text.strip()
    if channel is None:
        filled.refuse(answer, text("cannot be kept, for no channel is recorded; enter the channel first."))
    elif channel.stick is None or channel.stick == words:
        filled.change(answer, Channel, key_of(channel), stick=words)
    else:
        filled.refuse(
            answer,
            text(
                "is not taken: the records say {stick}; change it there if wrong.", stick=repr(channel.stick)
            ),
        )


def _after(filled: FilledSheet, answer: Answer) -> None:
    """Seconds until an output did what it must; a turbine's record has a place for its own."""
    value = filled.measure(answer, "s", bare="s")
    if value is None:
        return
    channel, frame = _channel(filled, answer.about), filled.edit.record(Airframe, filled.aircraft)
    if channel is not None and frame is not None and has_time_limit(frame, channel):
        kept = filled.checked(answer, Airframe, "turbine_stop_s", value)
        if kept is not None:
            filled.change(answer, Airframe, (frame.code,), turbine_stop_s=kept)
    else:
        filled.note(text("{about} after {time}", about=answer.about, time=Amount(value, "s")))


def _channel(filled: FilledSheet, about: str) -> Channel | None:
    position = filled.edit.record(Position, filled.aircraft, about)
    if position is not None:
        port, number = position.port, position.channel
    else:
        _, _, place = about.partition("channel ")
        port, _, words = place.rpartition(" ")
        number = int(words) if words.isdecimal() and len(words) < 4 else None
    return None if number is None else filled.edit.record(Channel, filled.aircraft, port, number)


def _range_line(filled: FilledSheet, answer: Answer) -> None:
    """A range check counts once its line is ticked; its distance stands beside it."""
    distance = filled.other(answer, "range m")
    value = filled.number(distance, RangeCheck, "distance_m") if distance else None
    if value is not None:
        filled.range["distance_m"] = value
    filled.put_range_check(answer)


def _range_distance(filled: FilledSheet, answer: Answer) -> None:
    if filled.other(answer, "range") is None:
        filled.refuse(answer, text("is given, but the line is not ticked; no range check was taken."))


def _line_noted(filled: FilledSheet, answer: Answer) -> None:
    """A reading of the whole aircraft that has no field of its own is kept in words."""
    filled.note(text("{box} {words}", box=answer.name, words=one_line(answer.text)))


def _range_stage(filled: FilledSheet, answer: Answer) -> None:
    """The stage of the range check: its distance counts once it is ticked as passed."""
    if answer.what == "Passed":
        distance = filled.other(answer, RANGE_M)
        value = filled.number(distance, RangeCheck, "distance_m") if distance else None
        if value is not None:
            filled.range["distance_m"] = value
        filled.put_range_check(answer)
    elif filled.other(answer, "Passed") is None:
        filled.refuse(answer, text("is given, but B12 is not ticked as passed; no range check was taken."))


_Step = Callable[[FilledSheet, Answer], None]
_STEPS: Mapping[str, Mapping[str, _Step]] = {
    FIELD: {
        f"{LINE} range": _range_line,
        f"{LINE} range m": _range_distance,
        f"{LINE} balance mm": take_balance,
        **dict.fromkeys((f"{LINE} free-play deg", f"{LINE} pitch deg"), _line_noted),
        **dict.fromkeys(PACK_FIELDS, take_pack),
        "Tested": take_tested,
        "Charged": take_charged,
        "Control": _control,
        "Failsafe": _failsafe,
        "No signal": _action,
        "Stick": _stick,
        **dict.fromkeys(("Flights today", "Minutes", "Remarks", "Snag", "Snag found", "Held"), _with_the_day),
    },
    BENCH: {
        **dict.fromkeys(("B9 Passed",), _failsafe_stage),
        **dict.fromkeys(("B12 Passed", f"B12 {RANGE_M}"), _range_stage),
        MASS: take_mass,
        BALANCE_MM: take_balance,
        **dict.fromkeys(SERVO_READINGS, _at_servo),
        **dict.fromkeys(SUPPLY_READINGS, _of_supply),
        **dict.fromkeys(PATH_READINGS, _of_path),
        **{f"{side} {unit}": take_throw for side in THROW_FIELDS for unit in ("deg", "mm")},
        **dict.fromkeys(ROTOR_READINGS, take_rotor),
        "Direction": _control,
        "Stick": _stick,
        "It did": _did,
        "After": _after,
        "Failsafe": _failsafe,
        "No signal": _action,
        "Play": take_play,
        "Passed": _with_the_day,
        **dict.fromkeys(("Currents", "Throws", "Free play", "Rotor"), _with_the_day),
    },
    CHARGING: {
        **dict.fromkeys(("Charged", "Put back"), take_charge),
        "Last": take_charged,
    },
}
