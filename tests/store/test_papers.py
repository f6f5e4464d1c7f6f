"""Photos and papers lie inside the file or beside it as chosen, bounded in size, checked by their sums."""

from __future__ import annotations

import io
import sqlite3
from datetime import date
from pathlib import Path
from random import Random
from typing import Any

import pytest
from PIL import Image
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from hangar.base.errors import BadInput, StoreFault
from hangar.base.picture_head import picture_head
from hangar.parts import Airframe, Attachment, PaperPlace, Servo, Setting
from hangar.parts.papers import INSIDE_MOST_BYTES
from hangar.store import Edit, Fleet, Owner, bring_in, check_file, papers, take_out
from hangar.store.papers import papers_folder

DAY = date(2026, 3, 14)
OF_TRAINER = Owner(aircraft="DUN")
PICTURE = b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 8


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    path = tmp_path / "left wing.png"
    path.write_bytes(PICTURE)
    return path


def attach(
    fleet: Fleet,
    source: Path,
    owner: Owner = OF_TRAINER,
    place: PaperPlace | None = None,
) -> Attachment:
    made: list[Attachment] = []
    fleet.edit("Attach", lambda edit: made.append(edit.attach(source, owner, DAY, place)))
    return made[0]


def test_a_paper_inside_comes_back_byte_for_byte(trainer: Fleet, picture: Path) -> None:
    made = attach(trainer, picture)
    assert (made.name, made.media_type, made.size_bytes) == ("left wing.png", "image/png", len(PICTURE))
    assert (made.place, made.path, made.added_on) == (PaperPlace.INSIDE, None, DAY)
    assert trainer.records(Attachment, aircraft="DUN") == (made,)
    assert trainer.paper(made.name) == PICTURE
    picture.unlink()
    assert trainer.paper(made.name) == PICTURE


def test_a_removed_paper_comes_back_by_undo_and_its_room_is_freed_on_order_only(
    trainer: Fleet, picture: Path
) -> None:
    made = attach(trainer, picture)
    trainer.edit("Remove", lambda edit: edit.remove(Attachment, (made.name,)))
    with pytest.raises(BadInput, match=r"There is no paper left wing\.png"):
        trainer.paper(made.name)
    trainer.undo()
    assert trainer.paper(made.name) == PICTURE
    trainer.undo()
    assert trainer.records(Attachment) == ()
    trainer.redo()
    assert trainer.paper(made.name) == PICTURE

    def remove_for_good(edit: Edit) -> None:
        edit.remove(Attachment, (made.name,))
        edit.forget_removed_papers()

    trainer.edit("Remove for good", remove_for_good)
    assert papers.inside_bytes(trainer._stored) == 0
    trainer.undo()
    with pytest.raises(StoreFault, match="is not in the file"):
        trainer.paper(made.name)


def test_a_paper_goes_with_its_aircraft_and_comes_back_with_it(trainer: Fleet, picture: Path) -> None:
    made = attach(trainer, picture)
    trainer.edit("Remove", lambda edit: edit.remove(Airframe, ("DUN",)))
    assert trainer.records(Attachment) == ()
    trainer.undo()
    assert trainer.paper(made.name) == PICTURE


def test_a_paper_follows_a_renamed_part(trainer: Fleet, picture: Path) -> None:
    attach(trainer, picture, Owner(servo="0802"))
    trainer.edit("Retag", lambda edit: edit.rename(Servo, ("0802",), ("A802",)))
    assert [attachment.servo for attachment in trainer.records(Attachment)] == ["A802"]


def test_the_same_name_twice_gets_a_number(trainer: Fleet, picture: Path) -> None:
    names = [
        attach(trainer, picture, owner).name for owner in (Owner(), Owner(pack="B061"), Owner(servo="0801"))
    ]
    assert names == ["left wing.png", "left wing (2).png", "left wing (3).png"]
    assert papers.inside_bytes(trainer._stored) == len(PICTURE)


def test_a_paper_too_large_for_the_inside_is_told(trainer: Fleet, tmp_path: Path) -> None:
    large = tmp_path / "film.bin"
    large.write_bytes(bytes(INSIDE_MOST_BYTES + 1))
    with pytest.raises(BadInput, match=r"film\.bin is 5 MB large; allowed is 5 MB, or keep it beside"):
        attach(trainer, large)
    (tmp_path / "empty.txt").write_bytes(b"")
    with pytest.raises(BadInput, match="is empty"):
        attach(trainer, tmp_path / "empty.txt")
    with pytest.raises(BadInput, match="cannot be read"):
        attach(trainer, tmp_path / "none.txt")
    with pytest.raises(BadInput, match="is no file"):
        attach(trainer, tmp_path)
    assert trainer.records(Attachment) == ()


def test_all_papers_together_are_bounded(
    trainer: Fleet, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(papers, "FLEET_MOST_BYTES", 2_500)
    for number in range(3):
        source = tmp_path / f"{number}.txt"
        source.write_bytes(bytes([number]) * 1_000)
        if number < 2:
            attach(trainer, source)
    with pytest.raises(BadInput, match=r"paper 2\.txt would bring the papers in this fleet to 0\.003 MB"):
        attach(trainer, tmp_path / "2.txt")
    assert len(trainer.records(Attachment)) == 2


def test_the_database_itself_refuses_a_paper_that_is_too_large(trainer: Fleet) -> None:
    trainer._door.begin_writing()
    with pytest.raises(IntegrityError):
        trainer._door.link.execute(
            text("INSERT INTO attachment_content (sha256, content) VALUES ('x', :content)"),
            {"content": bytes(INSIDE_MOST_BYTES + 1)},
        )
    trainer._door.roll_back()


def test_a_paper_has_one_owner_and_one_that_is_there(trainer: Fleet, picture: Path) -> None:
    with pytest.raises(BadInput, match="belongs to one aircraft, one servo or one pack"):
        attach(trainer, picture, Owner(aircraft="DUN", servo="0801"))
    with pytest.raises(BadInput, match="NOPE, which is not in the file"):
        attach(trainer, picture, Owner(aircraft="NOPE"))
    assert papers.inside_bytes(trainer._stored) == 0


def test_papers_lie_beside_the_file_when_the_keeper_chose_so(fleet_file: Path, picture: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Choose", lambda edit: edit.put(Setting(name="papers.place", value="beside")))
        made = attach(fleet, picture)
        assert made.place is PaperPlace.BESIDE
        assert made.path is not None
        place = papers_folder(fleet_file) / made.path
        assert place.read_bytes() == PICTURE
        assert fleet.paper(made.name) == PICTURE
        place.write_bytes(PICTURE[:-1])
        with pytest.raises(StoreFault, match="was changed since it was taken in"):
            fleet.paper(made.name)
        place.unlink()
        with pytest.raises(StoreFault, match="cannot be read"):
            fleet.paper(made.name)
        fleet.edit("Choose", lambda edit: edit.put(Setting(name="papers.place", value="under the bed")))
        with pytest.raises(BadInput, match="expected inside or beside"):
            attach(fleet, picture)


def test_a_fleet_without_a_folder_keeps_papers_inside_only(trainer: Fleet, picture: Path) -> None:
    with pytest.raises(BadInput, match="has no folder beside it; keep papers inside"):
        attach(trainer, picture, place=PaperPlace.BESIDE)


def test_a_path_that_leads_out_of_the_folder_is_never_followed(fleet_file: Path, picture: Path) -> None:
    stray = Attachment(
        name="x", place=PaperPlace.BESIDE, path="../club.hangar", size_bytes=1, sha256="0" * 64, added_on=DAY
    )
    with Fleet.open(fleet_file) as fleet:
        fleet.edit("Put", lambda edit: edit.put(stray))
        with pytest.raises(BadInput, match="leads out of club papers"):
            fleet.paper("x")


@pytest.mark.parametrize("place", list(PaperPlace))
@pytest.mark.parametrize("book", [False, True], ids=["csv", "xlsx"])
def test_papers_travel_with_the_tables(
    fleet_file: Path, tmp_path: Path, picture: Path, place: PaperPlace, book: bool
) -> None:
    out = tmp_path / "out" / "fleet.xlsx" if book else tmp_path / "out"
    with Fleet.open(fleet_file) as first, Fleet.create(tmp_path / "second.hangar") as second:
        made = attach(first, picture, place=place)
        written = take_out(first, out)
        assert PICTURE in [path.read_bytes() for path in written]
        rehearsal = bring_in(second, [out], today=DAY, dry_run=True)
        assert not papers_folder(tmp_path / "second.hangar").exists()
        report = bring_in(second, [out], today=DAY)
        assert (report.refused, report.doubtful) == ((), ())
        assert report == rehearsal
        assert second.records(Attachment) == (made,)
        assert second.paper(made.name) == PICTURE
    assert check_file(tmp_path / "second.hangar").sound


def test_a_paper_whose_file_was_changed_on_the_way_is_refused(
    fleet_file: Path, tmp_path: Path, picture: Path
) -> None:
    with Fleet.open(fleet_file) as first, Fleet.in_memory() as second:
        attach(first, picture)
        (paper,) = [path for path in take_out(first, tmp_path / "out") if path.suffix == ".png"]
        paper.write_bytes(PICTURE + b"x")
        report = bring_in(second, [tmp_path / "out"], today=DAY)
        assert "its check sum differs" in str(report.refused[0])
        assert second.airframes() == ()
        paper.unlink()
        report = bring_in(second, [tmp_path / "out"], today=DAY)
        assert [str(note) for note in report.doubtful] == [
            'attachment.csv, row 2, name: "left wing.png" has no file in the folder attachment beside the'
            " tables; only its entry is taken."
        ]


def test_a_flipped_bit_in_a_paper_is_found(fleet_file: Path, picture: Path) -> None:
    with Fleet.open(fleet_file) as fleet:
        attach(fleet, picture)
    link = sqlite3.connect(fleet_file)
    with link:
        link.execute("UPDATE attachment_content SET content = CAST('x' AS BLOB)")
    link.close()
    assert "the content of the paper with check sum" in str(check_file(fleet_file))


def photo(kind: str, width: int, height: int, **options: Any) -> bytes:
    """A picture with a red left edge, too lively to be packed small."""
    noise = Image.frombytes("L", (width // 4, height // 4), Random(3).randbytes(width * height // 16))
    picture = noise.resize((width, height)).convert("RGB")
    picture.paste((200, 0, 0), (0, 0, width // 5, height))
    out = io.BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_photo_of_a_phone_is_thinned_inside(trainer: Fleet, tmp_path: Path, kind: str) -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # held upright
    exif.get_ifd(0x8825)[1] = "N"
    whole = photo(
        kind, 4032, 3024, exif=exif, **({"quality": 97} if kind == "JPEG" else {"compress_level": 1})
    )
    source = tmp_path / f"left wing.{kind.lower()}"
    source.write_bytes(whole)
    assert len(whole) > INSIDE_MOST_BYTES
    made = attach(trainer, source)
    assert (made.name, made.media_type) == ("left wing.jpg", "image/jpeg")
    kept = trainer.paper(made.name)
    assert made.size_bytes == len(kept) < INSIDE_MOST_BYTES
    head = picture_head(kept)
    assert (head.width, head.height) == (1920, 2560)
    upright = Image.open(io.BytesIO(kept))
    assert dict(upright.getexif()) == {}, "what the camera noted, the place among it, stays out"
    edge = upright.convert("RGB").crop((940, 10, 980, 30)).resize((1, 1)).tobytes()
    assert edge[0] > 150, "the left edge of a camera held upright is on top"
    assert max(edge[1:]) < 100
    trainer.undo()
    assert trainer.records(Attachment) == ()


def test_a_photo_kept_beside_the_file_stays_whole(fleet_file: Path, tmp_path: Path) -> None:
    source = tmp_path / "left wing.jpg"
    source.write_bytes(photo("JPEG", 4032, 3024, quality=97))
    with Fleet.open(fleet_file) as fleet:
        made = attach(fleet, source, place=PaperPlace.BESIDE)
        assert fleet.paper(made.name) == source.read_bytes()


def test_a_small_photo_is_kept_byte_for_byte(trainer: Fleet, tmp_path: Path) -> None:
    source = tmp_path / "small.jpg"
    source.write_bytes(photo("JPEG", 2000, 1500, quality=97))
    assert source.stat().st_size > 1_000_000
    assert trainer.paper(attach(trainer, source).name) == source.read_bytes()


def test_a_large_file_that_only_begins_as_a_photo_is_refused_in_words(trainer: Fleet, tmp_path: Path) -> None:
    source = tmp_path / "cut.jpg"
    source.write_bytes(photo("JPEG", 4032, 3024, quality=97)[:200] + bytes(INSIDE_MOST_BYTES))
    with pytest.raises(BadInput, match=r"cut\.jpg is 5 MB large; allowed is 5 MB"):
        attach(trainer, source)
