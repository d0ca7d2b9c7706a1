"""How sure the order is and who is not beaten, as the page shows it."""

from __future__ import annotations

from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.page.parts.elements import paragraphs
from dashboard.wording.order import not_beaten_told, order_told


def about_ranking(asked: Question) -> Markup:
    """How sure the order is, and the one limit that keeps most out."""
    return paragraphs(order_told(asked))


def about_not_beaten(asked: Question) -> Markup:
    """Who is not beaten in the pictures, and how sure that is."""
    told = not_beaten_told(asked)
    return Markup('<p class="quiet small">{}</p>').format(told) if told else Markup("")
