"""Every pair of colours that carries meaning is far enough apart, in all three palettes."""

from __future__ import annotations

import pytest

from packdesk.ui.theme.tokens import DARK, HIGH_CONTRAST, LIGHT, PALETTES, Tokens

# Contrast ratios the palettes were designed to: role, ground, light, dark, high contrast.
PAIRS = [
    ("ink", "cloth", 12.5, 15.8, 21.0),
    ("ink", "sheet", 14.6, 14.2, 21.0),
    ("ink", "haze", 12.0, 10.6, 14.5),
    ("ink2", "cloth", 7.7, 10.7, 21.0),
    ("ink2", "sheet", 9.0, 9.6, 21.0),
    ("ink2", "haze", 7.4, 7.2, 14.5),
    ("onindigo", "indigo", 10.4, 10.4, 16.1),
    ("indigo", "sheet", 9.5, 9.4, 16.1),
    ("onbrick", "brick", 7.3, 7.8, 21.0),
    ("brick", "sheet", 6.7, 6.6, 21.0),
    ("brick", "cloth", 5.8, 7.3, 21.0),
    ("brick", "brickhaze", 5.7, 5.4, 21.0),
    ("wheatink", "sheet", 7.7, 9.6, 16.1),
    ("onpaper", "wheat", 8.5, 10.7, 16.1),
    ("cold", "sheet", 6.0, 6.5, 14.7),
    ("cold", "coldhaze", 4.6, 4.2, 6.7),
    ("ink", "foil", 11.4, 8.6, 12.6),
    ("edge", "cloth", 3.7, 5.9, 21.0),
    ("edge", "sheet", 4.3, 5.2, 21.0),
    ("grain", "sheet", 4.0, 10.8, 21.0),
]
BODY_TEXT = [("ink", "cloth"), ("ink", "sheet"), ("ink2", "cloth"), ("ink2", "sheet")]
PAPER_TEXT = [("onpaper", "paper")]


def luminance(color: str) -> float:
    """Relative luminance by the definition in WCAG 2.2 (W3C)."""
    parts = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio by the definition in WCAG 2.2 (W3C): 1 to 21."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_measure_spans_what_the_standard_says() -> None:
    """Black on white is 21 to 1 and a colour on itself 1 to 1, as WCAG 2.2 states."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#A3281A", "#A3281A") == 1.0


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: f"{pair[0]}-on-{pair[1]}")
def test_each_pair_has_the_contrast_it_was_designed_to(
    pair: tuple[str, str, float, float, float],
) -> None:
    """A role on its ground has the printed contrast in light, dark and high contrast."""
    role, ground, *designed = pair

    for tokens, expected in zip((LIGHT, DARK, HIGH_CONTRAST), designed, strict=True):
        measured = contrast(getattr(tokens, role), getattr(tokens, ground))
        assert measured == pytest.approx(expected, abs=0.06), tokens.name


@pytest.mark.parametrize("tokens", PALETTES, ids=lambda tokens: tokens.name)
def test_body_text_is_above_seven_to_one(tokens: Tokens) -> None:
    """Text in either voice reads above 7 to 1 on cloth, sheet and paper."""
    for role, ground in BODY_TEXT + PAPER_TEXT:
        assert contrast(getattr(tokens, role), getattr(tokens, ground)) > 7


@pytest.mark.parametrize("tokens", PALETTES, ids=lambda tokens: tokens.name)
def test_the_focus_ring_is_seen_on_every_ground(tokens: Tokens) -> None:
    """The ring's ink differs by more than 3 to 1 from each ground it is drawn on."""
    for ink, ground in (("ink", "cloth"), ("ink", "sheet"), ("onbrick", "brick")):
        assert contrast(getattr(tokens, ink), getattr(tokens, ground)) > 3
