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


def found(page, colors: bool = True) -> list[str]:
    """Serious and critical faults, one line a node; ``colors``: of contrast, too, which takes half the time. What passes is not carried here:
    on a long tab that takes longer than the looking."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    rules = {**RULES, "rules": {"color-contrast": {"enabled": colors}}}
    return [
        f"{fault['impact']} {fault['id']}: {node['target']} {node['html']}"[:300]
        for fault in page.evaluate("rules => axe.run(rules).then(told => told.violations)", rules)
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]
