"""What stands in the way of the site, as a page: a plain list with place, line and remedy."""

from collections.abc import Callable
from html import escape

from sitegen.findings import Finding, Level

SCRIPT, STYLE = "_preview/reload.js", "_preview/trouble.css"
LAST_GOOD = "_preview/last-good/"
"""The last sound site stands below this address; its links are relative, so that one can read on in it."""

Excerpt = Callable[[Finding], str]
"""A finding to its lines with marks, as the terminal shows them; empty for none."""


def trouble_page(
    findings: tuple[Finding, ...], fault: str, tag: str, excerpt: Excerpt, address: str, *, with_last_good: bool
) -> bytes:
    """The page that is shown in place of every page of the site.

    Args:
        findings: What is wrong in the records, notices among it; errors are told first.
        fault: Anything else that is wrong.
        tag: The state, for the script that waits for the next one.
        excerpt: The line that a finding is about.
        address: The page that was asked for.
        with_last_good: There is a last sound site to lead to.
    """
    told = sorted(findings, key=lambda finding: finding.level is not Level.ERROR)
    items = [f"<li><p>{escape(fault)}</p></li>"] if fault else []
    items += [_item(finding, excerpt(finding)) for finding in told]
    back = (
        f'<p><a href="/{LAST_GOOD}{escape(address, quote=True)}">The page as it was when all was well</a></p>'
        if with_last_good
        else ""
    )
    body = "\n".join(items)
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Something is to be mended</title>
<link rel="stylesheet" href="/{STYLE}">
<script src="/{SCRIPT}" data-state="{tag}" data-trouble defer></script>
</head>
<body>
<main>
<h1>Something is to be mended</h1>
<p>The site cannot be made from the records as they stand. This page goes away by itself when they are mended.</p>
<ol>
{body}
</ol>
{back}
</main>
</body>
</html>
""".encode("utf-8", "replace")


def _item(finding: Finding, excerpt: str) -> str:
    place = f'<span class="place">{escape(str(finding.place))}</span> ' if finding.place else ""
    also = "".join(f'<p>also <span class="place">{escape(str(other))}</span></p>' for other in finding.others)
    line = f"<pre>{escape(excerpt)}</pre>" if excerpt else ""
    hint = f"<p>{escape(finding.hint)}</p>" if finding.hint else ""
    return f"<li><p>{place}{finding.level.value}: {escape(finding.message)}</p>{line}{also}{hint}</li>"


def with_script(html: bytes, tag: str) -> bytes:
    """A page of the site with the one line that only the preview adds: the script that waits for the next state."""
    script = f'<script src="/{SCRIPT}" data-state="{tag}" defer></script>\n'.encode("ascii")
    before, end, after = html.rpartition(b"</body>")
    return before + script + end + after if end else html + script
