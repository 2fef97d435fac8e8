"""Revisions of a job: what has changed since the issue before, and who holds a paper of it."""
