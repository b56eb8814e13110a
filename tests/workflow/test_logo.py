"""A clinic's logo: checked, kept by copy, printed in grey, and part of what a paper can be written again from."""

from dataclasses import replace
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from neuroform.errors import FileError, PaperError
from neuroform.exam import files
from neuroform.notes.content import Clinic
from neuroform.settings import Places, Settings
from neuroform.workflow import demo, logo, recipe, same_paper
from neuroform.workflow.papers import Order, kind_of, lay_out, write_paper

AT = datetime(2026, 11, 20, 10, 15, tzinfo=UTC)


def a_picture(path: Path, kind: str = "PNG", size: tuple[int, int] = (400, 100), mode: str = "RGBA") -> Path:
    """Write a picture that is red on the left and, where it can be, see-through on the right."""
    made = Image.new(mode, size, "red")
    if mode == "RGBA":
        made.paste((0, 0, 0, 0), (size[0] // 2, 0, size[0], size[1]))
    made.save(path, kind)
    return path


def order(settings_exam: Any) -> Order:
    return Order(kind=kind_of("note"), exam=settings_exam, exam_file=files.write(settings_exam))


@pytest.mark.parametrize(("kind", "mode", "ending"), [("PNG", "RGBA", ".png"), ("JPEG", "RGB", ".jpg")])
def test_a_logo_is_kept_by_copy_and_outlives_its_file(tmp_path: Path, kind: str, mode: str, ending: str) -> None:
    chosen = a_picture(tmp_path / "any-name", kind, mode=mode)
    kept = logo.keep(chosen, Places(config=tmp_path / "config", data=tmp_path))
    assert kept == tmp_path / "config" / f"logo{ending}"
    chosen.unlink()
    assert logo.is_printed(logo.printed(kept))


def test_it_is_printed_in_grey_and_what_is_see_through_is_paper(tmp_path: Path) -> None:
    made = Image.open(BytesIO(logo.printed(a_picture(tmp_path / "a.png"))))
    assert made.mode == "L"
    assert made.getpixel((made.width - 2, 2)) == 255
    # ITU-R BT.601: red weighs 0.299 of 255.
    assert made.getpixel((2, 2)) == 76


@pytest.mark.parametrize("mode", ["I;16", "L"])
def test_grey_is_as_dark_in_16_bits_as_in_8(tmp_path: Path, mode: str) -> None:
    # Half of 65535 is half of 255 (PNG specification, 13.12: sample depth is rescaled in proportion).
    depth = 65535 if mode == "I;16" else 255
    path = tmp_path / "grey.png"
    picture = Image.new(mode, (100, 50), depth // 2)
    picture.paste(0, (0, 0, 50, 50))
    picture.save(path, "PNG")
    logo.check(path)
    made = Image.open(BytesIO(logo.printed(path)))
    assert made.getpixel((2, 2)) == 0
    assert made.getpixel((98, 2)) == pytest.approx(127, abs=1)


def test_what_is_see_through_in_16_bits_is_paper(tmp_path: Path) -> None:
    picture = Image.new("I;16", (100, 50), 20000)
    picture.paste(0, (0, 0, 50, 50))
    picture.save(tmp_path / "grey.png", "PNG", transparency=0)
    with Image.open(tmp_path / "grey.png") as held:
        assert held.mode == "I;16"
    made = Image.open(BytesIO(logo.printed(tmp_path / "grey.png")))
    assert made.getpixel((2, 2)) == 255
    assert made.getpixel((98, 2)) == pytest.approx(78, abs=1)


def test_a_large_picture_is_printed_small(tmp_path: Path) -> None:
    made = logo.printed(a_picture(tmp_path / "a.png", size=(3000, 2000)))
    assert Image.open(BytesIO(made)).size == (240, 160)
    assert len(made) < logo.LARGEST_PRINTED


@pytest.mark.parametrize("data", [b"", b"no picture", b"GIF89a", b"\x89PNG\r\n\x1a\n" + bytes(40)])
def test_what_is_no_picture_is_refused_in_words(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "logo.png"
    path.write_bytes(data)
    with pytest.raises(FileError, match=r"is no picture that can be printed\. Choose a PNG or JPEG"):
        logo.check(path)
    assert logo.printed(path) == b""


def test_other_kinds_of_picture_too_many_pixels_and_large_files_are_refused(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="no picture"):
        logo.check(a_picture(tmp_path / "a.gif", "GIF", mode="RGB"))
    with pytest.raises(FileError, match="no picture"):
        logo.check(a_picture(tmp_path / "a.png", size=(6000, 5000), mode="1"))
    with pytest.raises(FileError, match="no picture"):
        logo.check(a_picture(tmp_path / "dot.png", size=(3, 3)))
    large = tmp_path / "large.png"
    large.write_bytes(bytes(logo.LARGEST + 1))
    with pytest.raises(FileError, match="larger"):
        logo.check(large)


def test_a_paper_shows_it_on_its_first_page_alone_and_says_the_same_words(tmp_path: Path) -> None:
    import pypdfium2

    exam = demo.half_done(AT)
    plain, _c = lay_out(order(exam), Settings())
    shown, _c = lay_out(order(exam), Settings(logo=a_picture(tmp_path / "a.png")))
    with_it, without = pypdfium2.PdfDocument(shown.pdf), pypdfium2.PdfDocument(plain.pdf)
    image = 3  # FPDF_PAGEOBJ_IMAGE
    images = [[each for each in page.get_objects() if each.type == image] for page in with_it]
    assert [len(each) for each in images] == [1, *([0] * (len(images) - 1))]
    left, bottom, right, top = images[0][0].get_bounds()
    assert right == pytest.approx(544.3, abs=0.5)
    assert top < 841.9 - 12
    assert bottom > 841.9 - 40
    assert left > 300
    said = [[page.get_textpage().get_text_bounded() for page in each] for each in (with_it, without)]
    assert said[0] == said[1]


def test_a_paper_with_a_logo_is_made_again_elsewhere_and_is_the_same(tmp_path: Path) -> None:
    settings = Settings(clinic_name="Harbour clinic", logo=a_picture(tmp_path / "a.png"))
    paper, _c = write_paper(order(demo.half_done(AT)), settings, clock=lambda: AT)
    found = same_paper.compare(paper, Settings())
    assert (found.agrees, found.by) == (True, "pages")


def test_a_logo_that_went_missing_holds_no_paper_back(tmp_path: Path) -> None:
    pages, _c = lay_out(order(demo.half_done(AT)), Settings(logo=tmp_path / "gone.png"))
    assert pages.page_count


def test_why_a_logo_is_not_printed_can_be_asked(tmp_path: Path) -> None:
    assert logo.refused(None) is None
    assert logo.refused(a_picture(tmp_path / "a.png")) is None
    (tmp_path / "rubbish.png").write_bytes(b"rubbish")
    for name, why in (("gone.png", "No such file"), (".", "it is a folder"), ("rubbish.png", "is no picture")):
        refused = logo.refused(tmp_path / name)
        assert refused is not None
        assert why in refused.what
        assert logo.printed(tmp_path / name) == b""
    assert logo.printed(Path("a\0b")) == b""


@pytest.mark.parametrize("held", ["%%%", "bm8gcGljdHVyZQ=="])
def test_a_paper_that_carries_rubbish_for_a_logo_cannot_be_written_again(held: str) -> None:
    import json

    made = recipe.guessed("note", demo.half_done(AT), Settings())
    data = json.loads(recipe.written(replace(made, clinic=Clinic())))
    data["clinic"]["logo"] = held
    with pytest.raises(PaperError):
        recipe.read(json.dumps(data).encode())
