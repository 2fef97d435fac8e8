"""Writes in job files: a starter for a new job, and one answer in a job that is there."""
