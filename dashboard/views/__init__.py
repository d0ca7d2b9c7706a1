"""The parts of the page. A view is a function ``State -> layout``, called once a visitor.

Views read only ``state.comparison``, compute nothing, and never read each other. Text from records goes through
``markupsafe`` or into an element that sets text as text.
"""
