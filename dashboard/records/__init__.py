"""What was written down: files in, checked tables out, nothing dropped silently.

``read`` takes a folder of .csv tables or one .xlsx workbook; ``schema`` says what the tables are.
"""

from dashboard.records.problems import Problem, RecordError
from dashboard.records.reading import Records, read

__all__ = ["Problem", "RecordError", "Records", "read"]
