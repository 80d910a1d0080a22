"""A first visit on a phone with a slow line, in real Chromium."""

from dataclasses import dataclass

from playwright.sync_api import Browser

WATCH = """
window.seen = {paint: 0, moved: 0};
new PerformanceObserver(l => l.getEntries().forEach(e => seen.paint = e.startTime / 1000))
  .observe({type: 'largest-contentful-paint', buffered: true});
new PerformanceObserver(l => l.getEntries().forEach(e => seen.moved += e.value))
  .observe({type: 'layout-shift', buffered: true});
"""
BELOW = "[...document.images].filter(i => i.getBoundingClientRect().top > innerHeight).map(i => i.currentSrc)"


@dataclass(frozen=True, slots=True)
class Visit:
    """What a visit took.

    Attributes:
        paint_s: When the largest thing of the first screen was painted, in seconds.
        moved: Layout shift.
        first_kb: Bytes over the line for what the first screen needs, in kB.
        all_kb: With pictures further down that the browser fetched ahead.
        fonts_kb: Of it, fonts.
    """

    paint_s: float
    moved: float
    first_kb: float
    all_kb: float
    fonts_kb: float


def on_a_slow_line(browser: Browser, address: str) -> Visit:
    """A first visit on a phone with three dots a pixel and a processor four times slower than this one.

    Source:
        Slow 4G: 150 ms there and back, 1.6 Mbit/s down, 0.75 up; processor 4 times slower (Lighthouse's names and
        figures, from memory).
    """
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, device_scale_factor=3, is_mobile=True, has_touch=True
    )
    page = context.new_page()
    line = context.new_cdp_session(page)
    line.send("Network.enable")
    line.send(
        "Network.emulateNetworkConditions",
        {"offline": False, "latency": 150, "downloadThroughput": 1_638_400 / 8, "uploadThroughput": 768_000 / 8},
    )
    line.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    places: dict[str, str] = {}
    received: dict[str, float] = {}
    line.on("Network.requestWillBeSent", lambda event: places.update({event["requestId"]: event["request"]["url"]}))
    line.on(
        "Network.loadingFinished",
        lambda event: received.update({places[event["requestId"]]: event["encodedDataLength"]}),
    )
    page.add_init_script(WATCH)
    page.goto(address, wait_until="load")
    page.evaluate("document.fonts.ready.then(() => 1)")
    page.wait_for_timeout(1000)
    seen = page.evaluate("window.seen")
    below = set(page.evaluate(BELOW))
    context.close()
    return Visit(
        seen["paint"],
        seen["moved"],
        sum(weight for place, weight in received.items() if place not in below) / 1000,
        sum(received.values()) / 1000,
        sum(weight for place, weight in received.items() if place.endswith(".woff2")) / 1000,
    )
