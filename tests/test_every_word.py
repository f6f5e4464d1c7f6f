"""Every word that is said is in the catalogue, or is the keeper's own."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from enum import Enum
from pathlib import Path

import pytest

from hangar.base.errors import HangarError
from hangar.base.figure import Figure
from hangar.base.reader import Reader, languages
from hangar.base.text import Arg, ItemList, Text, lowered, text
from hangar.base.unit_table import UNITS
from hangar.base.units import parse_quantity, parse_rating
from hangar.parts import (
    RECORD_KINDS,
    Aircraft,
    Airframe,
    Lead,
    Library,
    Pack,
    PackType,
    Position,
    Servo,
    ServoType,
    Setting,
)
from hangar.parts.fields import columns, key_of
from hangar.refit.ladder import ladder
from hangar.refit.line_words import change_words
from hangar.refit.request import RefitRequest
from hangar.refit.stages import lines_in_stages
from hangar.rules import Finding, all_rules, inspect, reminders
from hangar.rules.examples import home_day
from hangar.rules.registry import Example, Scene
from hangar.store import Fleet
from hangar.store.edit import Edit
from hangar.store.sheet_pdf import read_form
from hangar.store.tables import table_name
from hangar.store.tables_io import bring_in
from hangar.survey import Conditions, survey
from tests.catalogue import read_catalogue, write_catalogue
from tests.demo_copies import demo_copy
from tests.pseudo import OPEN, bare_words, pseudo_catalogue, pseudo_reader
from tests.rules.demo_trees import TODAY, demo, records

RULES = sorted(all_rules())


CATALOGUE_WORDS = (
    "Main", "Fit", "Two", "Throttle", "Light", "Servo", "Pack", "Good", "Left", "Analog", "Warning", "None",
    "Idle", "Yes", "Not known", "Tail", "Channel", "Receiver", "Gyro", "Lead", "Arm", "Rod", "Bench", "Price",
)  # fmt: skip
"""Names that a keeper may give, each of which the program translates where it says it itself."""


def names_in(argument: Arg) -> Iterator[str]:
    """The keeper's words that a text holds, wherever in it they stand."""
    if isinstance(argument, Text):
        for arg in argument.args.values():
            yield from names_in(arg)
    elif isinstance(argument, ItemList):
        for item in argument.items[: argument.most or None]:
            yield from names_in(item)
    elif isinstance(argument, str) and not isinstance(argument, Enum):
        yield argument


def _renamed_fleet(fleet: Fleet) -> None:
    """Give aircraft, positions, tags and types of the invented fleet names that are words of the program."""

    def rename(edit: Edit) -> None:
        for kind in (Pack, Servo, ServoType, PackType):
            for number, record in enumerate(edit.records(kind)):
                word = CATALOGUE_WORDS[number % len(CATALOGUE_WORDS)]
                extra = "" if number < len(CATALOGUE_WORDS) else f" {number}"
                edit.rename(kind, key_of(record), [f"{word}{extra}"])
        for aircraft in ("MARQ", "MER60", "PERT", "ALB5"):
            for number, record in enumerate(edit.records(Position, aircraft=aircraft)):
                word = CATALOGUE_WORDS[number % len(CATALOGUE_WORDS)]
                edit.change(Position, key_of(record), name=word)
                edit.rename(Position, key_of(record), [aircraft, word])

    fleet.edit("Rename", rename)


@pytest.mark.parametrize("language", ["en", "de", "xx"])
def test_every_name_of_the_keeper_stands_unchanged_in_what_is_said(language: str) -> None:
    reader = pseudo_reader() if language == "xx" else Reader(language)
    lost = []
    with demo_copy(TODAY) as fleet:
        _renamed_fleet(fleet)
        library = fleet.library()
        for aircraft in fleet.whole_fleet(TODAY):
            looked = survey(aircraft, Conditions(today=TODAY))
            for finding in inspect(aircraft, looked, library=library):
                for argument in texts_of(finding):
                    words = reader.put(argument)
                    for name in names_in(argument):
                        stands = name in words or (language == "en" and lowered(name) in words)
                        lost += [] if stands else [f"{name!r} is not in {words!r}"]
    assert lost == []


def test_a_language_is_one_catalogue(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a contributor adds is one file in the folder of words; the program finds it there."""
    write_catalogue(tmp_path / "xx.po", read_catalogue(tmp_path / "xx.po"))
    (tmp_path / "xx.mo").write_bytes(pseudo_catalogue().read_bytes())
    monkeypatch.setattr("hangar.base.reader.words_dir", lambda: tmp_path)
    languages.cache_clear()
    try:
        assert languages() == ("en", "xx")
        words = Reader("xx").put(text('Plan "{title}" cannot be carried out: {fault}', title="Main"))
        assert bare_words(words, {"Main"}) == ""
        assert OPEN in words
    finally:
        languages.cache_clear()


def keepers_words(*trees: object) -> set[str]:
    """Every text that stands in the records: tags, codes, names, makers, remarks."""
    lines: set[str] = set()
    for tree in trees:
        for record in records(tree):
            for value in vars(record).values():
                if isinstance(value, str) and not isinstance(value, Enum) and value:
                    lines |= {value, lowered(value)}
    return lines


def library_words(library: Library | None) -> set[str]:
    if library is None:
        return set()
    kept: list[object] = []
    for held in vars(library).values():
        kept += held.values() if isinstance(held, dict) else held if isinstance(held, tuple) else ()
    return keepers_words(*kept)


def texts_of(finding: Finding) -> Iterator[Arg]:
    for each in finding.with_folded():
        fields: tuple[Arg, ...] = (
            each.message,
            each.detail,
            each.remedy,
            each.title,
            each.source,
            *each.missing,
            each.level,
        )
        yield from fields
        for figure in each.figures:
            yield from texts_of_figure(figure)


def texts_of_figure(figure: Figure) -> Iterator[Arg]:
    yield from (figure.name, figure.basis, figure.working.formula, figure.working.source)
    for given in figure.working.inputs:
        yield from (given.name, given.basis)
        if isinstance(given.value, Text):
            yield given.value


def unsaid(texts: Iterable[Arg], keepers: set[str]) -> list[str]:
    reader = pseudo_reader()
    found = {}
    for argument in texts:
        words = reader.put(argument)
        if bare_words(words, keepers):
            found[words] = bare_words(words, keepers)
    return [f"{words!r} has {bare!r} bare" for words, bare in found.items()]


TABLES = {
    "servo.csv": "tag,servo_type,state,bought_on\nA1,NONE,in the bay,soon\nA2,NONE,lost,2020-01-01\n",
    "arm.csv": "code,colour\nZ,red\n",
    "lead.csv": "aircraft,position,length,joints\nALB5,RUD,300,2\n",
    "airframe.csv": "code,name,aircraft_class,weight [kg]\nNEW,New one,balloon,1\n",
    "switch.csv": "aircraft,code,switch_type,x [V]\nALB5,S,NONE,5\n",
    "pack.csv": "tag,pack_type,bought_on,cycles\nP9,,2020-01-01,=1+1\nP8,NONE,2020-02-30,-4\n",
    "thing.csv": "a,b\n1,2\n",
    "position.csv": "aircraft,code,name,function\nALB5,X,X,aileron,1\nALB5,Y,Y,winch\n",
}


def test_a_bring_in_says_nothing_but_words_of_the_catalogue_and_of_the_keeper(tmp_path: Path) -> None:
    for name, rows in TABLES.items():
        (tmp_path / name).write_text(rows, encoding="utf-8")
    with demo_copy(TODAY) as fleet:
        words = []
        for name in TABLES:
            try:
                report = bring_in(fleet, [tmp_path / name], today=TODAY)
            except HangarError as fault:
                words.append(fault.text)
            else:
                words += [note.text for note in (*report.refused, *report.doubtful, *report.stated)]
                headline = report.text(pseudo_reader().put).splitlines()[0]
                assert bare_words(headline, set()) == ""
    assert len(words) > 8
    keepers = {*TABLES, *(re.split(r"[,\n]", "".join(TABLES.values()))), "soon", "1,2"}
    keepers |= {table_name(kind) for kind in RECORD_KINDS}
    keepers |= {spec.name for kind in RECORD_KINDS for spec in columns(kind)}
    keepers |= {unit.symbol for unit in UNITS.values()} | {unit.key for unit in UNITS.values()}
    assert "\n".join(unsaid(words, {word for word in keepers if word})) == ""


def test_a_refit_says_nothing_but_words_of_the_catalogue_and_of_the_keeper() -> None:
    with demo_copy(TODAY) as fleet:
        aircraft, library = fleet.aircraft("CIND"), fleet.library()
    asking = RefitRequest(budget=60.0, conditions=Conditions(today=TODAY))
    rungs = ladder(aircraft, library, asking).rungs.values()
    keepers = keepers_words(aircraft) | library_words(library)
    heard: list[Arg] = []
    for answer in rungs:
        heard += [*(refusal.what for refusal in answer.refused), *(refusal.why for refusal in answer.refused)]
        heard += [*change_words(answer.lines, aircraft), *answer.unknown]
        heard += [unit.words for unit in (*answer.clears, *answer.brings)]
        heard += [words for stay in answer.stays for words in (stay.unit.words, stay.words)]
        staged = lines_in_stages(aircraft, answer.lines, library, asking, (20.0, 20.0))
        heard += [words for bundle, why in staged.left for words in (bundle.words, why)]
    assert any(answer.refused and answer.changes for answer in rungs)
    assert unsaid(heard, keepers) == []


def _errors(fleet: Fleet) -> Iterator[Callable[[], object]]:
    yield lambda: parse_quantity("12 furlongs", "length")
    yield lambda: parse_quantity("3", "torque")
    yield lambda: parse_rating("fast", "servo speed")
    yield lambda: fleet.aircraft("NOWHERE")
    yield lambda: fleet.edit("x", lambda edit: edit.rename(Airframe, ["ALB5"], ["MARQ"]))
    yield lambda: fleet.edit("x", lambda edit: edit.remove(Airframe, ["NOWHERE"]))
    yield lambda: fleet.edit("x", lambda edit: edit.change(Airframe, ["ALB5"], year_built=3))
    yield lambda: fleet.edit("x", lambda edit: edit.change(Airframe, ["ALB5"], name=""))
    yield lambda: fleet.edit("x", lambda edit: edit.change(Airframe, ["ALB5"], aircraft_class="balloon"))
    yield lambda: fleet.edit("x", lambda edit: edit.change(Airframe, ["ALB5"], wingspan=3))
    yield lambda: fleet.edit("x", lambda edit: edit.remove(ServoType, ["TS-31"]))
    yield lambda: fleet.edit("x", lambda edit: edit.put(Lead(aircraft="ALB5", position="NO", length_mm=-5)))
    yield lambda: fleet.edit("x", lambda edit: edit.put(Setting(name="a\x00", value="b")))
    yield lambda: Fleet.open(Path("nowhere.hangar"))
    yield lambda: read_form(Path(__file__))
    yield lambda: RefitRequest(budget=-1.0)


def test_an_error_says_nothing_but_words_of_the_catalogue_and_of_the_keeper() -> None:
    reader = pseudo_reader()
    with demo_copy(TODAY) as fleet:
        keepers = keepers_words(*fleet.whole_fleet(TODAY)) | library_words(fleet.library())
        keepers |= {unit.key for unit in UNITS.values()}
        keepers |= {
            "furlongs", "12 furlongs", "NOWHERE", "balloon", "wingspan", "fast", "much", "nowhere.hangar",
            "a\x00", "'a\\x00'", "year_built", Path(__file__).name, "NO",
            *(spec.name for kind in (Airframe, Lead) for spec in columns(kind)),
        }  # fmt: skip
        found = {}
        for number, act in enumerate(_errors(fleet)):
            try:
                act()
            except HangarError as fault:
                words = reader.put(fault.text)
            else:
                words = "nothing was refused"
            if bare := bare_words(words, keepers):
                found[number] = f"{words!r} has {bare!r} bare"
    assert "\n".join(found.values()) == ""


def _scene(example: Example) -> Scene:
    made = example()
    return made if isinstance(made, Scene) else Scene(made)


@pytest.mark.parametrize("slug", RULES)
def test_a_finding_says_nothing_but_words_of_the_catalogue_and_of_the_keeper(slug: str) -> None:
    rule = all_rules()[slug]
    scene = _scene(rule.flags)
    looked = survey(scene.aircraft, scene.conditions or home_day())
    findings = (
        reminders(scene.aircraft, looked)
        if rule.reminder
        else inspect(scene.aircraft, looked, library=scene.library)
    )
    keepers = keepers_words(scene.aircraft) | library_words(scene.library)
    assert unsaid((argument for finding in findings for argument in texts_of(finding)), keepers) == []


def _demo_aircraft() -> list[Aircraft]:
    return list(demo()[0].values())


@pytest.mark.parametrize("aircraft", _demo_aircraft(), ids=lambda aircraft: aircraft.code)
def test_a_survey_says_nothing_but_words_of_the_catalogue_and_of_the_keeper(aircraft: Aircraft) -> None:
    library = demo()[1]
    looked = survey(aircraft, Conditions(today=TODAY))
    keepers = keepers_words(aircraft) | library_words(library)
    # A board that a plan would fit has the code it would be given.
    keepers |= {f"{path.feed.code}-REG" for path in aircraft.paths}
    findings = [
        argument for finding in inspect(aircraft, looked, library=library) for argument in texts_of(finding)
    ]
    figures = [argument for _, figure in looked.figures() for argument in texts_of_figure(figure)]
    assert unsaid((*findings, *figures), keepers) == []
