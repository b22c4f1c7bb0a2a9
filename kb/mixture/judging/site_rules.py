"""What the law of a place, those who are near, or the ground hold against single plants."""

from kb.mixture.limits import Apart, Limit
from kb.mixture.profile import Profile
from kb.mixture.site import Site


def rule_limits(profile: Profile, site: Site) -> tuple[Limit, ...]:
    """One limit for each rule that the site has for this plant."""
    return tuple(
        Limit(
            kind=rule.kind,
            of=profile.id,
            text=rule.text,
            records=rule.records,
            ceiling=rule.ceiling,
            lift=rule.lift,
            apart=Apart(profile.id) if rule.elsewhere else None,
        )
        for rule in site.rules.get(profile.id, ())
    )
