"""The sentences of the core, and their German: ``python -m tests.sentences`` brings the catalogue up to date.

Every text and f-string that a reader may get to see is read out of the source as a template. A hole is
``{n1}`` where a number stands, ``{w1}`` where a name of the keeper's stands and ``{t1}`` where further words
of ours stand. Words of the data files that the window shows are added whole.
"""

from __future__ import annotations

import dataclasses
import json
import sys
import tomllib
from collections.abc import Iterable, Iterator, Mapping

from hangar.base.places import resources_dir
from hangar.base.sentence_patterns import HOLE, key_of
from hangar.base.unit_table import KINDS
from hangar.base.unit_text import in_words
from hangar.base.units import UnitChoice
from hangar.parts import KIND_BY_NAME
from hangar.parts.choices import PlanAction
from hangar.rules import all_rules
from hangar.rules.gathering import plural_of
from tests.sentence_reading import HANGAR, templates_of

CATALOGUE = resources_dir() / "translations" / "sentences_de.json"
FOLDERS = ("rules/catalogue", "rules", "survey", "refit", "parts", "physics", "base", "store", "sheets")
_NOT_READ = frozenset({
    "rules/examples.py", "rules/example_aircraft.py", "rules/example_parts.py", "rules/reference.py",
    "rules/as_json.py", "survey/as_json.py", "base/unit_table.py", "base/sentences.py",
    "rules/words.py", "rules/gathering.py", "rules/case.py",
})  # fmt: skip
"""Files whose words no keeper reads."""
_SECTIONS = ("Checks", "Why", "Can't tell when", "Source", "Remedy")


def rule_words() -> Iterator[str]:
    """What each rule says of itself."""
    for rule in all_rules().values():
        yield from (rule.doc[section] for section in _SECTIONS if rule.doc.get(section))


def data_words() -> Iterator[tuple[str, str]]:
    """File and words of the data tables that the window shows."""
    for file, keys in _DATA.items():
        with (resources_dir() / file).open("rb") as opened:
            for text in _under(tomllib.load(opened), keys):
                yield file, text


_DATA = {
    "thresholds.toml": {"words", "source"},
    "class_defaults.toml": {"meaning", "source"},
    "checklists.toml": {"text", "pass_when"},
    "measuring.toml": {"how", "cost"},
    "field_rules.toml": {"item", "text", "where", "source", "note"},
}


def _under(node: object, keys: set[str]) -> Iterator[str]:
    if isinstance(node, dict):
        for key, value in node.items():
            if key in keys and isinstance(value, str) and value:
                yield value
            elif not isinstance(value, str):
                yield from _under(value, keys)
    elif isinstance(node, list):
        for each in node:
            yield from _under(each, keys)


def made_at_run_time() -> Iterator[str]:
    """Patterns of words that the core builds of a noun: subjects, places, packs in a row."""
    for noun in _NOUNS:
        many = plural_of(noun)
        yield f"the {{w1}} {noun}"
        yield f"the {noun} of the {{w1}}"
        yield f'the {noun} at position "{{w1}}"'
        yield f"both {{t1}} {many}"
        yield f"all {{n1}} {{t1}} {many}"
        yield f"{{n1}} of the {{n2}} {{t1}} {many}"
        yield f"{many} {{t1}}" if noun in _ALONE else f"the {many} of {{t1}}"
    for kind in KIND_BY_NAME.values():
        yield f"{kind.TITLE} {{w1}}"
        yield from (sentence for _condition, sentence in kind.RULES)
    for action in PlanAction:
        yield f"{action} {{t1}}"
    for spec in dataclasses.fields(UnitChoice):
        yield spec.name.replace("_", " ")
    yield from (in_words(kind) for kind in KINDS)
    yield from _FURTHER


_NOUNS = ("servo", "arm", "lead", "linkage", "rod", "clevis", "cable", "surface", "pack", "regulator",
          "switch", "plug", "receiver", "screw", "joint", "horn")  # fmt: skip
_ALONE = ("servo", "pack", "regulator", "switch", "receiver")


_FURTHER = (
    "position {w1}", 'position "{w1}"', "left {w1}", "right {w1}", "the {w1}", "the receiver {w1}",
    "the gyro {w1}", "the device {w1}", "{w1} at {n1} V", "{w1} regulator",
    "{t1} digital", "{t1} analog", "{t1} and {n1} more",
    "packs {t1} have", "pack {w1} has", "packs {t1} are", "pack {w1} is", "packs {t1} may give {n1} more",
    "pack {w1} alone feeds", "packs {t1} alone feed", "one open warning", "{n1} open warnings",
    "no open warnings on the data entered", "one caution", "{n1} cautions", "one advisory", "{n1} advisories",
    "one thing that cannot be told", "{n1} things that cannot be told", "{n1} accepted in writing", "grounds",
    "limits", "when one is the only one left", "has", "have", "thick", "long", "wide", "high", "deep", "rest",
    "label", "drop-out", "logic", "energy", "minimum of the Parts Bay", "surface turn for each degree of arm",
    "arm over horn",    "surface turn for each degree of arm at neutral", "least angle between rod and horn",
    "effective lever at the arm over effective lever at the horn", "surface held in the air load",
    "smallest angle met in the servo travel that the throws use", "ballast", "yes", "no", "saved",
    "taken", "refused", "doubtful",
)  # fmt: skip
"""Words that come together only when they are said, or that stand alone."""


def wanted() -> dict[str, list[str]]:
    """Every template by where it stands; one that stands in several places counts for the first."""
    seen: set[str] = set()
    built = {HOLE.sub("{}", text) for text in made_at_run_time() if text.count("{") == 1}
    grouped: dict[str, list[str]] = {}

    def enter(group: str, texts: Iterable[str]) -> None:
        for text in texts:
            text = text.strip().removesuffix(".")
            known = group != _BUILT and HOLE.sub("{}", text) in built
            if key_of(text) not in seen and text not in _LOOSE and not known:
                seen.add(key_of(text))
                grouped.setdefault(group, []).append(text)

    enter(_BUILT, made_at_run_time())
    for folder in FOLDERS:
        for path in sorted((HANGAR / folder).glob("*.py")):
            name = path.relative_to(HANGAR).as_posix()
            if name not in _NOT_READ:
                enter(name, templates_of(path))
    enter("rules in words", rule_words())
    for file, text in data_words():
        enter(file, [text])
    return grouped


_BUILT = "made at run time"
_LOOSE = frozenset({
    "the {t1} {w1}", "the {t1}", "{t1} to {n1}", "{t1} and {t2}", "{w1} and {w2}", "{n1} and {n2}",
    "{n1} to {n2}", "hangar.rules.catalogue.{t1}", "ozf in", "kgf cm", "N cm",
    "per angle", "an {t1}",
    "two rules are called {t1}", "N m/rad", "N m/deg", "{t1} of {t2}",
    "PRAGMA foreign_key_check", 'PRAGMA foreign_key_list("{w1}")', 'SELECT {t1} FROM "{w1}" WHERE id = ?',
})  # fmt: skip
"""Patterns with hardly a word of their own; lists and ranges are taken apart without them."""


def read_catalogue() -> dict[str, str]:
    """The translations that there are."""
    if not CATALOGUE.exists():
        return {}
    grouped = json.loads(CATALOGUE.read_text(encoding="utf-8"))
    return {english: german for group in grouped.values() for english, german in group.items()}


def write_catalogue(known: Mapping[str, str]) -> dict[str, dict[str, str]]:
    """Write every wanted template with its German, empty where it is still to be translated."""
    grouped = {group: {text: known.get(text, "") for text in texts} for group, texts in wanted().items()}
    text = json.dumps(grouped, ensure_ascii=False, indent=1)
    CATALOGUE.write_text(text + "\n", encoding="utf-8")
    return grouped


def main() -> None:
    """Add new sentences, drop those that are gone, and say which are still to be translated."""
    grouped = write_catalogue(read_catalogue())
    missing = [
        (group, text) for group, texts in grouped.items() for text, german in texts.items() if not german
    ]
    print(f"{sum(map(len, grouped.values()))} sentences, {len(missing)} to be translated")
    for group, text in missing:
        print(f"  {group}: {text}", file=sys.stderr)


if __name__ == "__main__":
    main()
