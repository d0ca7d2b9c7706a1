"""A visitor's document is written out while the browser still reads its scripts, and is ready when it is asked for.

Seen on: panel 1.9.4, bokeh 3.9.2.
Mends: writing takes longer than anything else the server does between the browser's question and its answer.
Upstream: docs/upstream.md, "A document written ahead".
"""

from __future__ import annotations

from typing import Any

from bokeh.document import Document
from bokeh.document.events import DocumentChangedEvent, SessionCallbackAdded, SessionCallbackRemoved


def write(document: Document) -> None:
    """Write ``document`` now. Who asks for it first gets this, unless something in it was changed meanwhile.

    What was written counts as sent. So nothing is written once a browser is there: it may still wait for parts of it.
    """
    session = getattr(document.session_context, "session", None)
    if session is not None and session.connection_count:
        return
    callbacks = document.callbacks
    ready = [document.to_json()]
    told = callbacks.trigger_on_change

    def changed(event: DocumentChangedEvent) -> None:
        # Every change passes here, also one that is held back until the page is connected.
        if not isinstance(event, SessionCallbackAdded | SessionCallbackRemoved):
            ready.clear()
        told(event)

    def written(**how: Any) -> Any:
        del callbacks.trigger_on_change, document.to_json  # from now on as ever
        return ready.pop() if ready and not how else document.to_json(**how)

    vars(callbacks)["trigger_on_change"] = changed
    vars(document)["to_json"] = written
