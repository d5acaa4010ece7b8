"""Which colour each role has: three palettes as frozen data, checked for contrast in tests/ui."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tokens:
    """One palette; each field is a role's colour as ``#RRGGBB``.

    `wheat` is never text and always has an edge; `rule` carries no
    meaning; `onpaper` is ink on `paper`, which stays light in every palette. Where `sheet` and
    `cloth` are one colour (high contrast), `outlined` tells that a card needs an edge to be seen.
    """

    name: str
    cloth: str
    sheet: str
    paper: str
    ink: str
    ink2: str
    rule: str
    edge: str
    indigo: str
    onindigo: str
    haze: str
    wheat: str
    wheatink: str
    brick: str
    onbrick: str
    brickhaze: str
    cold: str
    coldhaze: str
    straw: str
    grain: str
    foil: str
    onpaper: str
    outlined: bool = False


LIGHT = Tokens(
    name="light",
    cloth="#E9E4D8",
    sheet="#F8F5EE",
    paper="#FFFFFF",
    ink="#1A2040",
    ink2="#3D425E",
    rule="#D2CBBA",
    edge="#7A7464",
    indigo="#2B3985",
    onindigo="#FFFFFF",
    haze="#DCDFEF",
    wheat="#F0B429",
    wheatink="#704400",
    brick="#A3281A",
    onbrick="#FFFFFF",
    brickhaze="#F6DFD8",
    cold="#17648B",
    coldhaze="#C4DCE6",
    straw="#E2C27F",
    grain="#9B7328",
    foil="#D9DAE0",
    onpaper="#1A2040",
)

DARK = Tokens(
    name="dark",
    cloth="#12152A",
    sheet="#1B1F39",
    paper="#F8F5EE",
    ink="#F4F0E6",
    ink2="#C3C7DB",
    rule="#353B60",
    edge="#8A91B8",
    indigo="#B7C2FF",
    onindigo="#12152A",
    haze="#2B3263",
    wheat="#F4C04E",
    wheatink="#F4C04E",
    brick="#FF8069",
    onbrick="#1B0B08",
    brickhaze="#4A2430",
    cold="#55AEDB",
    coldhaze="#22425A",
    straw="#8F7440",
    grain="#EBD09A",
    foil="#3C4264",
    onpaper="#12152A",
)

HIGH_CONTRAST = Tokens(
    name="high contrast",
    cloth="#000000",
    sheet="#000000",
    paper="#FFFFFF",
    ink="#FFFFFF",
    ink2="#FFFFFF",
    rule="#8C8C8C",
    edge="#FFFFFF",
    indigo="#FFE14D",
    onindigo="#000000",
    haze="#2E2A00",
    wheat="#FFE14D",
    wheatink="#FFE14D",
    brick="#FFFFFF",
    onbrick="#000000",
    brickhaze="#000000",
    cold="#7FE6FF",
    coldhaze="#0B4B5C",
    straw="#8C8C8C",
    grain="#FFFFFF",
    foil="#333333",
    onpaper="#000000",
    outlined=True,
)

PALETTES = (LIGHT, DARK, HIGH_CONTRAST)
