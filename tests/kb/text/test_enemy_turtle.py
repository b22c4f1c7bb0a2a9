"""Enemies and emissions survive their files, and what is broken in one is named."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.errors import BadFile
from kb.model import Basis, PlantId, SourceKey, Standing
from kb.statements.enemy_model import (
    ActsThrough,
    AttackedPart,
    DistanceMeaning,
    Emission,
    EmissionId,
    EmissionStatement,
    Enemy,
    EnemyId,
    EnemyKind,
    Grade,
    HostRole,
    HostStatement,
    ListedAs,
    Route,
    Scope,
    Severity,
    YearsMeaning,
    canonical_emission,
    canonical_enemy,
)
from kb.text.enemy_turtle import (
    emission_from_turtle,
    emission_to_turtle,
    enemy_from_turtle,
    enemy_to_turtle,
    parse_enemies,
)

TEXT = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=30)
SLUG = st.from_regex(r"[a-z]{1,6}(-[a-z]{1,6})?", fullmatch=True)
NUMBER = st.decimals("0", "2000", places=2).map(Decimal.normalize)
SPAN = st.one_of(
    st.tuples(NUMBER, st.none()),
    st.tuples(st.none(), NUMBER),
    st.tuples(NUMBER, NUMBER).map(lambda pair: (min(pair), max(pair))),
)


def one_of(closed: object) -> st.SearchStrategy[object]:
    return st.sampled_from(get_args(closed))


@st.composite
def statements(draw: st.DrawFn, number: int = 1) -> HostStatement:
    distance = draw(st.none() | SPAN)
    return HostStatement(
        id=f"inventia-plana.enemy.invented.a-source.{number}",
        enemy=EnemyId("invented"),
        plant=PlantId(draw(SLUG)),
        role=draw(one_of(HostRole)),
        severity=draw(st.none() | one_of(Severity)),
        route=draw(st.none() | one_of(Route)),
        distance_m=distance,
        distance_meaning=None if distance is None else draw(one_of(DistanceMeaning)),
        years=draw(st.none() | SPAN),
        years_meaning=draw(st.none() | one_of(YearsMeaning)),
        years_as_printed=draw(st.none() | TEXT),
        region=draw(st.none() | TEXT),
        scope=draw(one_of(Scope)),
        verbatim=draw(TEXT),
        name_as_printed=draw(TEXT),
        enemy_as_printed=draw(TEXT),
        source=SourceKey(draw(SLUG)),
        locator=draw(TEXT),
        basis=draw(one_of(Basis)),
        standing=draw(one_of(Standing)),
        entered_by=draw(TEXT),
        entered_on=draw(st.dates(date(2020, 1, 1), date(2030, 1, 1))),
        note=draw(st.none() | TEXT),
        revises=draw(st.none() | SLUG),
    )


@st.composite
def enemies(draw: st.DrawFn) -> Enemy:
    said = tuple(draw(statements(number)) for number in range(draw(st.integers(0, 4))))
    return Enemy(
        EnemyId("invented"),
        draw(TEXT),
        draw(st.none() | TEXT),
        draw(one_of(EnemyKind)),
        tuple(draw(st.lists(one_of(AttackedPart), max_size=3))),
        said,
    )


REACH = st.tuples(st.integers(0, 20), st.integers(20, 40)).map(lambda ends: tuple(map(Decimal, ends)))


@st.composite
def emissions(draw: st.DrawFn) -> Emission:
    said = tuple(
        EmissionStatement(
            id=f"inventia-plana.allelopathy.invented-tree.a-source.{number}",
            emission=EmissionId("invented"),
            plant=PlantId(draw(SLUG)),
            listed_as=draw(one_of(ListedAs)),
            grade=draw(one_of(Grade)),
            scope=draw(one_of(Scope)),
            verbatim=draw(TEXT),
            name_as_printed=draw(TEXT),
            source=SourceKey(draw(SLUG)),
            locator=draw(TEXT),
            basis=draw(one_of(Basis)),
            standing=draw(one_of(Standing)),
            entered_by=draw(TEXT),
            entered_on=draw(st.dates(date(2020, 1, 1), date(2030, 1, 1))),
            note=draw(st.none() | TEXT),
            revises=draw(st.none() | SLUG),
        )
        for number in range(draw(st.integers(0, 3)))
    )
    strength = draw(st.integers(0, 3))
    return Emission(
        EmissionId("invented"),
        draw(TEXT),
        PlantId("inventia-arbor"),
        strength,
        said,
        draw(one_of(ActsThrough)),
        draw(st.none() | REACH),
    )


@given(enemies())
def test_an_enemy_survives_its_file(enemy: Enemy) -> None:
    """Written and read back, an enemy is what it was; written again, the text is the same."""
    text = enemy_to_turtle(enemy)

    assert enemy_from_turtle(text, "invented.ttl") == canonical_enemy(enemy)
    assert enemy_to_turtle(canonical_enemy(enemy)) == text
    assert "[" not in "".join(line for line in text.splitlines() if '"' not in line)


@given(emissions())
def test_an_emission_survives_its_file(emission: Emission) -> None:
    """Written and read back, an emission is what it was; written again, the text is the same."""
    text = emission_to_turtle(emission)

    assert emission_from_turtle(text, "invented.ttl") == canonical_emission(emission)
    assert emission_to_turtle(canonical_emission(emission)) == text


def invented(**changes: object) -> HostStatement:
    """One invented statement on one invented plant."""
    plain = HostStatement(
        id="inventia-plana.enemy.invented-blight.a-source",
        enemy=EnemyId("invented-blight"),
        plant=PlantId("inventia-plana"),
        role="main",
        severity="serious",
        route="soil",
        distance_m=None,
        distance_meaning=None,
        years=(Decimal(10), None),
        years_meaning="survival",
        years_as_printed=None,
        region="nowhere",
        scope="taxon",
        verbatim="invented for a test",
        name_as_printed="Inventia plana",
        enemy_as_printed="invented blight",
        source=SourceKey("a-source"),
        locator="page 1",
        basis="read-in-excerpt",
        standing="proposed",
        entered_by="importer enemies",
        entered_on=date(2026, 1, 1),
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


def blight(*said: HostStatement) -> Enemy:
    return Enemy(EnemyId("invented-blight"), "invented blight", None, "fungus", ("leaf",), said)


@pytest.mark.parametrize(
    ("printed", "mistaken", "word"),
    [
        ("tb:host-role.main", "tb:host-role.chief", "tb:hostRole 'chief'"),
        ("tb:severity.serious", "tb:severity.awful", "tb:severity 'awful'"),
        ("tb:minYears 10.0 ;", 'tb:minYears "ten" ;', "'ten' is not a decimal number"),
        ("tb:enemy.invented-blight ;", "tb:enemy.other ;", "is about other, not invented-blight"),
        ('tb:locator "page 1" ;', "", "has no tb:locator"),
    ],
)
def test_a_broken_statement_is_named_and_left_out(printed: str, mistaken: str, word: str) -> None:
    """A statement that breaks a rule is named by its id; the enemy and its other statements stay."""
    sound = invented(id="inventia-plana.enemy.invented-blight.other-source", years=None, severity=None)
    text = enemy_to_turtle(blight(invented(), sound))
    head, found, tail = text.partition("tb:record.inventia-plana.enemy.invented-blight.a-source")
    first, dot, rest = tail.partition("\n.\n")
    assert printed in first

    parsed = parse_enemies(head + found + first.replace(printed, mistaken) + dot + rest, "invented.ttl")

    assert parsed.enemy is not None
    assert [said.id for said in parsed.enemy.statements] == [sound.id]
    assert len(parsed.faults) == 1
    assert "inventia-plana.enemy.invented-blight.a-source" in str(parsed.faults[0])
    assert word in str(parsed.faults[0])


def test_a_distance_without_its_meaning_is_refused() -> None:
    """A printed distance is never kept without what it is a distance of."""
    text = enemy_to_turtle(
        blight(invented(distance_m=(Decimal(305), None), distance_meaning="between-hosts"))
    )
    lines = [line for line in text.splitlines() if "distanceMeaning" not in line]

    with pytest.raises(BadFile, match="distanceMeaning stand together"):
        enemy_from_turtle("\n".join(lines), "invented.ttl")


def test_a_file_that_is_no_turtle_names_the_line() -> None:
    """A syntax fault spoils the file and says on which line."""
    parsed = parse_enemies("PREFIX tb: <https://w3id.org/traitbed/>\ntb:enemy.x a [", "broken.ttl")

    assert parsed.enemy is None
    assert "broken.ttl, line 2" in str(parsed.faults[0])


def test_how_long_an_enemy_lasts_is_read_off_its_statements() -> None:
    """Years of rotation are advice, not survival; rejected statements do not count."""
    enemy = blight(
        invented(id="a"),
        invented(id="b", years=(Decimal(7), Decimal(7)), years_meaning="rotation", route="seed"),
        invented(id="c", years=(None, Decimal(20))),
        invented(id="d", years=(Decimal(1), Decimal(90)), standing="rejected", route="air"),
    )

    assert enemy.persistence == (Decimal(10), Decimal(20))
    assert enemy.travels == ("seed", "soil")
