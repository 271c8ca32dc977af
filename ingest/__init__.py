"""Ingest writes: files are read, checked, landed, built and published."""
