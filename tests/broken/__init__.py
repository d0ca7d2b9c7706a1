"""The demo records broken by rule, over and over: whatever a person may hand over by mistake, or on purpose."""
