"""Where the figures of a session come from: catalogue entries with their sources, and methods."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from packdesk.catalog.description import Description
from packdesk.catalog.figures import Figure, Grade
from packdesk.catalog.read import Catalog
from packdesk.present.measures import Measures
from packdesk.present.outlines import OutlineSection
from packdesk.present.record_words import ROOM_C
from packdesk.sentences import capital
from packdesk.session.state import SessionState, State

_METHODS = (
    (
        "Core temperature: a short cylinder, exact series in its eigenfunctions (Carslaw and "
        "Jaeger, Conduction of Heat in Solids, 1959), over a set of properties within what is "
        "believed possible; readings weight the set."
    ),
    (
        "Hold: core at or below −15 °C (5 °F) for 72 h, our proposal after the three to seven "
        "days at −18 °C that extension services advise. Insects in dry food are a matter of "
        "quality, not of safety."
    ),
    "Dew point: Magnus form after Alduchov and Eskridge, J. Appl. Meteorol. 35:601 (1996).",
    (
        "Oxygen: 20.95 % of dry air (ISO 2533), at the pressure of the standard atmosphere for "
        "the elevation; air in a pouch is settled bulk and gas above it less the solids."
    ),
    (
        "Absorbers in the open: uptake in proportion to what is left and to the oxygen about "
        "them, rates after Tewari and others, Int. J. Food Sci. Technol. 37:209 (2002)."
    ),
    (
        "What a pouch holds: the paper-bag formula of Robin, Mathematics Today 40:104 (2004), "
        "times a share of common practice."
    ),
)


def methods(measures: Measures) -> OutlineSection:
    """How figures were worked out, and after whom."""
    quality = (
        f"Best quality: years of the catalogue at about {measures.temperature(ROOM_C)}, never more "
        "than the 30 years anybody has studied. Cooler is longer."
    )
    return OutlineSection("How the figures were worked out", (*_METHODS, quality))


_NOT_USED = {"energy", "thickness"}
_UNITS = {"1": "", "degC": "°C", "cc/(m2 day)": "cc/(m² day)", "um": "µm"}
_GRADES = {Grade.COMPUTED: ", computed", Grade.MEMORY: ", from memory", Grade.OWN: "own entry"}


def sources(state: State, session: SessionState, catalog: Catalog) -> OutlineSection:
    """Every catalogue figure behind the plan, numbered to the work it was taken from."""
    things = [thing for thing in _things(state, session, catalog) if thing is not None]
    numbers: dict[str, int] = {}
    said = [_said(thing, numbers) for thing in dict.fromkeys(things)]
    rows = tuple(
        (f"[{number}]", catalog.sources[key].citation if key in catalog.sources else key)
        for key, number in numbers.items()
    )
    return OutlineSection(
        title="Sources of the figures",
        sentences=(
            (
                "Figures of the catalogue as they stood when this was made; the plan and the loads "
                "carry their own as they were recorded. In brackets the source, below; where it "
                "says “from memory” the source named could not be read again."
            ),
            *said,
        ),
        header=("", "Source") if rows else (),
        rows=rows,
    )


def _things(state: State, session: SessionState, catalog: Catalog) -> Iterator[Description | None]:
    """What the session used of the shelf; None for what is no longer on it."""
    lines = session.plan.lines if session.plan is not None else ()
    for line in lines:
        yield catalog.foods.get(line.food)
    for line in lines:
        yield catalog.pouches.get(line.pouch)
        yield catalog.films.get(line.film)
    for round_ in session.rounds.values():
        packet = state.book.packets.get(round_.source)
        earlier = state.book.remainders.get(round_.source)
        for source in (packet, earlier):
            if source is not None:
                yield catalog.absorbers.get(source.absorber)
    for load in session.loads.values():
        yield catalog.pails.get(load.container)


def _said(thing: Description, numbers: dict[str, int]) -> str:
    figures = _figures(thing.figures(), numbers)
    return f"{capital(thing.name)}: {'; '.join(figures)}."


def _figures(figures: Iterable[tuple[str, Figure]], numbers: dict[str, int]) -> Iterator[str]:
    for name, figure in figures:
        if name in _NOT_USED:
            continue
        band = f" ({figure.low:g} to {figure.high:g})" if figure.low != figure.high else ""
        unit = _UNITS.get(figure.unit, figure.unit)
        value = f"{figure.value:g}{band}" + (f" {unit}" if unit else "")
        yield f"{name.replace('_', ' ')} {value} [{_origin(figure, numbers)}]"


def _origin(figure: Figure, numbers: dict[str, int]) -> str:
    if figure.grade is Grade.OWN:
        return _GRADES[Grade.OWN]
    number = numbers.setdefault(figure.source, len(numbers) + 1)
    return f"{number}{_GRADES.get(figure.grade, '')}"
