"""What every page of this room looks like: a head, what it says, and its own script. What records say goes in as text."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from markupsafe import Markup

from dashboard.charts.style import COLOURS_CSS

HOME = "/records"
_HERE = Path(__file__).parent
_PAGE = Markup("""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
{again}<title>{title}</title>
<style>{style}</style>
</head>
<body>
<header><p class="trial">{trial}</p><nav aria-label="Records">{links}</nav></header>
<main>
<h1>{title}</h1>
{body}
</main>
<script type="module">{script}</script>
</body>
</html>
""")
_WAITS = Markup('<noscript><meta http-equiv="refresh" content="3"></noscript>\n')


def page(title: str, body: Markup, trial: str, who: str = "", waits: bool = False) -> str:
    """A page; ``who`` is logged in; one that ``waits`` is asked for again where no script runs."""
    links = Markup('<a href="/">The page</a>')
    if who:
        out = Markup('<form method="post" action="{0}/logout"><button class="quiet-button">Log out {1}</button></form>').format(HOME, who)  # fmt: skip
        links = Markup('<a href="{0}">Records</a>').format(HOME) + links + out
    return _PAGE.format(
        title=title, body=body, trial=trial or "Orchard Slate", links=links, again=_WAITS if waits else "",
        style=Markup(COLOURS_CSS + (_HERE / "records.css").read_text(encoding="utf-8")),
        script=Markup((_HERE / "records.js").read_text(encoding="utf-8")),
    )  # fmt: skip


def said(text: str, kind: str = "notice") -> Markup:
    """A sentence that has to be seen; nothing for an empty one."""
    return Markup('<p class="{}" role="alert">{}</p>').format(kind, text) if text else Markup("")


def several(parts: Iterable[Markup]) -> Markup:
    return Markup("\n").join(parts)


def log_in(fault: str = "", who: str = "", then: str = "") -> Markup:
    """The form by which somebody comes in; ``then``: where to go on."""
    return Markup("""{fault}<p>Whoever has the password can bring records in. Reading needs none.</p>
<form method="post" action="{home}/login" class="log-in">
<label>Your name <input name="who" value="{who}" autocomplete="name" maxlength="60" required></label>
<p class="quiet">It stands beside what you bring in.</p>
<label>Password <input name="password" type="password" autocomplete="current-password" maxlength="200" required></label>
<input type="hidden" name="then" value="{then}">
<button class="next">Log in</button>
</form>""").format(fault=said(fault), home=HOME, who=who, then=then)
