"""The command on what changed between two versions of the knowledge base."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.cli.asking import JSON_OPTION, STORE_OPTION, print_json
from api.cli.output import heading, item, paragraph, table
from api.cli.targets import write_whole
from kb.mixture.counting import so_many

if TYPE_CHECKING:
    from api.answers.change_note import Block

USUAL_PAIRS = 1500
MOST_PAIRS = 20000
STEPS_TOLD = 4


def _changes(
    *,
    old: str,
    new: str | None,
    pairs: int,
    brief: bool,
    out: str | None,
    as_json: bool,
    store: str | None,
) -> None:
    _refuse(new=new, brief=brief, out=out, as_json=as_json, store=store)
    from api.answers.change_note import markdown, note_of  # noqa: PLC0415 - loaded when it is asked
    from api.answers.changes import changes_answer  # noqa: PLC0415
    from kb.versions.opened import folder_of, open_version, version_in_use  # noqa: PLC0415

    for named in (old, new):
        if named is not None:
            folder_of(named)
    click.echo("Reading both versions ...", err=True)
    older = open_version(old)
    newer = version_in_use(store) if new is None else open_version(new)
    answer = changes_answer(older, newer, pairs=pairs, progress=_progress)
    if as_json:
        print_json(answer)
        return
    blocks = note_of(answer, brief=brief)
    if out is None:
        _print(blocks)
        return
    write_whole(Path(out), [markdown(blocks).encode()])
    click.echo(f"Wrote {out}.", err=True)


def _refuse(*, new: str | None, brief: bool, out: str | None, as_json: bool, store: str | None) -> None:
    """Options that do nothing together are refused."""
    if new is not None and store is not None:
        msg = "Name the newer version once: as NEW, or as the store."
        raise click.UsageError(msg)
    if as_json and (brief or out is not None):
        unused = "--brief" if brief else "--out"
        msg = f"{unused} is for readable text and does nothing with --json; leave one of them out."
        raise click.UsageError(msg)
    if out is not None and not out.endswith(".md"):
        msg = f"--out writes Markdown; name a file that ends in .md, not '{out}'."
        raise click.UsageError(msg)


def _progress(done: int, total: int) -> None:
    """A line on stderr at every quarter of the pairs."""
    if done % max(1, -(-total // STEPS_TOLD)) == 0:
        click.echo(
            f"Judging {so_many(total, 'pair')} in both versions: {round(100 * done / total)} %", err=True
        )


def _print(blocks: Iterable["Block"]) -> None:
    for block in blocks:
        if block.kind == "table":
            sides = ["left"] * (len(block.columns) - 1) + ["right"]
            table(list(zip(block.columns, sides, strict=True)), block.rows)
        elif block.kind == "title":
            click.secho(block.text, bold=True)
        elif block.kind in {"heading", "plant"}:
            heading(block.text.upper() if block.kind == "heading" else block.text)
        elif block.kind == "item":
            item(block.text)
        else:
            paragraph(block.text)


COMMANDS: dict[str, click.Command] = {
    "changes": click.Command(
        "changes",
        callback=_changes,
        params=[
            click.Argument(["old"], metavar="OLD"),
            click.Argument(["new"], required=False, metavar="[NEW]"),
            click.Option(
                ["--pairs"],
                type=click.IntRange(0, MOST_PAIRS),
                default=USUAL_PAIRS,
                show_default=True,
                metavar="N",
                help="How many real pairs to judge in both versions; 0 for none.",
            ),
            click.Option(["--brief"], is_flag=True, help="Leave out what changed plant by plant."),
            click.Option(
                ["--out"], metavar="FILE.md", help="Write the note as Markdown (whole or not at all)."
            ),
            JSON_OPTION,
            STORE_OPTION,
        ],
        help="A release note: what changed from OLD to NEW, and which verdicts it changes.\n\n"
        "OLD and NEW are folders: kb of a checkout (it stands by itself), or records of your own (laid over "
        "the shipped base). Without NEW the store in use is the newer one. Order matters.\n\n"
        "Warnings come first. Files that are broken in one version are named and left out of both.",
    )
}
