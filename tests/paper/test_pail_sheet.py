"""Pail cards, judged by their pages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import zxingcpp

from packdesk.desk.ports import Trouble
from packdesk.paper.pail_sheet import PailReport, write_pail_cards
from packdesk.present.papers import PailCard, PailFood

Pages = Callable[[BytesIO, int], list[np.ndarray]]
TextOf = Callable[[BytesIO], list[str]]
StandsClear = Callable[[np.ndarray, zxingcpp.Barcode, int], None]


@pytest.fixture
def card() -> PailCard:
    """A pail with two foods, all of it invented."""
    foods = tuple(
        PailFood(food, "8 pouches, 8.00 kg (17 lb 10.2 oz)", pouches, "best until 2056+")
        for food, pouches in (
            ("Hard wheat", "K7M2-001 to 008"),
            ("Kidney beans", "K7M2-009 to 016"),
        )
    )
    return PailCard(
        pail="Pail 1",
        session="Autumn (K7M2)",
        packed="Packed 2026-10-19",
        foods=foods,
        mass="16.00 kg of food; with pail about 17.0 kg",
        lifting="Heavy: two people lift it.",
        allergens="Contains: wheat",
        cautions=("Take the absorbers out.", "Keep the lid on."),
        checked="Seams checked 2026-10-20: snug",
        code="PAIL 1 K7M2\nHARD WHEAT: 8 POUCHES\nKIDNEY BEANS: 8 POUCHES",
    )


def _texts(card: PailCard) -> list[str]:
    foods = [word for f in card.foods for word in (f.food, f.amount, f.pouches, f.best_quality)]
    return [card.session, card.packed, card.mass, card.lifting, card.allergens, card.checked,
            *card.cautions, *foods]  # fmt: skip


def _bare(words: str) -> str:
    return "".join(words.split())


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_every_word_is_on_the_card(page: str, card: PailCard, text_of: TextOf) -> None:
    """Nothing that the card says is left out, on either page size."""
    out = BytesIO()

    assert write_pail_cards([card], page, out) == PailReport(1, 1)

    (text,) = text_of(out)
    assert all(_bare(words) in text for words in ("Pail 1", *_texts(card)))


@pytest.fixture
def hard(card: PailCard) -> PailCard:
    """Food of 40 characters in three scripts, five allergens, a long caution, a long code."""
    food = "Κριθάρι, пшеница, Őszi búza, Ångrön äkta"
    assert len(food) == 40
    return replace(
        card,
        pail="Pail 2",
        foods=tuple(replace(each, food=food) for each in card.foods),
        allergens="Contains: WHEAT, BARLEY, SOYA, SESAME, LUPIN",
        cautions=("Packed above 10 % moisture: use it within one year. " * 3, *card.cautions),
        code="\n".join(f"ΚΡΙΘΑΡΙ {n}: 8 POUCHES" for n in range(30)),
    )


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_codes_and_ink_of_a_page_of_cards(
    page: str,
    card: PailCard,
    hard: PailCard,
    pages: Pages,
    text_of: TextOf,
    stands_clear: StandsClear,
) -> None:
    """Codes read back at three resolutions in a white zone of their own; ink keeps off the edges.

    So does a card with the hardest contents, and none of its words is lost.
    """
    out = BytesIO()
    assert write_pail_cards([card, hard], page, out) == PailReport(2, 1)
    text = text_of(out)[0].replace("-", "")
    assert [words for words in _texts(hard) if _bare(words).replace("-", "") not in text] == []

    for dpi in (150, 300, 600):
        (picture,) = pages(out, dpi)
        codes = zxingcpp.read_barcodes(picture, zxingcpp.BarcodeFormat.QRCode)
        assert sorted(code.text for code in codes) == sorted([card.code, hard.code])
    for code in codes:
        stands_clear(picture, code, 600)
    edge, middle = round(12.5 * 600 / 25.4), picture.shape[0] // 2
    inked = picture < 200
    inked[middle - 12 : middle + 12] = False  # the line to cut along
    assert inked.any()
    inside = np.zeros_like(inked)
    inside[edge : middle - edge, edge:-edge] = inside[middle + edge : -edge, edge:-edge] = True
    assert not (inked & ~inside).any()


def test_two_cards_share_a_page_with_a_line_to_cut(card: PailCard, pages: Pages) -> None:
    """Five cards take three pages, and a line across the middle shows where to cut."""
    out = BytesIO()

    report = write_pail_cards([card] * 5, "A4", out)

    assert (report.cards, report.pages) == (5, 3)
    page = pages(out, 100)[0]
    middle = page.shape[0] // 2
    assert page[middle - 3 : middle + 4].min() < 255


def test_a_fuller_pail_is_set_smaller_and_then_on_several_cards(
    card: PailCard, text_of: TextOf
) -> None:
    """Four foods still go on one card; a dozen take more, numbered, and none is lost."""
    four = replace(card, foods=(card.foods[0],) * 4)
    dozen = replace(
        card, foods=tuple(replace(card.foods[0], food=f"Food {n:02d}") for n in range(12))
    )
    out = BytesIO()

    assert write_pail_cards([four], "A4", BytesIO()).cards == 1
    report = write_pail_cards([dozen], "A4", out)

    text = "".join(text_of(out))
    assert report.cards > 1
    assert f"card{report.cards}of{report.cards}" in text
    assert all(text.count(f"Food{n:02d}") == 1 for n in range(12))
    assert text.count("Contains:wheat") == report.cards


def test_a_list_longer_than_a_card_goes_on_overleaf(card: PailCard, text_of: TextOf) -> None:
    """Hundreds of single pouch numbers are all printed."""
    numbers = [f"{number:04d}" for number in range(1, 2400, 2)]
    odd = replace(card, foods=(replace(card.foods[0], pouches=", ".join(numbers)),))
    out = BytesIO()

    write_pail_cards([odd], "Letter", out)

    text = "".join(text_of(out))
    assert all(number in text for number in numbers)


def test_where_there_is_room_there_are_lines_to_write_on(card: PailCard, text_of: TextOf) -> None:
    """A card with one food has lines for what is taken out over the years."""
    out = BytesIO()

    write_pail_cards([replace(card, foods=card.foods[:1])], "A4", out)

    assert "Takenout" in text_of(out)[0]


def test_what_cannot_be_printed_is_reported(card: PailCard) -> None:
    """Characters the face lacks are named."""
    odd = replace(card, session="小麦")

    assert write_pail_cards([odd], "A4", BytesIO()).unprintable == "小麦"


def test_without_a_pail_no_page_is_made(tmp_path: Path) -> None:
    """An empty file would say nothing; the sentence does."""
    with pytest.raises(ValueError, match="No pail has a pouch in it yet"):
        write_pail_cards([], "A4", tmp_path / "pails.pdf")

    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_gone_is_a_trouble(card: PailCard, tmp_path: Path) -> None:
    """The failure of the disk is told in words."""
    with pytest.raises(Trouble, match="its folder is not there"):
        write_pail_cards([card], "A4", tmp_path / "gone" / "pails.pdf")
