"""``sitegen desk``: the keeper's daily work in a browser on this machine."""

import datetime as dt
import itertools
import signal
import webbrowser
from collections.abc import Callable
from types import FrameType

import click
from starlette.types import ASGIApp

from sitegen.app.commands.options import Call, clock, shared
from sitegen.app.desk import begin_page, diary_page, litter_page, photo_pages, round_page, site_pages, today_page
from sitegen.app.desk.changes_page import ChangesPage
from sitegen.app.desk.desk import Desk
from sitegen.app.desk.offers_page import OffersPage
from sitegen.app.desk.pages import Pages, application
from sitegen.app.desk.plan_page import PlanPage
from sitegen.app.desk.record_lists import RecordLists
from sitegen.app.desk.record_pages import RecordPages
from sitegen.app.desk.waiting_page import WaitingPage
from sitegen.app.loopback import LoopbackServer
from sitegen.app.preview.pages import PreviewPages
from sitegen.build import Order
from sitegen.findings import WrongUse


@click.command(name="desk", epilog="Example:  sitegen desk --open")
@shared
@click.option("--port", type=click.IntRange(0, 65535), default=8081, show_default=True, help="Where; 0: any free one.")
@click.option("--open", "open_it", is_flag=True, help="Open the browser.")
def command(call: Call, port: int, open_it: bool) -> int:
    """Keep the records in a browser on this machine: what the day asks, the round, litters, offers, the plan.

    Whatever is entered is checked first, written into the same files that you can write by hand, one line changed, and
    can be taken back. Ends with Ctrl-C, or with the window of the terminal.
    """
    console = call.console
    app = desk_of(call.order(), lambda: call.date or clock(), console.show_message)
    try:
        server = LoopbackServer(app, console.show_message, port, ("GET", "HEAD", "POST"))
    except OSError as error:
        raise WrongUse(
            f"port {port} cannot be used ({error.strerror}); choose another with --port, or any free one with --port 0"
        ) from error
    if call.as_json:
        console.show_json({"address": server.address})
    else:
        console.show_result(f"The desk is at {server.address} on this machine. Ctrl-C ends this.")
    try:
        with server:
            if open_it:
                webbrowser.open(server.address)
            _wait()
    except KeyboardInterrupt:
        console.show_message("The desk is closed.")
    return 0


def desk_of(order: Order, today: Callable[[], dt.date], tell: Callable[[str], None]) -> ASGIApp:
    """The desk of a collection; ``tell`` is told of what went wrong while a page of the site was made."""
    desk = Desk(order, today)
    pages = Pages(desk)
    preview = PreviewPages(desk.live, site_pages.no_excerpt, tell, site_pages.way_back)
    own = (
        today_page.routes(pages),
        begin_page.routes(pages),
        round_page.routes(pages),
        RecordLists(pages).routes(),
        litter_page.routes(pages),
        photo_pages.routes(pages),
        RecordPages(pages).routes(),
        OffersPage(pages).routes(),
        WaitingPage(pages).routes(),
        PlanPage(pages).routes(),
        diary_page.routes(pages),
        ChangesPage(pages).routes(),
    )
    return application([*itertools.chain.from_iterable(own), *site_pages.routes(pages, preview)])


def _wait() -> None:
    """Until Ctrl-C, or until the terminal goes away; a change that is being written is finished first."""

    def gone(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    for each in (signal.SIGHUP, signal.SIGTERM):
        signal.signal(each, gone)
    while True:
        signal.pause()
