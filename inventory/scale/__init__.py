"""The scale on the phone and in the API."""
