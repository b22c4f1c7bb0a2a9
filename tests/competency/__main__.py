"""Print the textbook table: ``python -m tests.competency``."""

import sys

from kb.repository import open_repository
from tests.competency.cases import read_cases, run_case


def main() -> None:
    """Ask every case of the shipped base and print the verdict beside the expected one."""
    snapshot = open_repository().snapshot()
    outcomes = [run_case(case, snapshot) for case in read_cases()]
    out = sys.stdout.write
    out(f"{'case':5}{'expected':18}{'said':10}{'':8}{'sureness':14}why\n")
    for outcome in outcomes:
        mark = "" if outcome.met else "MISS"
        expected = " or ".join(outcome.case.expected)
        missing = [kind for kind in outcome.case.kinds if kind not in outcome.said_kinds]
        lacks = f" [not said: {', '.join(missing)}]" if missing else ""
        out(
            f"{outcome.case.id:5}{expected:18}{outcome.verdict:10}{mark:8}{outcome.sureness:14}"
            f"{outcome.saying}{lacks}\n"
        )
    met = sum(outcome.met for outcome in outcomes)
    out(f"{met} of {len(outcomes)} as expected (data set {snapshot.version})\n")


if __name__ == "__main__":
    main()
