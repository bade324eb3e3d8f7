"""Photographs of data plates: what may come in, what is kept of it, and who gets to see it."""

from __future__ import annotations

import contextlib
import io
import json
import struct
import zipfile
import zlib
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from PIL import Image, PngImagePlugin

from geo.parcels import read_parcels
from survey_app.access import Actor, NotAllowed, Role
from survey_app.plate_photos import LARGEST_BYTES, MOST_OF_A_HOME, UnusablePhoto, clean_photo
from survey_app.records import PlateState
from survey_app.reports.archive import write_archive
from survey_app.survey import Survey, open_store
from survey_app.survey.one_home import OneHome, PlatePhoto
from survey_app.texts import ENGLISH

NOW = datetime(2026, 5, 2, 9, 30)
VERA = Actor(name="vera", role=Role.VOLUNTEER)
SECRET = b"41 degrees north, camera of a neighbor"


def photo(size: tuple[int, int] = (900, 600), kind: str = "JPEG", color: str = "orange", **more: object) -> bytes:
    """A picture as a file: left half in a color, right half white."""
    image = Image.new("RGB", size, "white")
    image.paste(color, (0, 0, size[0] // 2, size[1]))
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def with_exif(orientation: int = 1) -> bytes:
    """A JPEG that tells where and with what it was taken, and carries a thumbnail's worth of other text."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = SECRET.decode()
    exif.get_ifd(0x8825)[2] = (41.0, 30.0, 0.0)
    return photo(exif=exif.tobytes(), comment=SECRET, quality=90)


def front(place: Path, actor: Actor = VERA, *, later: int = 0) -> Survey:
    """The survey of a data folder as an actor."""
    return Survey(open_store(place), actor, now=NOW + timedelta(seconds=later))


def at_home(place: Path, home_id: str, *, later: int = 0) -> OneHome:
    """A home as its own people see it."""
    return front(place, Actor(name="resident", role=Role.RESIDENT, home_id=home_id), later=later).one_home(home_id)


def two_homes(place: Path) -> tuple[str, str]:
    """Two homes that have answered."""
    first, second, *_ = [s.home.home_id for s in front(place).standings() if s.answered]
    return first, second


def test_where_and_how_a_photo_was_taken_is_not_kept() -> None:
    """No tag, no place, no comment, no color profile of the file remains in the bytes that are kept."""
    data = with_exif()
    assert SECRET in data

    kept = clean_photo(data).jpeg

    assert SECRET not in kept
    with Image.open(io.BytesIO(kept)) as image:
        assert image.format == "JPEG"
        assert dict(image.getexif()) == {}
        assert not {"exif", "icc_profile", "comment", "photoshop", "xmp"} & set(image.info)


def test_text_in_a_png_is_not_kept() -> None:
    """A PNG's text chunks, compressed ones too, are gone with the rest of the file."""
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", SECRET.decode())
    kept = clean_photo(photo(kind="PNG", pnginfo=info)).jpeg
    assert SECRET not in kept


def test_a_photo_taken_sideways_stands_upright() -> None:
    """The turn that the camera only noted is made before the note is thrown away: the orange half is then on top."""
    kept = clean_photo(with_exif(orientation=6))
    assert (kept.width_px, kept.height_px) == (600, 900)
    with Image.open(io.BytesIO(kept.jpeg)) as image:
        top, bottom = image.getpixel((300, 100)), image.getpixel((300, 800))
    assert top[2] < 60
    assert min(bottom) > 230


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_large_photo_is_made_smaller_and_keeps_its_shape(kind: str) -> None:
    """Twelve million dots come out at most 1,600 wide, in the same proportion."""
    kept = clean_photo(photo((4000, 3000), kind))
    assert (kept.width_px, kept.height_px) == (1600, 1200)
    assert len(kept.jpeg) < 500_000


def test_see_through_parts_become_white() -> None:
    """A PNG with transparency is laid on white, not on black, on which print could not be read."""
    out = io.BytesIO()
    Image.new("RGBA", (400, 300), (0, 0, 0, 0)).save(out, "PNG")
    with Image.open(io.BytesIO(clean_photo(out.getvalue()).jpeg)) as image:
        assert min(image.getpixel((200, 150))) > 250


def a_bomb() -> bytes:
    """A small PNG that says it is 30,000 by 30,000 dots."""
    head = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 100_000)), (b"IEND", b"")]
    parts = (struct.pack(">I", len(d)) + n + d + struct.pack(">I", zlib.crc32(n + d)) for n, d in chunks)
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def a_zip() -> bytes:
    """A zip file."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as file:
        file.writestr("a.jpg", photo())
    return out.getvalue()


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "plate-not-a-photo"),
        (b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>", "plate-not-a-photo"),
        (b"<html><script>alert(1)</script></html>", "plate-not-a-photo"),
        (b"\xff\xd8\xff\xe0 not really", "plate-not-a-photo"),
        (b"%PDF-1.7\n", "plate-not-a-photo"),
        (photo(kind="GIF"), "plate-not-a-photo"),
        (photo(kind="TIFF"), "plate-not-a-photo"),
        (photo()[: len(photo()) // 2], "plate-not-a-photo"),
        (a_zip(), "plate-not-a-photo"),
        (a_bomb(), "plate-too-large"),
        (b"\0" * (LARGEST_BYTES + 1), "plate-too-large"),
        (photo((150, 900)), "plate-too-small"),
    ],
    ids=["empty", "svg", "html", "torn", "pdf", "gif", "tiff", "half", "zip", "bomb", "heavy", "small"],
)
def test_what_is_no_photo_is_refused_by_its_content(data: bytes, why: str) -> None:
    """Each with the sentence that says what to do; a name or a declared type is never asked."""
    with pytest.raises(UnusablePhoto) as refused:
        clean_photo(data)
    assert refused.value.key == why
    assert str(refused.value) == ENGLISH(why)


def test_what_hides_behind_a_photo_is_not_kept() -> None:
    """A file that is a picture and a page at once leaves as a picture alone."""
    assert b"<script>" not in clean_photo(photo() + b"<script>alert(1)</script>").jpeg


@settings(max_examples=60, deadline=None)
@given(some.data())
def test_a_damaged_photo_is_kept_clean_or_refused_in_a_sentence(data: some.DataObject) -> None:
    """Bytes changed anywhere in a JPEG, PNG or WebP: a picture comes out, or the known refusal, and nothing else."""
    whole = bytearray(photo((240, 220), data.draw(some.sampled_from(["JPEG", "PNG", "WEBP"]))))
    for _ in range(data.draw(some.integers(1, 12))):
        whole[data.draw(some.integers(0, len(whole) - 1))] = data.draw(some.integers(0, 255))
    # Anything but the known refusal fails the test by itself.
    with contextlib.suppress(UnusablePhoto):
        kept = clean_photo(bytes(whole))
        assert max(kept.width_px, kept.height_px) <= 1600
        assert kept.jpeg.startswith(b"\xff\xd8")


# ---- who gets to see it -----------------------------------------------------------------


def test_a_home_sees_its_own_photo_and_nobody_elses(data: Path) -> None:
    """Neither a neighbor, nor the committee, nor a visitor; the volunteer does."""
    mine, neighbors = two_homes(data)
    at_home(data, mine).add_photo(with_exif())

    (kept,) = at_home(data, mine).photos()
    assert kept.jpeg == clean_photo(with_exif()).jpeg
    assert at_home(data, neighbors).photos() == []
    assert front(data).one_home(mine).photos() == [kept]
    for stranger in (
        Actor(name="neighbor", role=Role.RESIDENT, home_id=neighbors),
        Actor(name="visitor", role=Role.RESIDENT),
        Actor(name="cora", role=Role.COMMITTEE),
    ):
        with pytest.raises(NotAllowed):
            front(data, stranger).one_home(mine)
        with pytest.raises(NotAllowed):
            front(data, stranger).plates()


def test_a_neighbor_cannot_delete_a_photo_by_its_id(data: Path) -> None:
    """An id that belongs to another home deletes nothing."""
    mine, neighbors = two_homes(data)
    at_home(data, mine).add_photo(photo())
    (kept,) = at_home(data, mine).photos()

    at_home(data, neighbors).remove_photo(kept.photo_id)

    assert at_home(data, mine).photos() == [kept]
    at_home(data, mine).remove_photo(kept.photo_id)
    assert at_home(data, mine).photos() == []


def test_a_home_has_at_most_three_photos(data: Path) -> None:
    """The fourth is refused with what to do, and the three stay."""
    mine, _ = two_homes(data)
    for n in range(MOST_OF_A_HOME):
        at_home(data, mine, later=n).add_photo(photo())
    with pytest.raises(UnusablePhoto, match="three photos"):
        at_home(data, mine, later=9).add_photo(photo())
    assert len(at_home(data, mine).photos()) == MOST_OF_A_HOME


def test_a_photo_is_in_the_homes_own_file_and_in_no_archive_and_no_log(data: Path, tmp_path: Path) -> None:
    """The home may take it along; what is kept for the shelf, and the change log, hold none."""
    mine, _ = two_homes(data)
    at_home(data, mine).add_photo(photo())
    (kept,) = at_home(data, mine).photos()

    told = json.loads(at_home(data, mine).export())
    assert len(told["photos_of_data_plates"]) == 1
    assert "jpeg" not in str([c for c in front(data).change_log().entries() if c.subject_kind == "plate_photo"])
    write_archive(front(data).year_end().content(), tmp_path / "year.zip")
    with zipfile.ZipFile(tmp_path / "year.zip") as archive:
        whole = b"".join(archive.read(n) for n in archive.namelist())
    assert kept.jpeg[200:400] not in whole
    assert kept.photo_id.encode() not in whole


def test_deleting_a_homes_data_overwrites_its_photos(data: Path) -> None:
    """No byte of the picture is left in the file of the records, nor in its write-ahead log."""
    mine, _ = two_homes(data)
    at_home(data, mine).add_photo(photo(color="purple"))
    (kept,) = at_home(data, mine).photos()
    piece = kept.jpeg[-400:-300]

    at_home(data, mine).forget()
    store = open_store(data)
    with store._engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    store.close()

    assert at_home(data, mine).photos() == []
    assert all(piece not in f.read_bytes() for f in data.iterdir() if f.is_file())


def test_what_a_volunteer_reads_moves_the_standing_and_settles_the_photo(data: Path) -> None:
    """The home leaves the list; its heater's age is that of the plate; another home's photo still waits."""
    mine, other = two_homes(data)
    at_home(data, mine).add_photo(photo())
    at_home(data, other, later=1).add_photo(photo())
    plates = front(data, later=60).plates()
    assert [h.home_id for h in plates.waiting()] == [mine, other]

    found = plates.put_reading(mine, {"installed": "2019", "installed_evidence": "data plate"}, answer_id="p1")

    assert found.stored, found.checked.problems
    assert [h.home_id for h in plates.waiting()] == [other]
    heater = front(data).one_home(mine).standing().heater
    assert heater is not None
    assert heater.installed is not None
    assert heater.installed.earliest.year == 2019
    plates.cannot_be_read(other)
    assert plates.waiting() == []
    assert [p.state for p in at_home(data, other).photos()] == [PlateState.UNREADABLE]


def test_a_home_that_only_sent_a_photo_survives_new_parcels(data: Path, invented: Path) -> None:
    """Loading a county's file without it does not drop a home that something was sent for."""
    silent = next(s.home for s in front(data).standings() if not s.answered)
    at_home(data, silent.home_id).add_photo(photo())
    file = read_parcels(invented / "parcels.geojson")
    fewer = file.parcels[file.parcels["parcel_id"] != silent.parcel_id].reset_index(drop=True)

    report = front(data).set_up().load_parcels(replace(file, parcels=fewer))

    assert silent.address in report.kept_without_parcel
    assert isinstance(at_home(data, silent.home_id).photos()[0], PlatePhoto)
