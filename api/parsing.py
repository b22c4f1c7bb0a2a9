"""From names and texts to checked values: every fault of a question is reported at once."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import cast

from api.nearest import nearest
from api.param_kinds import BLANK_IS_UNSAID, NOT_YET, Parameter, QuestionKind, SettingName
from api.params import PARAMETERS, parameters_of
from api.values import Value
from kb.errors import BadParameter, ParameterFault


@dataclass(frozen=True, slots=True)
class Given:
    """What was given, read and checked one by one. Absent names read as None or empty."""

    question: QuestionKind
    values: Mapping[str, tuple[Value, ...]]

    def __contains__(self, name: str) -> bool:
        return name in self.values

    def _one(self, name: str) -> Value | None:
        return self.values[name][0] if name in self.values else None

    def number(self, name: str) -> float | None:
        value = self._one(name)
        return None if value is None else float(cast("float", value))

    def whole(self, name: str) -> int | None:
        return cast("int | None", self._one(name))

    def text(self, name: str) -> str | None:
        return cast("str | None", self._one(name))

    def needed(self, name: str) -> str:
        return cast("str", self.values[name][0])

    def yes(self, name: str) -> bool:
        return bool(self._one(name))

    def names(self, name: str) -> tuple[str, ...]:
        return cast("tuple[str, ...]", self._one(name) or ())

    def wholes(self, name: str) -> tuple[int, ...]:
        return cast("tuple[int, ...]", self._one(name) or ())

    def aligned(self, name: str) -> tuple[Value | None, ...]:
        """A list that runs beside the plants, None where nothing is said of one."""
        return tuple(None if value == "" else value for value in self.values.get(name, ()))

    def texts(self, name: str) -> tuple[str, ...]:
        return cast("tuple[str, ...]", self.values.get(name, ()))


def refusal(question: QuestionKind, name: str) -> ParameterFault:
    """Why a parameter that this question does not use is refused, and what is accepted."""
    used = parameters_of(question)
    accepted = f"'{question}' takes {', '.join(used)}" if used else f"'{question}' takes no parameters"
    if name in NOT_YET:
        return ParameterFault(name, f"is not used yet: {NOT_YET[name]}.")
    if any(p.name == name for p in PARAMETERS):
        return ParameterFault(name, f"is not used by this question; {accepted}.")
    hint = nearest(name, used, count=1)
    meant = f"did you mean {hint[0]}? " if hint else ""
    return ParameterFault(name[:80], f"is not known; {meant}{accepted}.")


def _read(parameter: Parameter, texts: list[str], faults: list[ParameterFault]) -> tuple[Value, ...]:
    if len(texts) > 1 and parameter.ticked and all(text.strip() for text in texts):
        texts = [",".join(texts)]
    if len(texts) > 1 and not parameter.many:
        faults.append(ParameterFault(parameter.name, f"is given {len(texts)} times; give it once."))
        return ()
    values: list[Value] = []
    for place, text in enumerate(texts, start=1):
        if parameter.aligned:
            values.append(_read_aligned(parameter, text, place, faults))
            continue
        if not text.strip():
            way = f"give {parameter.help}" if parameter.required else "give a value or leave it out"
            faults.append(ParameterFault(parameter.name, f"is empty; {way}."))
            continue
        try:
            values.append(parameter.read(text))
        except ValueError as fault:
            faults.append(ParameterFault(parameter.name, f"{fault}."))
    return tuple(values)


def _aligned(question: QuestionKind, name: str) -> bool:
    parameter = parameters_of(question).get(name)
    return parameter is not None and parameter.aligned


def _read_aligned(parameter: Parameter, text: str, place: int, faults: list[ParameterFault]) -> Value:
    """One value of a list that runs beside the plants; an empty text where there is none."""
    if text.strip() in {"", "-"}:
        if text.strip() and parameter.group == "subject":
            faults.append(ParameterFault(parameter.name, f"number {place} is '-'; name a plant."))
        return ""
    try:
        return parameter.read(text)
    except ValueError as fault:
        faults.append(ParameterFault(parameter.name, f"of plant {place}: {fault}."))
        return ""


def parse(question: QuestionKind, items: Iterable[tuple[str, str]]) -> Given:
    """Read the parameters of a question; raise one ``BadParameter`` with every fault found."""
    texts: dict[str, list[str]] = {}
    for name, text in items:
        if question in BLANK_IS_UNSAID and not text.strip() and not _aligned(question, name):
            continue
        texts.setdefault(name, []).append(text)
    used = parameters_of(question)
    faults: list[ParameterFault] = []
    values: dict[str, tuple[Value, ...]] = {}
    for name, given in texts.items():
        if name not in used:
            faults.append(refusal(question, name))
        elif read := _read(used[name], given, faults):
            values[name] = read
    faults.extend(
        ParameterFault(p.name, f"is missing; give {p.help}.")
        for p in used.values()
        if question in p.required and p.name not in texts
    )
    faults.extend(_wrong_setting(values, used))
    if faults:
        raise BadParameter(tuple(faults))
    return Given(question, values)


def _wrong_setting(
    values: Mapping[str, tuple[Value, ...]], used: Mapping[str, Parameter]
) -> list[ParameterFault]:
    """Faults of parameters that act only in the other setting."""
    if "setting" not in used:
        return []
    said = "under" if "tree" in values else values.get("setting", ("bed",))[0]
    words = {**WHERE, "under": "under a tree (name it: tree)"} if "tree" in used else WHERE
    return [
        ParameterFault(name, f"acts only {where}; leave it out or change the setting.")
        for name in values
        if (where := _acts_only(used[name], cast("SettingName", said), words)) is not None
    ]


WHERE: Mapping[SettingName, str] = {
    "bed": "in a bed (setting=bed)",
    "hedge": "in a hedge (setting=hedge)",
    "under": "under a tree (setting=under)",
    "follow": "where B follows A (setting=follow)",
}


def _acts_only(parameter: Parameter, setting: SettingName, where: Mapping[SettingName, str]) -> str | None:
    """Where a parameter acts, in words, if it does not in this setting."""
    if setting in parameter.acts_in or parameter.group == "subject":
        return None
    if setting == "follow":
        return "where two plants stand together (setting=bed, hedge or under)"
    words = [words for name, words in where.items() if name in parameter.acts_in]
    return " or ".join(words)
