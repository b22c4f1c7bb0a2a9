"""Requests made up from the description: no question makes the service fail or break its word."""

import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from api.app import create_app
from kb.repository import MemoryRepository
from tests.api.invented import PLANTS, SOURCE

schemathesis.serializer.alias("application/sparql-query", "text/plain")
APP = create_app(MemoryRepository(PLANTS, (SOURCE,)), testing=True)
SCHEMA = schemathesis.openapi.from_wsgi("/openapi.json", APP)


@SCHEMA.parametrize()
@settings(
    max_examples=12,
    deadline=None,
    derandomize=True,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
def test_no_request_breaks_the_service(case: schemathesis.Case) -> None:
    """Valid or not, every request gets a described status, form and body; never a 500."""
    response = case.call_and_validate(
        headers={"Accept-Encoding": "identity"},  # the test client does not unpack
        checks=[
            not_a_server_error,
            status_code_conformance,
            content_type_conformance,
            response_schema_conformance,
        ],
    )

    assert response.status_code < 500
