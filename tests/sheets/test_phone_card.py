"""The field checklist for a phone: the boxes of the printed one, walked through in a real browser."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from hangar.answers.bench_bands import bands_of
from hangar.answers.checklists import PHASES
from hangar.base.errors import BadInput
from hangar.base.units import SI_TRADE
from hangar.commands import main
from hangar.parts import Channel, Flight, LoadTest, Snag
from hangar.parts.choices import Severity
from hangar.rules import inspect
from hangar.rules.releasing import conditions_of, hindrances_beside_the_list
from hangar.sheets import write_sheet
from hangar.sheets.box_list import listed_boxes
from hangar.sheets.phone_card import card_data, phone_card
from hangar.sheets.style import SheetStyle
from hangar.store import Fleet
from hangar.store.card_result import result_of
from hangar.survey import Conditions, survey
from tests.sheets.cases import TODAY, demo_case, demo_cases
from tests.sheets.reading import text_of

CODE = "DUNN"
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
DRIVER = shutil.which("chromedriver")
PATIENCE_S = float(os.environ.get("HANGAR_TEST_PATIENCE_S", "600"))


def test_every_tick_and_reading_of_the_printed_list_is_a_step_of_the_page() -> None:
    case, style = demo_case(CODE), SheetStyle()
    data = card_data(case, style)
    steps = [step for phase in data["phases"] for step in phase["steps"]]
    asked = {step["tick"] for step in steps} | {ask["name"] for step in steps for ask in step["ask"]}
    asked |= {name for step in steps for name in step["fixed"]} | set(data["fields"].values())
    asked |= {phase["tick"] for phase in data["phases"]} | {every["tick"] for every in data["sums"]}
    parts, _ = listed_boxes("field", case, style)
    printed = {
        f"{CODE} {box.about} {box.what}".replace(",", " ").replace("  ", " ")
        for part in parts
        for row in part.rows
        for box in row.boxes
        if box.what not in ("Remarks", "Stick") and not box.about.startswith("flight ")
    }
    assert printed <= {name.replace("  ", " ") for name in asked}


def test_a_step_says_what_is_wanted_never_that_it_is_checked() -> None:
    for case in demo_cases():
        for phase in card_data(case, SheetStyle())["phases"]:
            assert phase["id"] in {name for name, _, _ in PHASES}
            for step in phase["steps"]:
                assert step["need"].lower() not in ("checked", "set", "ok", "fine")
                assert all(ask.get("unit") or "words" in ask for ask in step["ask"])


def test_a_wrong_setting_is_no_target_of_the_page() -> None:
    case = demo_case("PERT")
    steps = [step for phase in card_data(case, SheetStyle())["phases"] for step in phase["steps"]]
    (throttle,) = [step for step in steps if step["id"].endswith("3 Failsafe")]
    assert throttle["need"] == "idle or off in 2 s"
    assert throttle["expect"] == "set to hold: WRONG"


def test_a_list_printed_the_evening_before_waits_for_the_load_test_and_is_not_black(tmp_path: Path) -> None:
    case = demo_case(CODE)
    evening = Conditions(today=TODAY + timedelta(days=1), field_day=True)
    surveyed = survey(case.aircraft, evening)
    fresh = case.judged(surveyed, inspect(case.aircraft, surveyed, case.thresholds))
    assert [condition.rule for condition in conditions_of(fresh.findings)] == ["load-test-stale"]
    assert not hindrances_beside_the_list(fresh.aircraft, fresh.findings)
    assert card_data(fresh, SheetStyle())["hindrances"] == []
    write_sheet("field", [fresh], tmp_path / "a.pdf", SheetStyle())
    sheet = " ".join(" ".join(text_of(tmp_path / "a.pdf")).split())
    assert "CONDITIONAL: only once it is proved here." in sheet
    assert "FIELD CHECKLIST" in sheet
    assert "Pack B061 has not been load-tested today" in sheet
    held = next(case for case in demo_cases(field_day=True) if case.aircraft.code == "PERT")
    assert card_data(held, SheetStyle())["hindrances"]


def test_the_page_asks_nothing_of_a_network() -> None:
    page = phone_card(demo_case(CODE), SheetStyle())
    assert "default-src 'none'" in page
    assert not re.search(r"https?://(?!www\.w3\.org)", page)


def test_the_page_is_of_one_aircraft_and_of_the_field(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "page.html"
    assert main(["sheet", "bench", "demo_fleet", "--aircraft", CODE, "--html", "--out", str(out)]) == 2
    assert "only the field checklist" in capsys.readouterr().err
    assert main(["sheet", "field", "demo_fleet", "--html", "--out", str(out)]) == 2
    assert "of one aircraft" in capsys.readouterr().err
    out.write_bytes(b"a fleet")
    assert main(["sheet", "field", "demo_fleet", "--aircraft", CODE, "--html", "--out", str(out)]) == 2
    assert out.read_bytes() == b"a fleet"


# --- in a real browser ------------------------------------------------------------------------------------


class Phone:
    """A page in a browser of the size of a phone, with a clock that can be set."""

    def __init__(self, driver: Any, page: Path) -> None:
        self.driver, self.page = driver, page
        self.hours = 0.0

    def open(self, later: timedelta = timedelta()) -> Phone:
        """Load the page, as if so much time had passed."""
        shift_ms = int(later.total_seconds() * 1000)
        clock = (
            "{ const D = Date; Date = class extends D {"
            f"constructor(...a) {{ a.length ? super(...a) : super(D.now() + {shift_ms}) }}"
            f" static now() {{ return D.now() + {shift_ms} }} }}; }}"
        )
        shim = getattr(self.driver, "shim", None)
        if shim:
            self.driver.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", {"identifier": shim})
        made = self.driver.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": clock})
        self.driver.shim = made["identifier"]
        if self.driver.current_url == self.page.as_uri():
            self.driver.refresh()
        else:
            self.driver.get(self.page.as_uri())
        return self

    def find(self, css: str) -> Any:
        return self.driver.find_element("css selector", css)

    def all(self, css: str) -> list[Any]:
        found: list[Any] = self.driver.find_elements("css selector", css)
        return found

    def press(self, words: str) -> None:
        """Press the button at the foot that begins so, once it may be pressed."""

        def ready(_driver: Any) -> Any:
            return next((each for each in self.all("footer button") if each.text.startswith(words)), None)

        self.wait(lambda driver: (button := ready(driver)) is not None and button.is_enabled())
        ready(None).click()

    def wait(self, until: Callable[[Any], object]) -> None:
        """Wait until something is so."""
        from selenium.webdriver.support.ui import WebDriverWait

        WebDriverWait(self.driver, PATIENCE_S).until(until)

    @property
    def title(self) -> str:
        return str(self.find("h1").text)

    @property
    def state(self) -> str:
        return str(self.find("#state").text)

    def answer(self) -> None:
        """Answer the step that is shown as it is wanted."""
        if inputs := self.all("main input"):
            for entry, asked in zip(inputs, self.step["ask"], strict=True):
                entry.send_keys(within(asked))
        else:
            self.find("#yes").click()
        place = self.place
        self.press("Next")
        self.wait(lambda _: self.place != place)

    @property
    def step(self) -> dict[str, Any]:
        """The step that is shown, as the page holds it."""
        held = "return JSON.parse(document.getElementById('card').textContent).phases.flatMap(p => p.steps)"
        title = self.title
        return next(step for step in self.driver.execute_script(held) if step["say"] == title)

    @property
    def place(self) -> str:
        """Where in the list it is, or the state of a page that is locked."""
        return str(self.find("main").text)

    def walk(self, until: Callable[[], bool]) -> None:
        """Answer steps and complete phases until something is seen."""
        for _ in range(200):
            if until():
                return
            if any(each.text.startswith("Phase complete") for each in self.all("footer button")):
                self.press("Phase complete")
            else:
                self.answer()
        raise AssertionError("it was never seen")

    def result(self, folder: Path) -> Path:
        """Save the result as the page writes it."""
        out = folder / "card.result.json"
        out.write_text(self.find("textarea").get_attribute("value"), encoding="utf-8")
        return out


def within(asked: dict[str, Any]) -> str:
    """What may be typed there: just inside the limits, with a comma as some keyboards have it."""
    if "words" in asked:
        return str(asked["words"][0])
    low, high = asked["lo"], asked["hi"]
    if low is None and high is None:
        return "5,3" if asked["unit"] == "V" else "30"
    value = low + 0.05 if high is None else high - 0.05 if low is None else (low + high) / 2
    return f"{value:.2f}".replace(".", ",")


@pytest.fixture
def driver() -> Iterator[Any]:
    """A browser of its own for each test: what one leaves in the browser's storage is none of another's."""
    if BROWSER is None or DRIVER is None:
        pytest.skip("Chromium and its driver are not installed; the page is not tried in a browser")
    if subprocess.run([DRIVER, "--version"], capture_output=True, check=False).returncode:
        # Ubuntu's package of that name asks for a package of another kind.
        pytest.skip("Chromium's driver does not start here; the page is not tried in a browser")
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service

    options = webdriver.ChromeOptions()
    options.binary_location = BROWSER
    for flag in ("headless=new", "no-sandbox", "disable-gpu", "disable-background-networking",
                 "disable-component-update", "disable-sync", "disable-quic", "no-first-run"):  # fmt: skip
        options.add_argument(f"--{flag}")
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    made = webdriver.Chrome(options=options, service=Service(DRIVER))
    size = {"width": 390, "height": 844, "deviceScaleFactor": 1, "mobile": True}
    made.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    yield made
    made.quit()


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The invented fleet as a file, and the page of one of its aircraft."""
    folder = tmp_path_factory.mktemp("phone")
    fleet, page = folder / "fleet.hangar", folder / "page.html"
    assert main(["bring-in", str(fleet), "demo_fleet"]) == 0
    assert main(["sheet", "field", str(fleet), "--aircraft", CODE, "--html", "--out", str(page)]) == 0
    return fleet, page


@pytest.fixture
def fleet_file(written: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    capsys.readouterr()
    return Path(shutil.copy(written[0], tmp_path))


@pytest.fixture
def phone(driver: Any, written: tuple[Path, Path]) -> Phone:
    return Phone(driver, written[1]).open()


def test_walked_to_the_release_its_readings_come_back(
    phone: Phone, fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    phone.walk(lambda: "step" in phone.title.lower() and bool(phone.all("#who")))
    phone.find("#who").send_keys("A. Pilot")
    phone.press("Release to fly")
    assert phone.state == "RELEASED"
    phone.find("#mins").send_keys("8.5")
    phone.press("Keep this flight")
    phone.find("#mins").send_keys("7")
    phone.press("Keep this flight")
    phone.press("Save the result")
    result = phone.result(fleet_file.parent)
    assert phone.driver.get_log("browser") == []
    capsys.readouterr()
    assert main(["bring-in", str(fleet_file), str(result)]) == 0, capsys.readouterr().err
    with Fleet.open(fleet_file) as fleet:
        flights = fleet.records(Flight, aircraft=CODE, flown_on=TODAY)
        assert [(flight.minutes_min, flight.pilot) for flight in flights] == [
            (8.5, "A. Pilot"),
            (7.0, "A. Pilot"),
        ]
        tests = [
            load_test
            for load_test in fleet.records(LoadTest, pack="B061")
            if load_test.tested_at.date() == TODAY
        ]
        least_v = bands_of("field", demo_case(CODE), SI_TRADE, "B061", "Read")[0].low
        assert least_v is not None
        assert (1.0, round(least_v + 0.05, 2), 5.3) in [
            (test.load_a, test.loaded_v, test.rest_v) for test in tests
        ]
        proved = [channel.failsafe_proved_on for channel in fleet.records(Channel, aircraft=CODE)]
        assert TODAY in proved
        assert not fleet.records(Snag, aircraft=CODE, raised_on=TODAY)
    assert main(["bring-in", str(fleet_file), str(result)]) == 0
    assert "stood in the records already" in capsys.readouterr().out


def test_a_miss_on_a_grave_step_locks_the_page_and_grounds_the_aircraft(
    phone: Phone, fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    phone.walk(lambda: "under" in phone.title)
    phone.all("main input")[1].send_keys("4.2")
    assert "under the limit" in phone.all(".said")[1].text
    phone.press("Next")
    assert phone.state == "HELD"
    phone.press("Measure again")
    again = phone.all("main input")[1]
    again.clear()
    again.send_keys("4.3")
    phone.press("Next")
    button = next(each for each in phone.all("footer button") if each.text.startswith("Measure again"))
    assert not button.is_enabled()
    phone.open()
    assert phone.state == "HELD", "loading it again must not lift the lock"
    phone.press("Save, put away")
    result = phone.result(fleet_file.parent)
    tries = [step["tries"] for step in json.loads(result.read_text())["steps"] if step["verdict"] == "missed"]
    assert [[entry["raw"][1] for entry in each] for each in tries] == [["4.2", "4.3"]]
    capsys.readouterr()
    main(["bring-in", str(fleet_file), str(result)])
    with Fleet.open(fleet_file) as fleet:
        (snag,) = fleet.records(Snag, aircraft=CODE, raised_on=TODAY)
        assert snag.severity is Severity.GROUNDS
        assert "4.3 V" in snag.text
        assert not fleet.records(Flight, aircraft=CODE, flown_on=TODAY)


def test_a_pause_asks_for_the_phase_again_and_another_day_voids_it(phone: Phone) -> None:
    phone.answer()
    first = phone.title
    phone.open(timedelta(minutes=14))
    assert "Interrupted" in phone.find(".place").text
    phone.press("Start the phase again")
    assert phone.title != first
    assert not phone.find("#yes").get_attribute("class").count("good")
    phone.open(timedelta(days=1))
    assert phone.title == "VOID"
    assert [each.text for each in phone.all("footer button")] == ["Save what is here"]


@pytest.mark.parametrize(("width", "height"), [(390, 844), (320, 568)])
def test_every_target_is_big_enough_and_nothing_runs_out_sideways(
    phone: Phone, width: int, height: int
) -> None:
    size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": True}
    phone.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    phone.open()
    for _ in range(6):
        for each in [*phone.all("button"), *phone.all("input")]:
            assert min(each.size["width"], each.size["height"]) >= 44, each.text
        wide = phone.driver.execute_script("return document.documentElement.scrollWidth")
        assert wide <= width
        phone.press("Later")
    assert phone.driver.get_log("browser") == []


# --- files that are no result -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("content", "why"),
    [
        ("", "not whole"),
        ("{", "not whole"),
        ("[1]", "no result"),
        ('{"a":1}', "no result"),
        ('{"hangar_card_result":9}', "later version"),
        ('{"hangar_card_result":1,"check":"00000000"}', "damaged"),
        ("[" * 100_000, "not whole"),
    ],
)
def test_what_is_no_result_is_refused_in_a_sentence(tmp_path: Path, content: str, why: str) -> None:
    path = tmp_path / "a.json"
    path.write_text(content)
    with pytest.raises(BadInput, match=why):
        result_of(path)


def test_a_result_that_was_changed_is_not_taken(tmp_path: Path) -> None:
    import zlib

    case = demo_case(CODE)
    stamp = card_data(case, SheetStyle())["stamp"]
    body = json.dumps(
        {"hangar_card_result": 1, "stamp": stamp, "fields": {"DUNN Held": "no ✓"}}, ensure_ascii=False
    )
    whole = f'{body[:-1]},"check":"{zlib.crc32(body.encode()):08x}"}}'
    path = tmp_path / "a.json"
    path.write_text(whole, encoding="utf-8")
    assert result_of(path).texts == {"DUNN Held": "no ✓"}
    path.write_text(whole.replace("no ✓", "yes"), encoding="utf-8")
    with pytest.raises(BadInput, match="damaged"):
        result_of(path)
