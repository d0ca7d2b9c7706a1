"""Many visitors at once in one process: heavy work in ``turns``; then ``furnishing``, ``leaving``, ``answering``."""
