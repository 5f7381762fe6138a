"""The answers to direct questions, a module for each part of the bench."""
