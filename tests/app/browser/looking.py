"""Opens a page as a reader would and tells what was wrong with it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import quote, urlsplit

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, Request

SHOTS = Path(__file__).resolve().parents[3] / "var" / "screenshots"
DRAWN = """() => {
    const app = document.querySelector('.stApp');
    return app && app.dataset.testScriptState === 'notRunning'
        && app.dataset.testConnectionState === 'CONNECTED'
        && document.querySelector('.ro-title')
        && !document.querySelector('[data-testid=stSkeleton]')
        && [...document.querySelectorAll('.stVegaLiteChart')].every(c => c.querySelector('svg'));
}"""
SETTLED = """(theme) => {
    const app = document.querySelector('.stApp');
    const charts = [...document.querySelectorAll('.stVegaLiteChart')];
    return getComputedStyle(app).colorScheme === theme && charts.every(chart => {
        const drawing = chart.querySelector('svg');
        const room = chart.parentElement.clientWidth;
        return drawing && (room === 0 || Math.abs(drawing.clientWidth - room) < 3);
    });
}"""
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@dataclass
class Looked:
    """A page in a window of one width and theme, with every request that it made."""

    page: Page
    outside: list[str] = field(default_factory=list)

    def note(self, request: Request) -> None:
        place = urlsplit(request.url)
        if place.scheme in ("http", "https", "ws", "wss") and place.hostname != "127.0.0.1":
            self.outside.append(request.url)

    def open(self, address: str, path: str, reader: str) -> None:
        more = "&" if "?" in path else "?"
        self.page.goto(f"{address}/{path}{more}view_as={quote(reader)}")
        self.page.wait_for_function(DRAWN, timeout=45_000)

    def resize(self, width: int, theme: str) -> None:
        """The same page in another window: as when a tablet is turned or dusk comes."""
        self.page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        self.page.set_viewport_size({"width": width, "height": 800})
        self.page.wait_for_function(SETTLED, arg=theme)

    def wider_than_the_window(self) -> list[str]:
        """What sticks out to the right, apart from tables that scroll on their own."""
        found: list[str] = self.page.evaluate(
            """() => {
                const main = document.querySelector('[data-testid=stMain]');
                const out = [];
                if (main.scrollWidth > main.clientWidth) out.push('the page');
                for (const chart of document.querySelectorAll('.stVegaLiteChart svg')) {
                    const card = chart.closest('[class*=st-key-card]');
                    if (card && chart.getBoundingClientRect().right
                            > card.getBoundingClientRect().right) out.push('a chart');
                }
                return out;
            }"""
        )
        return found

    def troubles(self) -> list[str]:
        """What axe finds against WCAG 2.2 AA, nothing excluded."""
        rules = {"runOnly": {"type": "tag", "values": LEVELS}}
        found = Axe().run(self.page, options=rules).response["violations"]
        return [f"{rule['id']}: {rule['nodes'][0]['html'][:200]}" for rule in found]

    def save(self, name: str) -> None:
        """The whole page as a picture."""
        size = self.page.viewport_size or {"width": 1280, "height": 800}
        height = self.page.evaluate("document.querySelector('[data-testid=stMain]').scrollHeight")
        whole = {"width": size["width"], "height": max(800, min(int(height), 4000))}
        self.page.set_viewport_size(whole)  # type: ignore[arg-type]
        SHOTS.mkdir(parents=True, exist_ok=True)
        self.page.screenshot(path=SHOTS / f"{name}.png")
        self.page.set_viewport_size(size)


def window(browser: Browser, width: int, theme: str) -> tuple[BrowserContext, Looked]:
    """A window of one width in one theme; what it asks from outside is noted."""
    context = browser.new_context(
        viewport={"width": width, "height": 800},
        color_scheme=theme,  # type: ignore[arg-type]
        reduced_motion="reduce",
    )
    looked = Looked(context.new_page())
    looked.page.on("request", looked.note)
    looked.page.on("websocket", lambda socket: _note_socket(looked, socket.url))
    return context, looked


def _note_socket(looked: Looked, url: str) -> None:
    if urlsplit(url).hostname != "127.0.0.1":
        looked.outside.append(url)
