"""Settings as TOML: written so that people can read them, read with every fault told."""

from __future__ import annotations

import json
import tomllib
from types import MappingProxyType

from packdesk.settings.chosen import MEASURE_BOUNDS_MM, MEASURE_FIELDS, PrinterMeasure, Settings
from packdesk.settings.declared import DECLARED, Value

_MEASURES = "printer_measure"


def written(settings: Settings) -> str:
    """The settings as TOML, each choice under the sentence that says what it is for."""
    lines: list[str] = []
    for name, declared in DECLARED.items():
        if name in settings.choices:
            lines += [f"# {declared.sentence}", f"{name} = {_value(settings.choices[name])}", ""]
    for measure in settings.measures:
        lines.append(f"[[{_MEASURES}]]")
        lines += [f"{name} = {_value(getattr(measure, name))}" for name in MEASURE_FIELDS]
        lines.append("")
    return "\n".join(lines)


def read(text: str) -> tuple[Settings, tuple[str, ...]]:
    """The settings of a text, and a sentence for every fault; what is faulty has no effect."""
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return Settings(), (f"The settings cannot be read: {error}. The usual ones are used.",)
    faults: list[str] = []
    choices: dict[str, Value] = {}
    measures = table.pop(_MEASURES, [])
    for name, value in table.items():
        declared = DECLARED.get(name)
        if declared is None:
            faults.append(f"Setting “{name}” is not known. Take it out of the settings.")
        elif objection := declared.objection(value):
            faults.append(f"Setting “{name}” {objection}. The usual value is used.")
        else:
            choices[name] = value
    settings = Settings(MappingProxyType(choices))
    if not isinstance(measures, list):
        return settings, (*faults, f"Setting “{_MEASURES}” is no list of measures.")
    for number, entry in enumerate(measures, start=1):
        found = _measure(entry)
        if isinstance(found, str):
            faults.append(f"Printer measure {number} is not used: {found}")
        else:
            settings = settings.with_measure(found)
    return settings, tuple(faults)


def _measure(entry: object) -> PrinterMeasure | str:
    """A measure, or why it is none."""
    if not isinstance(entry, dict):
        return "it is not a table."
    strange = [name for name in entry if name not in MEASURE_FIELDS]
    missing = [name for name in MEASURE_FIELDS if name not in entry]
    if strange or missing:
        return f"“{strange[0]}” is not known." if strange else f"“{missing[0]}” is missing."
    for name in MEASURE_FIELDS:
        value = entry[name]
        wanted = int | float if name in MEASURE_BOUNDS_MM else str
        if isinstance(value, bool) or not isinstance(value, wanted):
            return f"“{name}” is {value!r}."
    try:
        return PrinterMeasure(**entry)
    except ValueError as wrong:
        return str(wrong)


def _value(value: Value) -> str:
    """A text or figure as TOML; a printable line in JSON's quotes is one in TOML's."""
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else repr(float(value))
