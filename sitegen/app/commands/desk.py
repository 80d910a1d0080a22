"""``sitegen desk``: the keeper's daily work in a browser on this machine."""

import contextlib
import datetime as dt
import itertools
import signal
import webbrowser
from collections.abc import Callable
from types import FrameType
from typing import Any

import click
from starlette.routing import Route
from starlette.types import ASGIApp

from sitegen.app.commands.options import Call, clock, shared
from sitegen.app.desk import begin_page, diary_page, litter_page, photo_pages, round_page, site_pages, today_page
from sitegen.app.desk.changes_page import ChangesPage
from sitegen.app.desk.desk import Desk
from sitegen.app.desk.door import Door
from sitegen.app.desk.offers_page import OffersPage
from sitegen.app.desk.pages import Pages, application
from sitegen.app.desk.phone import door_routes, on_a_phone
from sitegen.app.desk.plan_page import PlanPage
from sitegen.app.desk.record_lists import RecordLists
from sitegen.app.desk.record_pages import RecordPages
from sitegen.app.desk.waiting_page import WaitingPage
from sitegen.app.home_network import home_address
from sitegen.app.loopback import AT_HOME, LoopbackServer
from sitegen.app.preview.pages import PreviewPages
from sitegen.build import Order
from sitegen.findings import WrongUse
from sitegen.render.drawings import half_blocks, matrix


@click.command(name="desk", epilog="For the day:  sitegen desk --port 8091")
@shared
@click.option("--port", type=click.IntRange(0, 65535), default=8081, show_default=True, help="Where; 0: any free one.")
@click.option("--open", "open_it", is_flag=True, help="Open the browser.")
@click.option("--phone", is_flag=True, help="Let one phone on your own network in, with a code, for this day.")
def command(call: Call, port: int, open_it: bool, phone: bool) -> int:
    """Keep the records in a browser on this machine: what the day asks, the round, litters, offers, the plan.

    Whatever is entered is checked first, written into the same files that you can write by hand, one line changed, and
    can be taken back. Ends with Ctrl-C, or with the window of the terminal.
    """
    tell = call.console.show_message
    desk = Desk(call.order(), lambda: call.date or clock())
    door = Door(lambda: dt.datetime.now().astimezone()) if phone else None
    servers = [_listening(application(desk_routes(desk, tell, door)), tell, port)]
    if door:
        own, at_home = servers[0].port, home_address()
        servers.append(_listening(on_a_phone(desk, door), tell, own, host=at_home, bounds=AT_HOME))
        door.address = servers[1].address
    _show(call, servers[0].address, door)
    try:
        with contextlib.ExitStack() as open_servers:
            for each in servers:
                open_servers.enter_context(each)
            if open_it:
                webbrowser.open(servers[0].address)
            _wait()
    except KeyboardInterrupt:
        desk.alone.acquire(timeout=10)  # a change that is being written is finished, and none begins
        with contextlib.suppress(OSError):  # where the terminal is gone, nobody is told
            tell("The desk is closed.")
    return 0


def _listening(app: ASGIApp, tell: Callable[[str], None], port: int, **where: Any) -> LoopbackServer:
    try:
        return LoopbackServer(app, tell, port, ("GET", "HEAD", "POST"), **where)
    except OSError as error:
        raise WrongUse(
            f"port {port} cannot be used ({error.strerror}); choose another with --port, or any free one with --port 0"
        ) from error


def _show(call: Call, address: str, door: Door | None) -> None:
    """Tell where the desk is, and how a phone comes in."""
    console = call.console
    if call.as_json:
        console.show_json({"address": address} | ({"phone": door.address, "code": door.code} if door else {}))
        return
    console.show_result(f"The desk is at {address} on this machine. Ctrl-C ends this.")
    if door:
        console.show_square(half_blocks(matrix(door.address)))
        console.show_result(
            f"On the phone: {door.address}\nThe code, for one phone and this day: {door.spaced_code}\n"
            "What the phone and the desk send each other is not encrypted: anybody on the same network could read it. "
            "Use it on your own network only."
        )


def desk_of(order: Order, today: Callable[[], dt.date], tell: Callable[[str], None]) -> ASGIApp:
    """The desk of a collection; ``tell`` is told of what went wrong while a page of the site was made."""
    return application(desk_routes(Desk(order, today), tell))


def desk_routes(desk: Desk, tell: Callable[[str], None], door: Door | None = None) -> list[Route]:
    """Every page of the desk on this machine."""
    pages = Pages(desk)
    preview = PreviewPages(desk.live, site_pages.no_excerpt, tell, site_pages.way_back)
    own = (
        today_page.routes(pages, door),
        door_routes(pages, door) if door else [],
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
    return [*itertools.chain.from_iterable(own), *site_pages.routes(pages, preview)]


def _wait() -> None:
    """Until Ctrl-C, or until the terminal goes away; a change that is being written is finished first."""

    def gone(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    for each in (signal.SIGHUP, signal.SIGTERM):
        signal.signal(each, gone)
    while True:
        signal.pause()
