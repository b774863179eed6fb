"""Checks against things outside the project: standards, printed tables, laws, other readers. One file a source."""
