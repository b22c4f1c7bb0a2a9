"""A page of which everything it asks for and complains of is kept."""

from playwright.sync_api import BrowserContext, Locator, Page


class Watched:
    """A page of which every request, console error and failure is kept."""

    def __init__(self, context: BrowserContext, base: str) -> None:
        self.base = base
        self.page: Page = context.new_page()
        self.page.set_default_timeout(30_000)
        self.requests: list[str] = []
        self.complaints: list[str] = []
        self.page.on("request", lambda request: self.requests.append(request.url))
        self.page.on("console", lambda said: self._keep(said.type, said.text))
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def _keep(self, kind: str, text: str) -> None:
        if kind in {"error", "warning"}:
            self.complaints.append(text)

    def open(self, path: str) -> int:
        """Go there; the status of the answer."""
        response = self.page.goto(self.base + path, wait_until="load")
        assert response is not None
        return response.status

    def follow(self, link: Locator) -> None:
        """Click what leads elsewhere, and wait for the whole of that page."""
        with self.page.expect_navigation(wait_until="load"):
            link.click()

    def elsewhere(self) -> list[str]:
        """Requests that went to any other server."""
        return [url for url in self.requests if not url.startswith((self.base + "/", "data:,"))]

    def unfold(self, words: str) -> None:
        """Open the folded section whose line holds these words."""
        self.page.locator("summary", has_text=words).first.click()

    def unfold_all(self) -> None:
        """Open every folded section, as a reader who wants it all would."""
        self.page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
