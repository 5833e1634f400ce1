"""Letters on paper: all of the scripts we promise, joined where they join; others are named."""

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from companion.paper.marks import Text
from companion.paper.pdf import placed, render
from companion.paper.preview import unprinted
from companion.paper.sheet import A4_3X8
from companion.paper.typeface import BOLD, REGULAR, missing, width_mm
from tests.paper.raster import black_box_mm, fonts, rasterise, words
from tests.paper.samples import cups

#: Every letter of the language's alphabet, as Unicode's locale data list it (CLDR, exemplars).
ALPHABETS = {
    "Polish": "aąbcćdeęfghijklłmnńoóprsśtuwyzźż",
    "Greek": "αάβγδεέζηήθιίϊΐκλμνξοόπρσςτυύϋΰφχψωώ",
    "Russian": "абвгдеёжзийклмнопрстуфхцчшщъыьэюя",
    "Ukrainian": "абвгґдеєжзиіїйклмнопрстуфхцчшщьюяʼ",
    "Arabic": "ءأؤإئابتثجحخدذرزسشصضطظعغفقكلمنهويةىآ٠١٢٣٤٥٦٧٨٩",
    "Vietnamese": "aàảãáạăằẳẵắặâầẩẫấậbcdđeèẻẽéẹêềểễếệghiìỉĩíịklmnoòỏõóọôồổỗốộơờởỡớợ"
    "pqrstuùủũúụưừửữứựvxyỳỷỹýỵ",
    "German": "aäbcdefghijklmnoöpqrsßtuüvwxyzẞ",
    "signs": "×·−…–“”„°²³µ€%&/()+@",
}


@pytest.mark.parametrize("alphabet", ALPHABETS.values(), ids=ALPHABETS)
@pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
def test_the_fonts_have_every_letter_we_promise(alphabet: str, bold: bool) -> None:
    letters = alphabet + alphabet.upper()
    assert missing(letters, bold=bold) == ()
    with TTFont(BOLD if bold else REGULAR) as font:
        assert {ord(letter) for letter in letters} <= set(font.getBestCmap())


def test_letters_no_font_has_are_named_and_the_rest_is_printed(tmp_path: Path) -> None:
    labels = cups(1, "船体 14", "ply \U0001f6a3 e\u0301")
    assert unprinted(labels, A4_3X8) == ("体", "船", "\U0001f6a3")
    assert unprinted(cups(1, "Żółw غطاء", "слой"), A4_3X8) == ()
    said = words(render(labels, A4_3X8), tmp_path)
    assert "14" in said and labels[0].code in said


@pytest.mark.parametrize(
    ("part", "step"),
    [
        ("Pokrywa łodzi żółtej", "ęąśćńź 1"),
        ("غطاء الفتحة", "طبقة"),
        ("Lukendeckel Größe 3", "Übergang"),
    ],
    ids=["Polish", "Arabic", "German"],
)
def test_it_prints_every_letter_of_our_scripts(part: str, step: str, tmp_path: Path) -> None:
    body = render(cups(1, part, step), A4_3X8)
    said = words(body, tmp_path)
    assert part in said and step in said
    # A letter the font does not have would be the box of glyph 0, in every place the same.
    assert len(fonts(body, tmp_path)) == 2


def test_arabic_letters_are_joined_on_paper(tmp_path: Path) -> None:
    """Joined, a letter is far narrower than standing alone; and so wide is the print."""
    word = "ببببب"
    alone_mm = len(word) * width_mm("ب", 10, bold=False)
    assert width_mm(word, 10, bold=False) < 0.75 * alone_mm
    labels = cups(1, word, "")
    (one,) = placed(labels, A4_3X8)
    (mark,) = [mark for mark in one.marks if isinstance(mark, Text) and mark.text == word]
    x_mm, y_mm = one.place.x_mm + mark.x_mm, one.place.y_mm + mark.baseline_mm
    (page,) = rasterise(render(labels, A4_3X8), tmp_path)
    box = (x_mm - 1, y_mm - 1.5, x_mm + mark.width_mm + 3, y_mm + 0.3)
    left, _, right, _ = black_box_mm(page, box)
    assert right - left == pytest.approx(mark.width_mm, abs=0.6)
