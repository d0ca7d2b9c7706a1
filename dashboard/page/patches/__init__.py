"""Every hold on a library's inner parts: what it mends, where it was seen, what upstream is told, and a test of its name for each.

In the browser: ``walking``, ``thumb``. Of a part of the page: ``bare``, then ``scripted``, ``worded``, ``named``, ``narrow``. Of a page: ``joined``, ``ahead``, ``untied``.
Of the process: ``remembered``, ``packed``, ``unpacked``, ``served``, ``timed``.
"""
