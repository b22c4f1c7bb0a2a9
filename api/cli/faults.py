"""Errors as one line for the terminal, in the words of the command line."""

import re

import click

from api.param_kinds import NOT_YET
from api.params import PARAMETERS, parameters_of
from api.parsing import refusal
from kb.errors import BadParameter
from kb.letters import visible

LONGEST_WORD = 160
"""Letters: a path or an IRI is shorter."""
POSITIONAL = {
    "a": "A",
    "b": "B",
    "plant": "NAME",
    "q": "WORDS",
    "source": "KEY",
    "value": "VALUE",
    "undo": "ID",
}
"""Parameters that are arguments, not options, and what the help calls them."""
_NAMES = {p.name for p in PARAMETERS}
_LONG = re.compile(r"\b(" + "|".join(sorted(n for n in _NAMES if "_" in n)) + r")\b")
_QUOTED = re.compile(r"((?<!\w)'[^']*'(?!\w))")
"""What a person typed, told as it was typed."""
_ASSIGNED = re.compile(r"\b(" + "|".join(sorted(_NAMES)) + r")=([^\s;,.)]+)")
_SAYS = re.compile(r"\b(" + "|".join(sorted(n for n in _NAMES if "_" not in n)) + r") says it\b")


def as_option(name: str) -> str:
    """What a parameter is called on the command line; a place in a plan is named as it is."""
    if name.startswith("/"):
        return f"{name} of the plan" if name != "/" else "--plan"
    if name.startswith("--") or name.isupper():
        return name
    return POSITIONAL.get(name) or "--" + name.replace("_", "-")


def in_options(text: str) -> str:
    """A sentence about parameters, told in options: ``setting=bed`` becomes ``--setting bed``."""
    return "".join(
        part if _QUOTED.fullmatch(part) else _unquoted_in_options(part) for part in _QUOTED.split(text)
    )


def _unquoted_in_options(text: str) -> str:
    assigned = _ASSIGNED.sub(lambda found: f"{as_option(found[1])} {found[2]}", text)
    assigned = _SAYS.sub(lambda found: f"{as_option(found[1])} says it", assigned)
    return _LONG.sub(lambda found: as_option(found[1]), assigned)


def one_line(fault: Exception) -> str:
    """What is wrong and how to mend it, on one line."""
    if isinstance(fault, BadParameter):
        said = " ".join(
            f"{as_option(f.parameter)} {f.detail if f.parameter.startswith('/') else in_options(f.detail)}"
            for f in fault.faults
        )
    elif isinstance(fault, click.NoSuchOption):
        said = _no_such_option(fault)
    elif isinstance(fault, click.UsageError):
        where = (
            f" See '{fault.ctx.command_path} --help'." if fault.ctx and "--help" not in fault.message else ""
        )
        said = f"{fault.format_message()}{where}"
    elif isinstance(fault, click.ClickException):
        said = fault.format_message()
    else:
        said = str(fault)
    return " ".join(_shortened(word) for word in said.split())


def _shortened(word: str) -> str:
    """A word as a line can quote it: what a person typed may be a whole file."""
    shown = visible(word)
    return shown if len(shown) <= LONGEST_WORD else f"{shown[:LONGEST_WORD]}..."


def _no_such_option(fault: click.NoSuchOption) -> str:
    """Why an option is refused, and which ones are accepted."""
    kind = getattr(fault.ctx.command, "question", None) if fault.ctx else None
    name = fault.option_name.lstrip("-").replace("-", "_")
    if kind is not None and (name in _NAMES or name in NOT_YET or not fault.possibilities):
        why = refusal(kind, name)
        accepted = [as_option(p) for p in parameters_of(kind)]
        options = ", ".join(accepted) or "--json and --store"
        told = re.sub(r"'\w+' takes .*", f"accepted: {options}.", why.detail)
        return f"{fault.option_name} {in_options(told)}"
    if fault.option_name[1:2].isdigit() or fault.option_name[1:2] == ".":
        return (
            f"A value that begins with a hyphen, such as {fault.option_name}, stands behind all options "
            "and names, after --, e.g. 'add --by curator ... -- apple hardiness '-20 C''."
        )
    hint = f" Did you mean {' or '.join(fault.possibilities)}?" if fault.possibilities else ""
    where = f" See '{fault.ctx.command_path} --help'." if fault.ctx else ""
    return f"There is no option {fault.option_name}.{hint}{where}"
