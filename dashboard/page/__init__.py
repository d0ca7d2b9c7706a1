"""The page.

``app`` says which parts stand on it, ``sheets`` what lies under its top line. From the top down: ``patches`` (every hold on a library's inner parts), ``parts`` (``live`` first,
then ``boxes``, ``elements``), ``crowd`` (many visitors in one process), ``frame`` (what stands round the tabs), ``hall``, ``tabs``.

A view is a function ``State -> layout``, called once a visitor. Views read only ``state.question``, compute nothing, and never read
each other. Text from records goes through ``markupsafe`` or into an element that sets text as text.
"""
