"""``sitegen preview``: the site on this machine while it is written."""

import time
import webbrowser
from pathlib import Path

import click

from sitegen.app.commands.options import Call, shared
from sitegen.app.console import excerpt_of, finding_facts, plain_finding
from sitegen.app.loopback import LoopbackServer
from sitegen.app.preview.live_site import LiveSite, PreviewState
from sitegen.app.preview.pages import PreviewPages
from sitegen.app.preview.watching import follow
from sitegen.findings import Finding, WrongUse


@click.command(name="preview", epilog="While you write:  sitegen preview --port 8090")
@shared
@click.option("--port", type=click.IntRange(0, 65535), default=8080, show_default=True, help="Where; 0: any free one.")
@click.option("--open", "open_it", is_flag=True, help="Open the browser.")
def command(call: Call, port: int, open_it: bool) -> int:
    """Show the site on this machine, and follow every change of the records.

    Pages load again by themselves. What is wrong in the records is shown in the page and here. Nothing is put into the
    output folder. Ends with Ctrl-C.
    """
    console = call.console
    site = LiveSite(call.order(), lambda: call.today)
    pages = PreviewPages(site, lambda finding: _excerpt(finding, call.content), console.show_message)
    try:
        server = LoopbackServer(pages.app(), console.show_message, port)
    except OSError as error:
        raise WrongUse(
            f"port {port} cannot be used ({error.strerror}); choose another with --port, or any free one with --port 0"
        ) from error
    teller, started = _StateTeller(call), time.perf_counter()
    try:
        first = site.remake()  # before the address is told, so that the first page is there when it is asked for
        seconds = time.perf_counter() - started
        if call.as_json:
            console.show_json({"address": server.address})
        else:
            console.show_result(f"The site is at {server.address} on this machine. Ctrl-C ends this.")
        with server:
            if open_it:
                webbrowser.open(server.address)
            teller.tell(first, seconds)
            follow(site, teller.tell)
    except KeyboardInterrupt:
        console.show_message("The preview has ended.")
    return 0


def _excerpt(finding: Finding, content: Path) -> str:
    """The line that a finding is about, with marks below what is meant."""
    line = excerpt_of(finding, content)
    shown = plain_finding(finding, line).split("\n")[1:3] if line.strip() else []
    return "\n".join(each.removeprefix("    ") for each in shown)


class _StateTeller:
    """Tells what changed on the terminal: findings that were not there before, or that all is well again."""

    def __init__(self, call: Call) -> None:
        self._console, self._content, self._as_json = call.console, call.content, call.as_json
        self._before: frozenset[Finding] = frozenset()
        self._was_sound = True

    def tell(self, state: PreviewState, seconds: float) -> None:
        """One state, and how long it took to make."""
        findings = state.trouble or (state.good.findings if state.good and state.is_sound else ())
        if self._as_json:
            facts = {"sound": state.is_sound, "fault": state.fault, "milliseconds": round(1000 * seconds)}
            self._console.show_json({**facts, "findings": [finding_facts(finding) for finding in findings]})
            return
        self._console.show_findings([each for each in findings if each not in self._before], self._content)
        if state.fault:
            self._console.show_message(state.fault)
        if state.is_sound:
            self._console.show_message(f"{'Up to date' if self._was_sound else 'All is well again'} ({seconds:.2f} s).")
        else:
            self._console.show_message("The site stays as it was until this is mended.")
        self._before, self._was_sound = frozenset(findings), state.is_sound
