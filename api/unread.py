"""Requests that the server turns away before the application sees them: too long, or not HTTP.

The server's own words would be plain text; here they are problem details as everywhere else (RFC 9457).
"""

import json
from typing import Any

from waitress.channel import HTTPChannel
from waitress.task import ErrorTask

from api.app import CORS_HEADERS, SECURITY_HEADERS
from api.problems import MEDIA_TYPE, unread_problem


class ProblemTask(ErrorTask):  # type: ignore[misc]  # waitress has no types
    """Answers with a problem where the server could not take the request in."""

    def execute(self) -> None:
        """Send the problem and close: what follows of the request is not read."""
        error: Any = self.request.error
        problem = unread_problem(error.code, error.reason)
        shown = problem.as_dict(getattr(self.request, "path", None) or "/")
        body = (json.dumps(shown, indent=2, ensure_ascii=False) + "\n").encode()
        self.status = f"{error.code} {error.reason}"
        self.response_headers.extend({"Content-Type": MEDIA_TYPE, **SECURITY_HEADERS, **CORS_HEADERS}.items())
        self.set_close_on_finish()
        self.content_length = len(body)
        self.write(body)


class Channel(HTTPChannel):  # type: ignore[misc]
    """A connection whose errors are problems."""

    error_task_class = ProblemTask
