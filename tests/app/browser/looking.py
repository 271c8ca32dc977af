"""Opens a page as a reader would and tells what was wrong with it."""

from __future__ import annotations

from collections import Counter
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
        && !document.querySelector('[data-testid=stSkeleton]');
}"""
SETTLED = """([theme, width]) => {
    const app = document.querySelector('.stApp');
    if (innerWidth !== width || document.fonts.status !== 'loaded') return false;
    if (!app) return matchMedia(`(prefers-color-scheme: ${theme})`).matches;  // the door's pages
    if (app.dataset.testScriptState !== 'notRunning') return false;
    return getComputedStyle(app).colorScheme === theme;
}"""
UNFOLDED = """() => {
    const folds = [...document.querySelectorAll('.stExpander details, .ro-fold')];
    folds.filter(one => !one.open).forEach(one => one.querySelector('summary').click());
    return folds.every(one => one.open && one.getAnimations({ subtree: true }).length === 0);
}"""
# Text over a gradient is left out by axe as undecided: it sees tables without the shade at an edge.
CHECKED = """async (levels) => {
    const plain = document.createElement('style');
    plain.textContent = '.ro-table { background: none !important }';
    document.head.append(plain);
    const found = await axe.run({
        runOnly: { type: 'tag', values: levels },
        resultTypes: ['violations', 'incomplete'],
    });
    plain.remove();
    const pictured = node => node.any.some(
        check => ['bgGradient', 'bgImage', 'pseudoContent'].includes(check.data?.messageKey));
    const undecided = found.incomplete.filter(rule => rule.nodes.some(pictured));
    return [...found.violations, ...undecided].map(
        rule => `${rule.id}: ${rule.nodes.map(node => node.html.slice(0, 160)).join(' | ')}`);
}"""
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
WINDOWS = [(width, theme) for theme in ("light", "dark") for width in (1280, 820, 390)]
AXE = Axe().axe_script
REFLOW = (Path(__file__).parent / "reflow.js").read_text("utf-8").split("\n\n", 1)[1]


@dataclass(frozen=True)
class Read:
    """What can be read of a page as it stands, and what is not as it should be."""

    troubles: list[str]
    texts: Counter[str]
    pictures: Counter[str]

    def lost_in(self, other: Read) -> list[str]:
        """What stands here and cannot be read there."""
        return [*(self.texts - other.texts), *(self.pictures - other.pictures)]


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
        """A page of the demo, read as somebody."""
        more = "&" if "?" in path else "?"
        self.go(address, f"{path}{more}view_as={quote(reader)}")

    def go(self, address: str, path: str) -> None:
        """A page, waited for until all of it is drawn."""
        self.page.goto(f"{address}/{path}")
        self.page.wait_for_function(DRAWN, timeout=45_000)

    def resize(self, width: int, theme: str, height: int = 800) -> None:
        """The same page in another window: as when a tablet is turned or dusk comes."""
        self.page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        self.page.set_viewport_size({"width": width, "height": height})
        self.page.wait_for_function(SETTLED, arg=[theme, width])

    def unfold(self) -> None:
        """Open whatever is folded away: the tables beside charts, the cautions."""
        self.page.wait_for_function(UNFOLDED)

    def read(self) -> Read:
        """What can be read, what is cut off, what lies on something else, what scrolls."""
        got = self.page.evaluate(REFLOW)
        return Read(got["troubles"], Counter(got["texts"]), Counter(got["pictures"]))

    def wider_than_the_window(self) -> list[str]:
        """What sticks out to the right, apart from tables that scroll on their own."""
        found: list[str] = self.page.evaluate(
            """() => {
                const main = document.querySelector('[data-testid=stMain]')
                    || document.documentElement;
                const out = [];
                if (main.scrollWidth > main.clientWidth) out.push('the page');
                for (const part of document.querySelectorAll('.ro-plot > *')) {
                    const card = part.closest('[class*=st-key-card]')?.getBoundingClientRect();
                    const { left, right } = part.getBoundingClientRect();
                    if (card && right > left && (left < card.left || right > card.right))
                        out.push(`a chart: ${part.innerText || part.title || 'a shape'}`);
                }
                return out;
            }"""
        )
        return found

    def troubles(self) -> list[str]:
        """What axe finds against WCAG 2.0 to 2.2, levels A and AA, nothing excluded."""
        if self.page.evaluate("typeof axe === 'undefined'"):
            self.page.evaluate(AXE)
        found: list[str] = self.page.evaluate(CHECKED, LEVELS)
        return found

    def save(self, name: str) -> None:
        """The whole page as a picture."""
        size = self.page.viewport_size or {"width": 1280, "height": 800}
        height = self.page.evaluate(
            """() => (document.querySelector('[data-testid=stMain]')
                || document.documentElement).scrollHeight"""
        )
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
