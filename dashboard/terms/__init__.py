"""What the words mean: ``units`` (exact factors), ``traits`` (what is measured, and which way is better), ``glossary``."""
