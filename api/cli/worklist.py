"""The command on what should be looked up next."""

import click

from api.cli.asking import question_command
from api.cli.output import Answer, heading, item, notes, paragraph, short_id
from kb.mixture.counting import so_many


def show_worklist(answer: Answer) -> None:
    """The tasks by kind, each with what to do and its records."""
    kind = None
    for task in answer["tasks"]:
        if task["kind"] != kind:
            kind = task["kind"]
            heading(answer["labels"][kind])
        item(" ".join(filter(None, (task["text"], _hangs(task), f"{_upper(task['do'])}.", _records(task)))))
    paragraph("")
    paragraph(
        f"{len(answer['tasks'])} of {so_many(answer['total'], 'task')}, from place {answer['start'] + 1}."
    )
    if answer["next"]:
        paragraph(f"More: add --after {answer['next']}")
    notes(answer["notes"])


def _hangs(task: Answer) -> str:
    verdicts = task["verdicts"]
    if verdicts is None:
        return ""
    return f"{verdicts['changed']:g} of {verdicts['tried']} verdicts tried hang on it."


def _records(task: Answer) -> str:
    shown = [f"[{short_id(record)}]" for record in task["records"][:3]]
    more = len(task["records"]) - len(shown)
    return " ".join((*shown, *([f"and {more} more"] if more else [])))


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".")


COMMANDS: dict[str, click.Command] = {
    "worklist": question_command(
        "worklist",
        "worklist",
        arguments=(),
        show=show_worklist,
        help_text="What should be looked up next: the records whose checking would change most verdicts, "
        "then values that disagree, may be floors or copies, or cannot be, each with what to do.",
    )
}
