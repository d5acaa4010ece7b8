from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packdesk.units import (
    MINUS,
    NO_BREAK_SPACE,
    Dimension,
    NotUnderstood,
    System,
    convert,
    figure_of_line,
    parse,
    registry,
    say,
)
from packdesk.units.kinds import KINDS

PINT_NAMES = {
    "°C": "degC",
    "°F": "degF",
    "gal": "US_liquid_gallon",
    "qt": "US_liquid_quart",
    "%": "percent",
}
LB, OZ = 453.59237, 28.349523125
"""NIST Handbook 44, appendix C: avoirdupois pound and ounce in grams, exact."""


def parsed_or_refusal(text: str, dimension: Dimension, bounds: tuple[float, float]) -> float | str:
    """The figure, or the sentence of the refusal."""
    try:
        return parse(text, dimension, KINDS[dimension].base, bounds)
    except NotUnderstood as refusal:
        return str(refusal)


@pytest.mark.parametrize(
    ("text", "dimension", "default", "expected"),
    [
        ("1.25 kg", Dimension.MASS, "g", 1250),
        ("1,5 kg", Dimension.MASS, "g", 1500),
        ("1.5", Dimension.MASS, "kg", 1500),
        ("850", Dimension.MASS, "g", 850),
        ("2 lb", Dimension.MASS, "g", 2 * LB),
        ("2 lb 8 oz", Dimension.MASS, "g", 40 * OZ),
        ("2lb8oz", Dimension.MASS, "g", 40 * OZ),
        ("2 Lbs., 8 oz.", Dimension.MASS, "g", 40 * OZ),
        ("1 kg 250 g", Dimension.MASS, "g", 1250),
        ("70 °F", Dimension.TEMPERATURE, "°C", 190 / 9),
        ("0f", Dimension.TEMPERATURE, "°C", -160 / 9),
        ("-40 º F", Dimension.TEMPERATURE, "°C", -40),
        ("−18", Dimension.TEMPERATURE, "°C", -18),
        ("19 L", Dimension.VOLUME, "gal", 19),
        ("5 gal", Dimension.VOLUME, "L", 18.92705892),
        ("120 cc", Dimension.GAS, "cc", 120),
        ("300 cm³", Dimension.GAS, "cc", 300),
        ("2,5 in", Dimension.LENGTH, "mm", 63.5),
        ("8″", Dimension.LENGTH, "mm", 203.2),
        ("5280 ft", Dimension.ELEVATION, "m", 1609.344),
        ("-12 m", Dimension.ELEVATION, "m", -12),
        ("55 %", Dimension.SHARE, "%", 55),
        ("١٫٥ kg", Dimension.MASS, "g", 1500),
        ("1\u202f250 g", Dimension.MASS, "kg", 1250),
        ("1.25\u00a0kg", Dimension.MASS, "g", 1250),
    ],
)
def test_what_people_type_becomes_the_base_unit(
    text: str, dimension: Dimension, default: str, expected: float
) -> None:
    """Both decimal marks, metric and US units, two-part masses and bare numbers are taken."""
    assert parse(text, dimension, default) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "Nothing is typed"),
        ("   ", "Nothing is typed"),
        ("abc", "“abc” is not a mass. Write a mass, such as 1.25 kg"),
        ("2 1/2 lb", "fractions as decimals"),
        ("-5 kg", "“-5 kg” is below zero. Write a mass without a minus."),
        ("−5 kg", "below zero"),
        ("1.250,5 g", "more than one decimal mark"),
        ("1.5.2", "more than one decimal mark"),
        ("500 kg", "“500 kg” is more than can be here: at most 200 kg."),
        ("900 lb", "at most 440.9 lb"),
        ("0", "at least 1 g"),
        ("9" * 400, "more than can be here"),
        ("9" * 400 + " lb 8 oz", "unclear"),
        ("1e3 g", "“e”, which is not a unit of mass"),
        ("nan", "is not a mass"),
        ("inf", "is not a mass"),
        ("5 gal", "“5 gal” is a volume, but a mass is wanted"),
        ("5 ounzes", "“ounzes”, which is not a unit of mass. Did you mean oz?"),
        ("5 xyz", "Known are g, kg, lb, oz."),
        ("2 8", "more than one number"),
        ("2 lb 8", "more than one number"),
        ("8 oz 2 lb", "more than one number"),
        ("1 lb 2 oz 3 oz", "more than one number"),
        ("2 lb -8 oz", "more than one number"),
        ("2 lb 20 oz", "oz below 16"),
        ("2.5 lb 8 oz", "lb must be whole"),
    ],
)
def test_what_cannot_be_taken_is_refused_in_words(text: str, said: str) -> None:
    """A refusal repeats what was typed, says what is wrong with it and what to write."""
    with pytest.raises(NotUnderstood) as refusal:
        parse(text, Dimension.MASS, "g")

    assert said in str(refusal.value)


@pytest.mark.parametrize("text", ["1,250", "1.250", "1,250 g", "12.500 g"])
def test_a_mark_before_three_digits_is_not_guessed(text: str) -> None:
    """Where a mark may group thousands and both readings are possible, neither is taken."""
    with pytest.raises(NotUnderstood, match=r"can mean .* or \d+ g. Write it one of these ways"):
        parse(text, Dimension.MASS, "g")


@pytest.mark.parametrize("text", ["1,250 g", "1.234 g", "20.125 g"])
def test_both_readings_offered_can_be_typed_as_they_stand(text: str) -> None:
    """Each of the two figures that a refusal offers is understood when it is typed in turn."""
    with pytest.raises(NotUnderstood) as refusal:
        parse(text, Dimension.MASS, "g")
    first, second = str(refusal.value).split("can mean ")[1].split(". Write")[0].split(" or ")

    decimal = float(text.removesuffix(" g").replace(",", "."))
    assert parse(first, Dimension.MASS, "g") == pytest.approx(decimal)
    assert parse(second, Dimension.MASS, "g") == pytest.approx(1000 * decimal)


def test_a_scale_showing_three_decimals_is_taken_where_only_that_can_be() -> None:
    """ "1.250 kg" is 1250 g, because nobody fills 1250 kg."""
    assert parse("1.250 kg", Dimension.MASS, "g") == 1250
    assert parse("0,250 kg", Dimension.MASS, "g") == 250


def test_bounds_of_the_field_decide() -> None:
    """A field's own bounds replace the usual ones and are said in the unit typed."""
    with pytest.raises(NotUnderstood, match="at most 104 °F"):
        parse("140 °F", Dimension.TEMPERATURE, "°C", within=(0, 40))
    with pytest.raises(NotUnderstood, match=f"at least {MINUS}30 °C"):
        parse("-31", Dimension.TEMPERATURE, "°C", within=(-30, 40))
    assert parse("0", Dimension.LENGTH, "mm", within=(0, 100)) == 0


def test_an_amount_with_a_vowel_has_its_article() -> None:
    """The sentence says "an elevation"."""
    with pytest.raises(NotUnderstood, match="Write an elevation, such as"):
        parse("high", Dimension.ELEVATION, "m")


@given(st.text(max_size=30))
def test_no_text_breaks_the_parser(text: str) -> None:
    """Whatever is typed gives a figure within bounds or a refusal, never another error."""
    for dimension in Dimension:
        kind = KINDS[dimension]
        answer = parsed_or_refusal(text, dimension, (kind.least, kind.most))

        if isinstance(answer, str):
            assert answer.endswith((".", "?"))
        else:
            assert kind.least <= answer <= kind.most


@given(st.sampled_from(list(Dimension)), st.sampled_from(list(System)), st.data())
def test_what_is_said_can_be_typed_again(
    dimension: Dimension, system: System, data: st.DataObject
) -> None:
    """A figure said and typed back differs by no more than was rounded away."""
    kind = KINDS[dimension]
    value = data.draw(st.floats(kind.least, kind.most))
    known_to = data.draw(st.floats(0.001, 1)) * max(abs(value), 1) / 100

    text = say(value, dimension, system, known_to)
    bounds = (2 * kind.least - 10, 2 * kind.most)
    again = parsed_or_refusal(text, dimension, bounds)

    if isinstance(again, str):
        assert "can mean" in again
    else:
        assert again == pytest.approx(value, abs=10 * known_to * (1 + 1e-9))


@pytest.mark.parametrize(
    ("value", "dimension", "system", "known_to", "text"),
    [
        (1250, Dimension.MASS, System.METRIC, 1, "1.250 kg"),
        (1250, Dimension.MASS, System.METRIC, 10, "1.25 kg"),
        (1250, Dimension.MASS, System.METRIC, 100, "1.2 kg"),
        (850, Dimension.MASS, System.METRIC, 1, "850 g"),
        (999.6, Dimension.MASS, System.METRIC, 1, "1.000 kg"),
        (2 * LB + 12 * OZ, Dimension.MASS, System.US, 5, "2 lb 12 oz"),
        (2 * LB - 1, Dimension.MASS, System.US, 5, "2 lb 0 oz"),
        (10 * LB, Dimension.MASS, System.US, 100, "10 lb"),
        (7.1 * OZ, Dimension.MASS, System.US, 1, "7.1 oz"),
        (-18.04, Dimension.TEMPERATURE, System.METRIC, 0.1, "−18.0 °C"),
        (-40, Dimension.TEMPERATURE, System.US, 0.5, "−40 °F"),
        (-0.04, Dimension.TEMPERATURE, System.METRIC, 0.1, "0.0 °C"),
        (18.93, Dimension.VOLUME, System.METRIC, 0.1, "18.9 L"),
        (18.92705892, Dimension.VOLUME, System.US, 0.1, "5.0 gal"),
        (0.946352946, Dimension.VOLUME, System.US, 0.01, "1.0 qt"),
        (203.2, Dimension.LENGTH, System.METRIC, 1, "203 mm"),
        (203.2, Dimension.LENGTH, System.US, 1, "8.0 in"),
        (1777, Dimension.GAS, System.METRIC, 10, "1780 cc"),
        (1609.344, Dimension.ELEVATION, System.US, 100, "5000 ft"),
        (1609.344, Dimension.ELEVATION, System.US, 30, "5300 ft"),
        (57, Dimension.SHARE, System.METRIC, 1, "57 %"),
    ],
)
def test_a_figure_is_said_with_no_more_digits_than_known(
    value: float, dimension: Dimension, system: System, known_to: float, text: str
) -> None:
    """The last digit shown stands for no less than how finely the value is known."""
    assert say(value, dimension, system, known_to) == text.replace(" ", NO_BREAK_SPACE)


@pytest.mark.parametrize(("value", "known_to"), [(float("nan"), 1), (1, 0), (1, float("inf"))])
def test_what_is_no_number_is_not_said(value: float, known_to: float) -> None:
    """No figure is made up for a value that is not a number."""
    with pytest.raises(ValueError, match="cannot say"):
        say(value, Dimension.MASS, System.METRIC, known_to)


@pytest.mark.parametrize(
    ("dimension", "symbol"),
    [(dimension, symbol) for dimension in Dimension for symbol in dimension.units],
)
def test_the_table_of_units_agrees_with_the_registry(dimension: Dimension, symbol: str) -> None:
    """Every unit that people may write is as large as pint, an independent reference, has it."""
    pints = registry()
    shown = pints.Quantity(12.5, PINT_NAMES.get(symbol, symbol))
    base = PINT_NAMES.get(KINDS[dimension].base, KINDS[dimension].base)

    assert parse(f"12.5 {symbol}", dimension, symbol, (-1e9, 1e9)) == pytest.approx(
        shown.to(base).magnitude, rel=1e-12
    )


@pytest.mark.parametrize(
    ("value", "unit", "into", "expected"),
    [
        (62.42796, "lb/ft3", "kg/m3", 1000.0),
        (8.345404, "lb/gal", "g/cc", 1.0),
        (236.5882365, "g/cup", "g/cc", 1.0),
        (418.4, "kJ/100g", "kcal/100g", 100.0),
        (1, "mil", "um", 25.4),
        (0, "degF", "degC", -160 / 9),
    ],
)
def test_units_of_catalogue_files_are_converted(
    value: float, unit: str, into: str, expected: float
) -> None:
    """Conversions agree with the factors of NIST Special Publication 811, appendix B."""
    assert convert(value, unit, into) == pytest.approx(expected, rel=1e-6)


def test_there_is_one_registry() -> None:
    """Whoever asks gets the same registry, so that quantities can be mixed."""
    assert registry() is registry()


def test_pint_is_not_loaded_before_it_is_needed() -> None:
    """Parsing and saying the units of fields leaves pint alone, so that starting stays quick."""
    program = (
        "import sys; from packdesk.units import *;"
        "parse('2 lb', Dimension.MASS, 'g'); say(1.0, Dimension.MASS, System.US, 0.1);"
        "assert convert(1.0, 'g', 'g') == 1.0; sys.exit('pint' in sys.modules)"
    )

    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


@pytest.mark.parametrize(
    ("line", "figure"),
    [
        ("ST,GS,+  1.234 kg", "+  1.234 kg"),
        ("N   +  812.3 g", "+  812.3 g"),
        ("  812 g", "812 g"),
        ("812.3 g ST", "812.3 g"),
        ("812.3 N", "812.3"),
        ("S S  812.30 g", "812.30 g"),
        ("812.3 G", "812.3 G"),
        ("2 lb 8 oz", "2 lb 8 oz"),
        ("abc", "abc"),
    ],
)
def test_the_figure_of_a_balances_line_is_found_between_its_marks(line: str, figure: str) -> None:
    """Marks of rest, gross and net go; figure, sign and unit stay (common practice, no source)."""
    assert figure_of_line(line).strip() == figure


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("US,GS,+  1.234 kg", "not at rest"),
        ("SD  812.3 g", "not at rest"),
        ("OL", "more or less than it can weigh"),
        ("PT   18.0 g", "its tare"),
        ("QX  812.3 g", "“QX”"),
        ("o12.3 g", "“o”"),
    ],
)
def test_a_balances_line_that_is_no_mass_is_refused_in_words(line: str, words: str) -> None:
    """A figure not at rest, an overload, a tare and an unknown mark are never taken for a mass."""
    with pytest.raises(NotUnderstood, match=words):
        figure_of_line(line)
