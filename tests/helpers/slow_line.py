"""A first visit on a phone with a slow line, in real Chromium."""

from playwright.sync_api import Browser


def on_a_slow_line(browser: Browser, address: str) -> tuple[dict[str, float], float]:
    """A first visit on a phone: largest contentful paint in seconds, layout shift; kB of what the first screen needs.

    Pictures further down, which the browser may fetch ahead, are not counted; text comes as it is, not compressed.

    Source:
        Slow 4G: 150 ms there and back, 1.6 Mbit/s down, 0.75 up (Lighthouse's name and figures, from memory).
    """
    context = browser.new_context(viewport={"width": 360, "height": 780}, device_scale_factor=2)
    page = context.new_page()
    line = context.new_cdp_session(page)
    line.send("Network.enable")
    line.send(
        "Network.emulateNetworkConditions",
        {"offline": False, "latency": 150, "downloadThroughput": 1_638_400 / 8, "uploadThroughput": 768_000 / 8},
    )
    places: dict[str, str] = {}
    received: dict[str, float] = {}
    line.on("Network.requestWillBeSent", lambda event: places.update({event["requestId"]: event["request"]["url"]}))
    line.on(
        "Network.loadingFinished",
        lambda event: received.update({places[event["requestId"]]: event["encodedDataLength"]}),
    )
    page.add_init_script(
        "window.seen = {paint: 0, moved: 0};"
        "new PerformanceObserver(l => l.getEntries().forEach(e => seen.paint = e.startTime / 1000))"
        ".observe({type: 'largest-contentful-paint', buffered: true});"
        "new PerformanceObserver(l => l.getEntries().forEach(e => seen.moved += e.value))"
        ".observe({type: 'layout-shift', buffered: true})"
    )
    page.goto(address, wait_until="load")
    page.evaluate("document.fonts.ready.then(() => 1)")
    page.wait_for_timeout(300)
    seen = page.evaluate("window.seen")
    below = page.evaluate(
        "[...document.images].filter(i => i.getBoundingClientRect().top > innerHeight).map(i => i.currentSrc)"
    )
    context.close()
    return seen, sum(weight for place, weight in received.items() if place not in below) / 1000
