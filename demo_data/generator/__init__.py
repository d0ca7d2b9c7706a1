"""The invented trial behind ``demo_data``: names, weather, true values, walks, measurements, files."""
