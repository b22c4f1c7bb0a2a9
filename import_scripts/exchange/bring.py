"""The two doors by which people's own files come in: a table of records, and a Darwin Core Archive.

Everything is read and judged before anything is written; where a row is bad nothing is, unless the good
rows are asked for.
"""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from import_scripts.exchange.archive_meta import read_meta
from import_scripts.exchange.archive_zip import StrangeZip
from import_scripts.exchange.foreign_archive import ForeignReader, source_of_archive
from import_scripts.exchange.gathered import Brought, Gathered
from import_scripts.exchange.keeping import keep
from import_scripts.exchange.matching import Decided, Matcher, Undecided, read_decided
from import_scripts.exchange.own_archive import OwnReader, is_own
from import_scripts.exchange.record_file import Reading, read_records
from import_scripts.tables import read_bytes
from kb.errors import BadParameter, ParameterFault
from kb.exchange.table_reading import decoded
from kb.repository import Repository
from kb.snapshot import Snapshot


@dataclass(frozen=True, slots=True)
class Wishes:
    """How a file is to be read, and what is to be done where some of it is bad.

    ``decisions`` is a filled-in file of undecided names. ``encoding`` (csv) and ``source`` (archives of
    others) are needed only where the file does not say. ``add_plants`` (our archives) adds plants that the
    store does not hold.
    """

    keep_good: bool = False
    decisions: Path | None = None
    encoding: str | None = None
    comma: bool = False
    source: str | None = None
    add_plants: bool = False


def bring_csv(
    path: Path, repository: Repository, on: date, wishes: Wishes
) -> tuple[Brought, tuple[Undecided, ...]]:
    """Bring a table of records in. Raises BadFile, SourceFault, StoreFault where nothing can be read."""
    _refuse("csv", source_key=wishes.source is not None, add_plants=wishes.add_plants)
    snapshot = repository.snapshot()
    text = decoded(read_bytes(path), path.name, wishes.encoding).text
    matcher = _matcher(snapshot, wishes)
    report, gathered = Brought("csv"), Gathered()
    reading = Reading(snapshot.vocabulary, snapshot.sources, matcher, comma=wishes.comma)
    read_records(text, path.name, reading, gathered, report)
    keep(gathered, repository, report, on=on, keep_good=wishes.keep_good)
    return report, tuple(matcher.undecided.values())


def bring_archive(
    path: Path, repository: Repository, on: date, wishes: Wishes
) -> tuple[Brought, tuple[Undecided, ...]]:
    """Bring a Darwin Core Archive in, ours or another's. Raises BadFile, SourceFault, StoreFault."""
    _refuse("dwca", encoding=wishes.encoding is not None)
    snapshot = repository.snapshot()
    matcher = _matcher(snapshot, wishes)
    report, gathered = Brought("dwca"), Gathered()
    with StrangeZip(path) as archive:
        described = read_meta(archive)
        if is_own(described):
            _refuse(
                "an archive of our own",
                source_key=wishes.source is not None,
                comma=wishes.comma,
                decisions=wishes.decisions is not None,
            )
            OwnReader(snapshot, gathered, report, add_plants=wishes.add_plants).read(archive, described)
        else:
            _refuse("an archive of others", add_plants=wishes.add_plants)
            if wishes.source is None:
                detail = "is missing: name the key under which the archive is to be cited, such as my-survey."
                raise BadParameter((ParameterFault("source_key", detail),))
            source = source_of_archive(archive, described, wishes.source, snapshot.sources)
            reader = ForeignReader(snapshot.vocabulary, matcher, source, gathered, report, comma=wishes.comma)
            reader.read(archive, described)
    keep(gathered, repository, report, on=on, keep_good=wishes.keep_good)
    return report, tuple(matcher.undecided.values())


def _matcher(snapshot: Snapshot, wishes: Wishes) -> Matcher:
    decided = read_decided(wishes.decisions) if wishes.decisions else Decided()
    return Matcher(snapshot.plants.values(), snapshot.names, decided)


def _refuse(what: str, **given: bool) -> None:
    """Raises BadParameter for a wish that does not act on this kind of file."""
    faults = tuple(
        ParameterFault(name, f"does nothing for {what}; leave it out.")
        for name, said in given.items()
        if said
    )
    if faults:
        raise BadParameter(faults)
