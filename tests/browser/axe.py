"""What axe finds."""

from __future__ import annotations

from axe_playwright_python.base import AXE_SCRIPT

RULES = {
    "resultTypes": ["violations"],
    "runOnly": {
        "type": "tag",
        "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    },
}


def found(page) -> list[str]:
    """Serious and critical faults, one line a node. What passes is not carried here: on a long tab that takes longer than the looking."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    return [
        f"{fault['impact']} {fault['id']}: {node['target']} {node['html']}"[:300]
        for fault in page.evaluate("rules => axe.run(rules).then(told => told.violations)", RULES)
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]
