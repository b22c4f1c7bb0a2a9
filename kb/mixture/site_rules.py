"""What the law of a place, or those who are near, hold against single plants."""

from kb.mixture.limits import Limit, Meeting, Party


def rule_limits(party: Party, meeting: Meeting) -> tuple[Limit, ...]:
    """One limit for each rule that the site has for this plant."""
    return tuple(
        Limit(
            kind=rule.kind,
            of=party.profile.id,
            text=rule.text,
            records=rule.records,
            ceiling=rule.ceiling,
            lift=rule.lift,
        )
        for rule in meeting.site.rules.get(party.profile.id, ())
    )
