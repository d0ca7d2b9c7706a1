"""Every hold on a library's inner parts, each with the test that guards it: ``ahead``, ``remembered``, ``packed``."""
